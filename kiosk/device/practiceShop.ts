/** What a page says of its shop: a practice shop's server writes it into the head. */
export type PracticeInfo = {
  /** How many times as fast its time runs. */
  readonly speed: number
  /** The address of the shop that it is left for; null where no other is served. */
  readonly own: string | null
}

/** @returns null where the page is of a real shop */
export function practiceOn(page: Document): PracticeInfo | null {
  const said = (name: string) =>
    page.querySelector(`meta[name="${name}"]`)?.getAttribute('content') ?? null
  const speed = Number(said('speed'))
  if (!(speed > 1)) return null
  const port = said('own-port')
  if (port === null) return { speed, own: null }
  const own = new URL('/', page.baseURI)
  own.port = port
  return { speed, own: own.href }
}
