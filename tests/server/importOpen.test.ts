import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { exportFile } from '../../server/backup/export.ts'
import { importFile } from '../../server/backup/import.ts'
import { logFileIn } from '../../server/data.ts'
import { loadShop } from '../../server/load.ts'
import type { Store } from '../../server/log/log.ts'
import { sqliteStore } from '../../server/log/sqlite.ts'
import { QUIET } from '../support/bigDay.ts'
import { writeBigLog } from '../support/bigLog.ts'
import { countingStore } from '../support/countingStore.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { patience } from '../support/randomRuns.ts'

const place = folderForTests()

/** A shop of one painter with a log of some length, exported and imported elsewhere. */
async function importedShop(entries: number) {
  const [from, into] = [`from-${entries}`, `into-${entries}`].map((name) =>
    join(place.folder, name),
  ) as [string, string]
  mkdirSync(from)
  const { shop, endMs } = await writeBigLog(logFileIn(from), { ...QUIET, entries })
  const lines = join(place.folder, `${entries}.jsonl`)
  await exportFile(from, lines)
  await importFile(lines, into, endMs)
  return { shop, endMs, store: sqliteStore(logFileIn(into)) }
}

const opened = async (store: Store, shop: string, now: number) =>
  (await loadShop(shop, { store, every: 500, now, mayEvict: true })).state

test('a shop that was imported opens as fast with a long log as with a short one, and holds what its log folds to', {
  timeout: patience,
}, async () => {
  const rows = []
  for (const entries of [2_000, 4_000]) {
    const { shop, endMs, store } = await importedShop(entries)
    const counting = countingStore(store)
    const { things } = await opened(counting.store, shop, endMs)
    rows.push(counting.rows())
    const alone = { ...store, getSnapshot: async () => null, getMeta: async () => null }
    const { zone: _z, gun: _g, devices: _d, ...whole } = things
    expect((await opened(alone, shop, endMs)).things).toMatchObject(whole)
    await store.close()
  }
  expect(rows[1]).toBe(rows[0])
  expect(rows[0]).toBeLessThan(1_000)
})
