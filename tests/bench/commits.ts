import { copyFileSync, fdatasyncSync, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { openLogFile } from '../../server/log/file.ts'
import type { Head, Store } from '../../server/log/log.ts'
import { sqliteStore, storeOn } from '../../server/log/sqlite.ts'
import { nextTurn } from '../../server/turn.ts'
import { BUSY } from '../support/bigDay.ts'
import { writeBigLog } from '../support/bigLog.ts'
import { entriesAfter } from '../support/logEntries.ts'
import { median, note, quantile, title } from './figures.ts'
import { part, ratioAtMost } from './table.ts'

/**
 * The slowest of many commits: into a log whose ids lie all over an index, so that what was committed has to be copied
 * to places all over the file. In blocks, one kind after the other: the thread of one would be in the other's way.
 */

const ENTRIES = 20_000
const BLOCKS = 4
const EACH = 1_000
const PAGE_BYTES = 4_096

const SLOWEST = 'the slowest of a thousand commits (p99.9) / a page synced, p50'
const THREAD = 'the slowest: pages copied by the thread / within commits, by SQLite'

export const commits = part(
  'commits',
  { [SLOWEST]: ratioAtMost(25), [THREAD]: null },
  async (put) => {
    const folder = mkdtempSync(join(tmpdir(), 'flashbell-bench-'))
    const [own, other] = [join(folder, 'own.sqlite'), join(folder, 'other.sqlite')]
    const { shop } = await writeBigLog(own, { ...BUSY, entries: ENTRIES })
    copyFileSync(own, other)
    const synced = syncing(join(folder, 'page'))
    const stores = [sqliteStore(own), storeOn(openLogFile(other))] as const
    try {
      title(`commits: into a log of ${ENTRIES} entries`)
      const append = await Promise.all(stores.map((store) => appending(store, shop)))
      const ms: [number[], number[]] = [[], []]
      const pageMs: number[] = []
      for (let block = 0; block < BLOCKS; block += 1)
        for (const kind of [0, 1] as const)
          for (let n = 0; n < EACH; n += 1) {
            ms[kind].push(await (append[kind]?.() ?? Number.NaN))
            if (n % 4 === 0) pageMs.push(synced())
          }
      const [ours, sqlites] = ms.map((all) => quantile(all, 0.999)) as [number, number]
      note(`p50 ${median(ms[0]).toFixed(2)} and ${median(ms[1]).toFixed(2)} ms`)
      const page = { what: 'page synced', value: median(pageMs) }
      put(SLOWEST, { ours, unit: 'ms', limit: page })
      put(THREAD, { ours, unit: 'ms', limit: { what: 'by SQLite', value: sqlites } })
    } finally {
      for (const store of stores) await store.close()
      rmSync(folder, { recursive: true, force: true })
    }
  },
)

/** @returns appends one entry and gives how long that took, ms; what waits is answered in between, as in a server */
async function appending(store: Store, shop: string) {
  let head: Head = await store.head(shop)
  return async (): Promise<number> => {
    const command = crypto.randomUUID()
    const [entry] = entriesAfter(shop, head, [{ command, job: 'J2222222' }])
    if (!entry) return Number.NaN
    const start = performance.now()
    await store.append(shop, head.position, [entry])
    const tookMs = performance.now() - start
    head = entry
    await nextTurn()
    return tookMs
  }
}

/** @returns writes a page behind the others and waits for the disk, ms */
function syncing(path: string): () => number {
  const file = openSync(path, 'w')
  const page = Buffer.alloc(PAGE_BYTES, 1)
  return () => {
    const start = performance.now()
    writeSync(file, page)
    fdatasyncSync(file)
    return performance.now() - start
  }
}
