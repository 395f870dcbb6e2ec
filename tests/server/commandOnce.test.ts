import { join } from 'node:path'
import { expect, test } from 'vitest'
import { memoryStore } from '../../server/log/memory.ts'
import { sqliteStore } from '../../server/log/sqlite.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { entriesAfter, firstEntries } from '../support/logEntries.ts'

const place = folderForTests()

test.each([
  ['in memory', () => memoryStore()],
  ['in SQLite', () => sqliteStore(join(place.folder, 'shop.sqlite'))],
])('an append %s for a command that has entries already writes nothing', async (_name, open) => {
  const store = open()
  const first = firstEntries('S1', [{ command: 'once' }])
  expect(await store.append('S1', 0, first, ['once'])).toBe('done')
  const head = await store.head('S1')
  // Counted otherwise than at first: no id of an entry is taken.
  const again = entriesAfter('S1', head, [{ command: 'once', id: 'once.7' }])
  expect(await store.append('S1', 1, again, ['other', 'once'])).toBe('known')
  expect(await store.head('S1')).toEqual(head)
  // Ids that begin alike, and another shop's.
  const more = entriesAfter('S1', head, [{ command: 'once-more' }])
  expect(await store.append('S1', 1, more, ['once-more', 'onc'])).toBe('done')
  expect(await store.append('S2', 0, firstEntries('S2', [{ command: 'once' }]), ['once'])).toBe(
    'done',
  )
  await store.close()
})

test('what another connection has written is seen by the next append', async () => {
  const [own, other] = [1, 2].map(() => sqliteStore(join(place.folder, 'two.sqlite'))) as [
    ReturnType<typeof sqliteStore>,
    ReturnType<typeof sqliteStore>,
  ]
  expect(await own.append('S1', 0, firstEntries('S1', [{}]))).toBe('done')
  const theirs = entriesAfter('S1', await other.head('S1'), [{}])
  expect(await other.append('S1', 1, theirs)).toBe('done')
  const stale = entriesAfter('S1', { position: 1, hash: 'x', recordedAt: 0 }, [{}])
  expect(await own.append('S1', 1, stale)).toBe('moved')
  expect(await own.append('S1', 2, entriesAfter('S1', await own.head('S1'), [{}]))).toBe('done')
  await own.close()
  await other.close()
})
