import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Entry } from '../machines/envelope.ts'
import type { State } from '../machines/state.ts'
import { isServed, logFileIn, Usable } from './data.ts'
import { loadShop } from './load.ts'
import { inPages } from './log/log.ts'
import { openToRead } from './log/readOnly.ts'
import { sqliteStore } from './log/sqlite.ts'
import { readerOf } from './reading.ts'

/** A shop's state for a command that only looks. */

/** As often as a server evicts what is over while it folds a log. */
const EVERY = 5_000

/**
 * The state of a shop's log, which is read in a copy: a server may be writing to it meanwhile.
 * @param now UTC ms
 * @param see is shown every entry, in order
 * @throws Usable or LogError with a sentence
 */
export async function stateOfFolder(
  data: string,
  now: number,
  see?: (entry: Entry) => void,
): Promise<{ readonly state: State }> {
  const folder = mkdtempSync(join(tmpdir(), 'flashbell-read-'))
  try {
    const copy = join(folder, 'shop.sqlite')
    const reader = openToRead(logFileIn(data), isServed(data))
    try {
      reader.db.run('VACUUM INTO ?', [copy])
    } finally {
      await reader.close()
    }
    return await stateOfLog(copy, now, data, see)
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

async function stateOfLog(
  file: string,
  now: number,
  data: string,
  see?: (entry: Entry) => void,
): Promise<{ readonly state: State }> {
  const store = sqliteStore(file)
  try {
    const shop = await store.getMeta('shop')
    if (shop === null)
      throw new Usable(`The log in ${data} is of no shop yet. Start the server once.`)
    const { state } = await loadShop(shop, { store, every: EVERY, now, mayEvict: true })
    if (see) for await (const entry of inPages(readerOf(store, shop).page, { after: 0 })) see(entry)
    return { state }
  } finally {
    await store.close()
  }
}
