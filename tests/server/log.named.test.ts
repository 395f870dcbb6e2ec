import { Database } from 'bun:sqlite'
import fc from 'fast-check'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { THING_KEYS } from '../../machines/envelope.ts'
import { logFileIn } from '../../server/data.ts'
import { openLogFile } from '../../server/log/file.ts'
import type { Between, Store } from '../../server/log/log.ts'
import { memoryStore } from '../../server/log/memory.ts'
import {
  type CaughtUp,
  catchUp,
  lastBy,
  lastOfRest,
  NAMED_EVERY,
  ofKey,
  SO_FAR_BACK,
  UNFOUND,
} from '../../server/log/named.ts'
import { sqliteStore, storeOn } from '../../server/log/sqlite.ts'
import { verifyFolder } from '../../server/verifyLog.ts'
import { type Content, entriesAfter, firstEntries } from '../support/logEntries.ts'
import { logFolder } from '../support/logFiles.ts'
import { patience, runs } from '../support/randomRuns.ts'

/** Entries are found by their things and types: by a table that takes many at a time, the last ones by looking through them. */

let place: ReturnType<typeof logFolder>
beforeEach(() => {
  place = logFolder()
})
afterEach(() => place.remove())

const SHOP = 'S1'
const ALWAYS: Between = { fromAt: 0, toAt: 9e15 }
const TYPES = ['NoteAdded', 'ClimateRead', 'GunSaved']
const IDS = ['AAAA2222', 'BBBB2222']

/** All that can be asked of a few ids, types and times. */
async function answers(store: Store, times: readonly number[]) {
  const spans = times.map((at): Between => ({ fromAt: at - 2, toAt: at + 1 }))
  const asked: Promise<unknown>[] = []
  for (const key of THING_KEYS)
    for (const id of IDS) {
      for (const between of [ALWAYS, ...spans]) asked.push(store.byThing(SHOP, key, id, between))
      for (const type of TYPES)
        for (const at of times) asked.push(store.lastBefore(SHOP, key, id, type, at))
    }
  for (const type of [...TYPES, 'EntryVoided'])
    for (const between of [ALWAYS, ...spans]) asked.push(store.byType(SHOP, type, between))
  return await Promise.all(asked)
}

const things = (ids: fc.Arbitrary<string>) =>
  Object.fromEntries(THING_KEYS.map((key) => [key, fc.option(ids, { nil: undefined })]))
const content: fc.Arbitrary<Content> = fc.record(
  {
    ...things(fc.constantFrom(...IDS)),
    type: fc.constantFrom(...TYPES),
    at: fc.integer({ min: 1_000, max: 1_008 }),
  },
  { requiredKeys: ['type', 'at'] },
)
const voided: fc.Arbitrary<Content> = fc
  .integer({ min: 1, max: 20 })
  .map((n) => ({ type: 'EntryVoided', at: 1_004, data: { entry: `c${n}.0` } }))
const groups = fc.array(
  fc.array(fc.oneof({ weight: 5, arbitrary: content }, voided), { minLength: 1, maxLength: 6 }),
  { minLength: 1, maxLength: 8 },
)

const given = (one: Content): Content =>
  Object.fromEntries(Object.entries(one).filter(([, value]) => value !== undefined))

describe('what names a thing or is of a type', () => {
  test(
    'is the same that a store without a table finds, wherever the table ends',
    async () => {
      await fc.assert(
        fc.asyncProperty(groups, fc.integer({ min: 1, max: 9 }), async (all, every) => {
          const { file, remove } = logFolder()
          const stores = [memoryStore(), storeOn(openLogFile(file), every, 2), sqliteStore(file)]
          try {
            for (const [turn, group] of all.entries()) {
              const head = await (stores[0] as Store).head(SHOP)
              const entries = entriesAfter(SHOP, head, group.map(given))
              await stores[0]?.append(SHOP, head.position, entries)
              // Two processes may write: what one of them knew of the table is then no longer so.
              await stores[1 + (turn % 2)]?.append(SHOP, head.position, entries)
            }
            const [wanted, ...found] = await Promise.all(
              stores.map((store) => answers(store, [999, 1_002, 1_004, 1_009])),
            )
            for (const one of found) expect(one).toEqual(wanted)
          } finally {
            for (const store of stores) await store.close()
            remove()
          }
        }),
        { numRuns: runs(15) },
      )
    },
    patience,
  )

  const many = (count: number): Content[] =>
    Array.from({ length: count }, (_, n) => ({
      ...{ type: 'NoteAdded', at: 1_000 + n, job: IDS[n % 2] ?? '', cup: 'CCCC2222' },
    }))

  const ASKED = { shop: SHOP, id: 'JJJJ2222', type: 'NoteAdded', fromAt: 1, toAt: 2 }

  test('is found without walking the log', async () => {
    const db = openLogFile(place.file)
    const store = storeOn(db)
    await store.append(SHOP, 0, firstEntries(SHOP, many(1_000)))
    const plan = (sql: string) =>
      db
        .query<{ detail: string }, Record<string, string | number>>(`EXPLAIN QUERY PLAN ${sql}`)
        .all({ ...ASKED, thing: 'JJJJ2222', key: 'job', most: 2 })
        .map(({ detail }) => detail)
    for (const key of [...THING_KEYS, 'type'] as const) {
      const steps = plan(ofKey(key))
      expect(steps.join()).not.toMatch(/SCAN [en]\b|AUTOMATIC/)
      expect(steps).toContain(
        'SEARCH n USING PRIMARY KEY (shop=? AND key=? AND id=? AND at>? AND at<?)',
      )
    }
    const span = 'PRIMARY KEY (shop=? AND key=? AND id=? AND at>? AND at<?)'
    for (const key of THING_KEYS)
      for (const side of ['thing', 'type'] as const) {
        const steps = plan(lastBy(side, key))
        expect(steps.join()).not.toMatch(/SCAN [en]\b|AUTOMATIC|TEMP B-TREE/)
        expect(steps).toContain(`SEARCH n USING ${span}`)
        // The void of this one entry, not all that were ever voided.
        expect(steps).toContain('SEARCH v USING INDEX entry_voided (shop=? AND <expr>=?)')
        expect(steps).not.toContain('SEARCH v USING INDEX entry_voided (shop=?)')
        expect(plan(lastOfRest(key)).join()).not.toMatch(/SCAN [en]\b|AUTOMATIC/)
      }
    // Backwards from the last.
    expect(plan(SO_FAR_BACK)).toEqual([
      'SEARCH named USING PRIMARY KEY (shop=? AND key=? AND id=? AND at<?)',
    ])
    // One look for each name, not one of all things of a kind.
    const look = 'SEARCH n USING PRIMARY KEY (shop=? AND key=? AND id=? AND at=? AND position=?)'
    expect(plan(UNFOUND)).toContain(look)
    await store.close()
  })

  test('costs no commit more than a few pages, and the table is at most a few entries behind', async () => {
    const db = openLogFile(place.file)
    const store = storeOn(db)
    const upTo = () =>
      db.query<{ position: number }, []>('SELECT position FROM named_upto').get()?.position ?? 0
    for (let n = 0; n < 3 * NAMED_EVERY; n += 1) {
      const head = await store.head(SHOP)
      await store.append(SHOP, n, entriesAfter(SHOP, head, [{ job: 'JJJJ2222' }]))
      expect(n + 1 - upTo()).toBeLessThan(NAMED_EVERY)
    }
    expect(await store.byThing(SHOP, 'job', 'JJJJ2222')).toHaveLength(3 * NAMED_EVERY)
    await store.close()
  })
})

/** A file as the version before wrote it: with an index for each kind of thing, and none of the tables. */
function madeOld(file: string): void {
  using db = new Database(file)
  for (const key of [...THING_KEYS, 'type'])
    db.run(`CREATE INDEX entry_${key} ON entry (shop, ${key}, at) WHERE ${key} IS NOT NULL`)
  db.run('DROP TABLE named')
  db.run('DROP TABLE named_upto')
  db.run('PRAGMA user_version = 1')
}

const names = (file: string) => {
  using db = new Database(file)
  const all = db.query<{ name: string }, []>('SELECT name FROM sqlite_master').all()
  return all.map(({ name }) => name)
}

describe('a file of before', () => {
  test('is made ready part by part, which is said, and goes on where it was stopped', async () => {
    const wanted = memoryStore()
    const before = sqliteStore(place.file)
    const contents: Content[] = Array.from({ length: 300 }, (_, n) => ({
      ...{ type: TYPES[n % 3] ?? '', at: 1_000 + (n % 7), cup: IDS[n % 2] ?? '' },
    }))
    for (const store of [wanted, before]) await store.append(SHOP, 0, firstEntries(SHOP, contents))
    await before.close()
    {
      using db = new Database(place.file, { strict: true })
      for (const table of ['named', 'named_upto']) db.run(`DELETE FROM ${table}`)
      const told: CaughtUp[] = []
      const stop = (so: CaughtUp) => {
        told.push(so)
        if (so.done === 160) throw new Error('stopped')
      }
      expect(() => catchUp(db, stop, 80)).toThrow('stopped')
      catchUp(db, (so) => told.push(so), 80)
      expect(told.map(({ done }) => done)).toEqual([0, 80, 160, 160])
      expect(told.every(({ of }) => of === 300)).toBe(true)
      expect(db.query(UNFOUND).get()).toBe(null)
    }
    const store = sqliteStore(place.file)
    const times = [999, 1_003, 1_009]
    expect(await answers(store, times)).toEqual(await answers(wanted, times))
    await store.close()
  })

  test('is found through as well once it is opened, and no longer has the indexes', async () => {
    const wanted = memoryStore()
    const before = sqliteStore(place.file)
    const contents: Content[] = Array.from({ length: 300 }, (_, n) => ({
      ...{ type: TYPES[n % 3] ?? '', at: 1_000 + (n % 7), cup: IDS[n % 2] ?? '' },
      ...(n % 5 === 0 ? { zone: IDS[1] ?? '' } : {}),
    }))
    const entries = firstEntries(SHOP, contents)
    for (const store of [wanted, before]) await store.append(SHOP, 0, entries)
    await before.close()
    madeOld(place.file)
    const store = sqliteStore(place.file)
    const times = [999, 1_003, 1_009]
    expect(await answers(store, times)).toEqual(await answers(wanted, times))
    await store.close()
    const left = names(place.file)
    for (const key of THING_KEYS) expect(left).not.toContain(`entry_${key}`)
    expect(left).toContain('named')
  })
})

const HALF = NAMED_EVERY / 2
const COUNT = 3 * NAMED_EVERY + HALF
const ofJob = (count: number): Content[] => Array.from({ length: count }, () => ({ job: JOB }))
const JOB = 'JJJJ2222'

/** A log of some entries of one job; then another tool changes it. @returns its file */
async function changed(...statements: readonly string[]): Promise<string> {
  const file = logFileIn(place.folder)
  const store = sqliteStore(file)
  for (const from of [0, COUNT - HALF]) {
    const count = from === 0 ? COUNT - HALF : HALF
    await store.append(SHOP, from, entriesAfter(SHOP, await store.head(SHOP), ofJob(count)))
  }
  await store.close()
  using db = new Database(file)
  db.run('DROP TRIGGER entry_no_delete')
  for (const statement of statements) db.run(statement)
  return file
}

describe('a log whose last entries were cut off', () => {
  test.each([10, NAMED_EVERY * 2])(
    'finds none of them, nor takes what follows for them: %i of them',
    async (cut) => {
      const file = await changed(`DELETE FROM entry WHERE position > ${COUNT - cut}`)
      const again = sqliteStore(file)
      expect(await again.byThing(SHOP, 'job', JOB)).toHaveLength(COUNT - cut)
      const next: Content[] = Array.from({ length: cut }, () => ({ cup: 'CCCC2222' }))
      await again.append(SHOP, COUNT - cut, entriesAfter(SHOP, await again.head(SHOP), next))
      expect(await again.byThing(SHOP, 'job', JOB)).toHaveLength(COUNT - cut)
      expect(await again.byThing(SHOP, 'cup', 'CCCC2222')).toHaveLength(cut)
      await again.close()
    },
  )
})

describe('a table that the disk changed', () => {
  test.each([0, NAMED_EVERY, COUNT + 1_000])(
    'finds each entry once, said to reach to %i',
    async (upTo) => {
      const again = sqliteStore(await changed(`UPDATE named_upto SET position = ${upTo}`))
      expect(await again.byThing(SHOP, 'job', JOB)).toHaveLength(COUNT)
      await again.close()
    },
  )

  test.each([
    ['another id', "SET id = 'XXXX2222'"],
    ['another time', 'SET at = at + 1'],
    ['another place', 'SET position = 70'],
  ])('finds nothing that is of something else, and verify says it: %s', async (_what, set) => {
    const where = "WHERE key = 'job' AND position = 7"
    const file = await changed(`UPDATE OR REPLACE named ${set} ${where}`)
    const store = sqliteStore(file)
    for (const job of [JOB, 'XXXX2222'])
      for (const entry of await store.byThing(SHOP, 'job', job)) expect(entry.job).toBe(job)
    await store.close()
    expect(await verifyFolder(place.folder)).toEqual({
      ...{ ok: false, shop: SHOP, position: 7, id: 'c7.0' },
      damage: { code: 'file', params: { said: 'not found by its job' } },
    })
  })
})
