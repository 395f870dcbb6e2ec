import { afterEach, beforeEach, expect, test } from 'vitest'
import { openLogFile } from '../../server/log/file.ts'
import { storeOn } from '../../server/log/sqlite.ts'
import { BY_COMMAND, VOIDS_OF } from '../../server/log/statements.ts'
import { firstEntries } from '../support/logEntries.ts'
import { logFolder } from '../support/logFiles.ts'

let place: ReturnType<typeof logFolder>
beforeEach(() => {
  place = logFolder()
})
afterEach(() => place.remove())

test('what a command caused is found without walking the log, however long that is, also in a file of before', async () => {
  const before = openLogFile(place.file)
  before.run('CREATE INDEX entry_command ON entry (shop, command, position)')
  before.close()
  const db = openLogFile(place.file)
  expect(db.query("SELECT name FROM sqlite_master WHERE name = 'entry_command'").all()).toEqual([])
  const store = storeOn(db)
  const plan = () =>
    db
      .query<{ detail: string }, { shop: string; command: string }>(
        `EXPLAIN QUERY PLAN ${BY_COMMAND}`,
      )
      .all({ shop: 'S1', command: 'c7' })
      .map(({ detail }) => detail)
  const wanted = [
    'SEARCH entry USING INDEX sqlite_autoindex_entry_2 (shop=? AND id>? AND id<?)',
    'USE TEMP B-TREE FOR ORDER BY',
  ]
  expect(plan()).toEqual(wanted)
  const many = Array.from({ length: 2_000 }, () => ({}))
  await store.append('S1', 0, firstEntries('S1', many))
  expect(plan()).toEqual(wanted)
  await store.close()
})

test('what voids some entries is found without walking the log, also in a file of before', async () => {
  const before = openLogFile(place.file)
  before.run('DROP INDEX entry_voided')
  before.close()
  const db = openLogFile(place.file)
  const store = storeOn(db)
  const many = Array.from({ length: 2_000 }, () => ({}))
  await store.append('S1', 0, firstEntries('S1', many))
  const plan = db
    .query<{ detail: string }, Record<string, string>>(`EXPLAIN QUERY PLAN ${VOIDS_OF}`)
    .all({ shop: 'S1', ids: '["c1.0"]' })
    .map(({ detail }) => detail)
  expect(plan[0]).toBe('SEARCH entry USING INDEX entry_voided (shop=? AND <expr>=?)')
  expect(plan.join()).not.toContain('SCAN entry')
  await store.close()
})
