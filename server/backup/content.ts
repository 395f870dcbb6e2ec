import { Usable } from '../data.ts'
import { type LogReader, openToRead } from '../log/readOnly.ts'

export type Content = {
  readonly shop: string
  readonly head: number
  readonly hash: string
  readonly photos: readonly string[]
}

/** The shop that a log is of; null for a log without entries. */
export const shopOf = async (log: LogReader): Promise<string | null> =>
  (await log.getMeta('shop')) ?? (await log.shops())[0] ?? null

/** How far a copy reaches, and the pictures that it names, each once. */
export async function contentOf(copy: string): Promise<Content> {
  const log = openToRead(copy, false)
  try {
    const shop = await shopOf(log)
    if (shop === null) throw new Usable(`The log ${copy} is empty.`)
    const { position, hash } = await log.head(shop)
    const photos = log.db
      .query<{ photo: string }, []>(
        `SELECT DISTINCT json_extract(text, '$.data.photo') AS photo FROM entry
         WHERE type = 'PhotoAdded' AND json_valid(text)`,
      )
      .all()
      .map(({ photo }) => photo)
    return { shop, head: position, hash, photos }
  } finally {
    await log.close()
  }
}
