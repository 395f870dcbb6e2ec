import type { Sample } from './clock.ts'

/** What a page says of its shop: a practice shop's server writes it into the head. */
type PracticeInfo = {
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

/**
 * A practice shop's time runs faster than ours. Its server says so in the page; both clocks that a
 * kiosk reads are then run as much faster from the moment of loading, so that neither seems to jump.
 */
export function sampleFrom(page: Document, read: () => Sample): () => Sample {
  const practice = practiceOn(page)
  if (!practice) return read
  const { speed } = practice
  const begun = read()
  const fast = (now: number, then: number) => then + (now - then) * speed
  return () => {
    const now = read()
    return {
      monotonicMs: fast(now.monotonicMs, begun.monotonicMs),
      deviceMs: fast(now.deviceMs, begun.deviceMs),
    }
  }
}
