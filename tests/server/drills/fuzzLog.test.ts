import fc from 'fast-check'
import { afterAll, describe, expect, test } from 'vitest'
import type { Entry } from '../../../machines/envelope.ts'
import { emptyHead, seal } from '../../../server/log/chain.ts'
import { inPages, LogError, type Store } from '../../../server/log/log.ts'
import { sqliteStore } from '../../../server/log/sqlite.ts'
import { labelRoutes } from '../../../server/routes/labels.ts'
import { timelineRoutes } from '../../../server/routes/timeline.ts'
import { drill, drillPatience } from '../../support/drill.ts'
import { type Json, type Spoil, spoil, spoiled } from '../../support/hostile.ts'
import { logFolder } from '../../support/logFiles.ts'
import { CUP, JOB } from '../../support/serverCommands.ts'
import { openTestShop, type TestShop } from '../../support/serverShop.ts'
import { openWholeShop, removeAll } from '../../support/wholeShop.ts'

/** A log of another program may hold anything: it is opened, or refused with a sentence. */

afterAll(removeAll)

const replaced = (at: number, value: Json = 0): Spoil => ({
  ...{ path: [at], how: 'replace', value, key: 'at' },
})

const spoils = fc.array(spoil, { minLength: 1, maxLength: 3 })

/** What earlier runs came upon: a cup read back and a job's timeline, each with a fault of the program. */
const FAULTS: readonly [number, Spoil[]][] = [
  [1_342_146_339, [replaced(34), { path: [14], how: 'replace', value: 0, key: '' }]],
  [
    429_872_863,
    [{ path: [], how: 'remove', value: null, key: '' }, replaced(49, ''), replaced(38)],
  ],
  [89_447_404, [replaced(15), { path: [38], how: 'replace', value: '', key: '' }]],
]

describe('in the log', { timeout: drillPatience }, () => {
  test('entries with anything in them are opened or refused with a sentence, and never a fault', async () => {
    const { rounds, seed, count, done } = drill('stored entries', { small: 30, long: 5_000 })
    const shop = await openWholeShop()
    const good = await Array.fromAsync(inPages((page) => shop.store.read(shop.shops.own, page)))
    await fc.assert(
      fc.asyncProperty(fc.nat(), spoils, async (pick, how) => {
        const { file, remove } = logFolder()
        const store = sqliteStore(file)
        try {
          const stored = await storedIn(store, good, pick, how).catch(codeIn)
          count(stored === 'done' ? await openedOn(store) : `not stored: ${stored}`)
        } finally {
          await store.close()
          remove()
        }
      }),
      { numRuns: rounds + FAULTS.length, seed, examples: [...FAULTS] },
    )
    done()
  })
})

async function storedIn(store: Store, good: readonly Entry[], pick: number, how: readonly Spoil[]) {
  const shop = good[0]?.shop ?? ''
  await store.putMeta('shop', shop)
  return await store.append(shop, 0, spoiledLog(good, pick, how))
}

/** The same log with the content of one entry spoiled, sealed as another program might have. */
function spoiledLog(good: readonly Entry[], pick: number, how: readonly Spoil[]): Entry[] {
  const [first] = good
  let { hash } = emptyHead(first?.shop ?? '')
  return good.map((entry, i) => {
    const { hash: _, ...unsealed } = entry
    const content: Json = JSON.parse(JSON.stringify(unsealed))
    const spoilt = i === pick % good.length ? how.reduce(spoiled, content) : content
    // What the chain itself says of an entry stays: without it no program would have stored it.
    const { shop, position, recordedAt, id, command, type, at } = unsealed
    const said = typeof spoilt === 'string' ? { data: spoilt } : (spoilt as object)
    const kept = { ...said, shop, position, recordedAt, id, command, type, at }
    const sealed = seal(shop, hash, { ...unsealed, ...kept })
    hash = sealed.hash
    return sealed
  })
}

const codeIn = (error: unknown): string => {
  if (error instanceof LogError) return error.code
  throw error
}

async function openedOn(store: Store): Promise<string> {
  let shop: TestShop
  try {
    shop = await openTestShop({ store, more: [labelRoutes, timelineRoutes] })
  } catch (error) {
    if (error instanceof LogError) return `refused ${error.code}`
    throw error
  }
  for (const path of [
    '/api/state',
    '/api/entries',
    `/api/jobs/${JOB}/timeline`,
    `/api/scan/${CUP}`,
    '/api/bells',
  ])
    expect({ path, ...(await shop.get(path)) }).not.toMatchObject({ status: 500 })
  expect(shop.reports.filter((error) => !(error instanceof LogError))).toEqual([])
  return shop.reports.length === 0 ? 'opened' : 'opened, and one page refused'
}
