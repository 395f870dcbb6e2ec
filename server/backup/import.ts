import { createReadStream, existsSync, mkdirSync, readdirSync, renameSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import type { Entry } from '../../machines/envelope.ts'
import { lockFolder, logFileIn, markFileIn, Usable } from '../data.ts'
import { loadShop } from '../load.ts'
import { emptyHead } from '../log/chain.ts'
import { openLogFile } from '../log/file.ts'
import { type Head, LogError, type Store } from '../log/log.ts'
import { openMark } from '../log/mark.ts'
import { storeOn } from '../log/sqlite.ts'
import { keepOpenWork } from '../openWork.ts'
import { keepSnapshot } from '../snapshot.ts'
import type { ShopReach } from './export.ts'
import { flush } from './files.ts'
import { entryInLine, LineError } from './line.ts'

export type Imported = {
  /** The own shop first. */
  readonly shops: readonly ShopReach[]
  /** How many pictures the log names: they are not in an export. */
  readonly photos: number
}

const PARTIAL = 'import.part'
/** What may lie in a folder without a shop. */
const NOTHING: readonly string[] = [PARTIAL, 'lock.sqlite', 'backup.sqlite', 'cache', 'practice']
const PAGE = 500
/** More than an entry may have, with room for its hash. */
const LINE_MOST_BYTES = 4 * 1_024 * 1_024
const NEWLINE = 0x0a

/**
 * Makes a log of the lines of an export: the same entries at the same positions under the same hashes.
 * The chain is checked line by line; where one is wrong nothing is left in the folder.
 * @param data a folder without a shop
 * @param now UTC ms by this computer's clock
 * @throws Usable with the number of the line
 */
export async function importFile(file: string, data: string, now: number): Promise<Imported> {
  if (!existsSync(file)) throw new Usable(`There is no file ${file}.`)
  const there = existsSync(data) ? readdirSync(data).find((name) => !NOTHING.includes(name)) : null
  if (there)
    throw new Usable(`The folder ${data} is not empty: it holds ${there}. Choose an empty one.`)
  const lock = lockFolder(data)
  const partial = join(data, PARTIAL)
  try {
    rmSync(partial, { recursive: true, force: true })
    mkdirSync(partial)
    const { photos, ...own } = await imported(file, partial, now)
    const mark = openMark(markFileIn(partial))
    mark.put({ mark: own.mark, missed: null })
    mark.close()
    flush(logFileIn(partial))
    // The log first: one without a mark is whole, a mark without its log is a loss.
    renameSync(logFileIn(partial), logFileIn(data))
    renameSync(markFileIn(partial), markFileIn(data))
    flush(data)
    return { shops: own.shops, photos }
  } catch (error) {
    throw error instanceof LineError ? new Usable(`${file}, ${error.message}`) : error
  } finally {
    rmSync(partial, { recursive: true, force: true })
    lock.release()
  }
}

async function imported(file: string, partial: string, now: number) {
  const db = openLogFile(logFileIn(partial))
  // Nobody waits for a page of it: it is flushed as a whole.
  db.run('PRAGMA synchronous = OFF')
  const store = storeOn(db)
  try {
    const heads = new Map<string, Head>()
    let photos = 0
    let page: Lined[] = []
    for await (const { line, text } of linesOf(file)) {
      if (text.trim() === '') continue
      const entry = entryInLine(line, text, (shop) => heads.get(shop) ?? emptyHead(shop))
      const { shop, position, hash, recordedAt, type } = entry
      if (page.length === PAGE || (page[0] && page[0].entry.shop !== shop)) {
        await appended(store, page)
        page = []
      }
      page.push({ line, entry })
      heads.set(shop, { position, hash, recordedAt })
      if (type === 'PhotoAdded') photos += 1
    }
    await appended(store, page)
    const [own] = heads
    if (!own)
      throw new Usable(`${file} has no entry. Use a file that flashbell export has written.`)
    await store.putMeta('shop', own[0])
    for (const [shop, { recordedAt }] of heads)
      await keepOpen(store, shop, Math.min(now, recordedAt))
    const shops = [...heads].map(([shop, { position, hash }]) => ({ shop, head: position, hash }))
    const mark = { shop: own[0], head: own[1].position, hash: own[1].hash, atMs: own[1].recordedAt }
    return { shops, photos, mark }
  } finally {
    await store.close()
  }
}

const FOLDED_BETWEEN = 500

/**
 * A first start would fold years of entries to find the open work among them, while the shop waits: it is found here.
 * @param now UTC ms: the computer's clock or the newest entry's, whichever is earlier; what it takes for over is
 *   read again when it is named
 */
async function keepOpen(store: Store, shop: string, now: number): Promise<void> {
  try {
    const by = { store, every: FOLDED_BETWEEN, now, mayEvict: true }
    const { state, isNewer } = await loadShop(shop, by)
    if (isNewer) return
    await keepOpenWork(store, state)
    await keepSnapshot(store, state)
  } catch (error) {
    // The log is whole, and whoever starts the server is told what its rules cannot read.
    if (!(error instanceof LogError) || error.op !== 'fold') throw error
  }
}

type Lined = { readonly line: number; readonly entry: Entry }

/** @throws LineError for the one that the store refuses, such as an id that comes twice */
async function appended(store: Store, page: readonly Lined[]): Promise<void> {
  const first = page[0]
  if (!first) return
  const { shop, position } = first.entry
  try {
    await store.append(
      shop,
      position - 1,
      page.map(({ entry }) => entry),
    )
  } catch (error) {
    if (!(error instanceof LogError) || error.code !== 'program') throw error
    if (page.length === 1)
      throw new LineError(
        first.line,
        `the log does not take entry ${first.entry.id}: ${error.message}`,
      )
    // One by one, to name it: nothing of the page was stored.
    for (const one of page) await appended(store, [one])
  }
}

/** Lines, counted from 1, however long the file is. @throws LineError */
async function* linesOf(file: string): AsyncGenerator<{ line: number; text: string }> {
  const decoder = new TextDecoder('utf-8', { fatal: true })
  let line = 1
  let rest: Buffer[] = []
  let length = 0
  const taken = (bytes: Buffer) => {
    try {
      return { line, text: decoder.decode(bytes) }
    } catch {
      throw new LineError(line, 'it is not UTF-8 text')
    }
  }
  for await (const piece of createReadStream(file) as AsyncIterable<Buffer>) {
    let from = 0
    for (let at = piece.indexOf(NEWLINE); at !== -1; at = piece.indexOf(NEWLINE, from)) {
      yield taken(Buffer.concat([...rest, piece.subarray(from, at)]))
      rest = []
      length = 0
      from = at + 1
      line += 1
    }
    rest.push(piece.subarray(from))
    length += piece.length - from
    if (length > LINE_MOST_BYTES) throw new LineError(line, 'it is longer than any entry')
  }
  if (length > 0) yield taken(Buffer.concat(rest))
}
