import { existsSync, rmSync } from 'node:fs'
import { open, rename } from 'node:fs/promises'
import { isServed, logFileIn, Usable } from '../data.ts'
import { canonicalText } from '../log/canonical.ts'
import { verify } from '../log/chain.ts'
import { inPages, type Row } from '../log/log.ts'
import { openToRead } from '../log/readOnly.ts'
import { inEnglish } from '../say.ts'
import { shopOf } from './content.ts'

/** How far an export or import of a shop reaches. */
export type ShopReach = { readonly shop: string; readonly head: number; readonly hash: string }

/** How much is written at once. */
const CHUNK_CHARS = 256 * 1_024

/**
 * Writes every entry as a line: the entry with its hash, by RFC 8785. The own shop comes first. A
 * server may run meanwhile: what it commits behind the end is not in it.
 * @param write one piece of text after another; each is waited for
 * @throws Usable where an entry is not as it was written
 */
export async function exportLines(
  data: string,
  write: (text: string) => Promise<void>,
): Promise<readonly ShopReach[]> {
  const log = openToRead(logFileIn(data), isServed(data))
  try {
    const own = await shopOf(log)
    const others = (await log.shops()).filter((shop) => shop !== own)
    const reached: ShopReach[] = []
    let text = ''
    const flushed = async () => {
      await write(text)
      text = ''
    }
    for (const shop of own === null ? [] : [own, ...others]) {
      const { position: last } = await log.head(shop)
      async function* written(): AsyncGenerator<Row> {
        for await (const row of inPages((page) => log.raw(shop, page))) {
          if (row.position > last) return
          text += `${canonicalText({ ...JSON.parse(row.text), hash: row.hash })}\n`
          if (text.length >= CHUNK_CHARS) await flushed()
          yield row
        }
      }
      const verdict = await verify(shop, written())
      if (!verdict.ok)
        throw new Usable(
          `Entry ${verdict.position} of shop ${shop} is not as it was written: ${inEnglish(0).damage(verdict.damage)}. Restore the newest backup, and export that.`,
        )
      reached.push({ shop, head: verdict.head.position, hash: verdict.head.hash })
    }
    await flushed()
    return reached
  } finally {
    await log.close()
  }
}

/**
 * The same into a file that does not exist yet. It gets its name when it is whole.
 * @throws Usable
 */
export async function exportFile(data: string, file: string): Promise<readonly ShopReach[]> {
  if (existsSync(file)) throw new Usable(`${file} exists already. Choose another name.`)
  const partial = `${file}.part`
  try {
    const handle = await open(partial, 'w')
    let reached: readonly ShopReach[]
    try {
      reached = await exportLines(data, async (text) => {
        await handle.writeFile(text)
      })
      await handle.sync()
    } finally {
      await handle.close()
    }
    await rename(partial, file)
    return reached
  } catch (error) {
    rmSync(partial, { force: true })
    throw notWritten(file, error)
  }
}

/** What the system says of a file that cannot be written, as a sentence. */
function notWritten(file: string, error: unknown): unknown {
  const code = error instanceof Error && 'code' in error ? String(error.code) : ''
  if (!/^E[A-Z]+$/.test(code)) return error
  const why = code === 'ENOSPC' || code === 'EDQUOT' ? 'there is no space left' : code
  return new Usable(`${file} cannot be written: ${why}. Choose another place.`, { cause: error })
}
