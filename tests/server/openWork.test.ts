import fc from 'fast-check'
import { afterEach, describe, expect, test } from 'vitest'
import { evict } from '../../machines/evict.ts'
import { fold, liveIn } from '../../machines/fold.ts'
import { emptyState, type State } from '../../machines/state.ts'
import type { Thing } from '../../machines/things.ts'
import { loadShop } from '../../server/load.ts'
import { emptyHead } from '../../server/log/chain.ts'
import { inPages, type Store } from '../../server/log/log.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { sqliteStore } from '../../server/log/sqlite.ts'
import { readerOf } from '../../server/reading.ts'
import { QUIET } from '../support/bigDay.ts'
import { writeBigLog } from '../support/bigLog.ts'
import { logFolder } from '../support/logFiles.ts'
import { patience, tries } from '../support/randomRuns.ts'
import { anyHistory } from '../support/serverHistories.ts'
import { MINUTE, openTestShop, TestClock } from '../support/serverShop.ts'

/** Open work found by index is what a fold of the whole log leaves, whenever the shop is opened. */

const HOUR = 60 * MINUTE
const places: (() => void)[] = []
afterEach(() => {
  for (const remove of places.splice(0)) remove()
})

/** The whole log, entry by entry. */
async function folded(store: Store, shop: string, until = Infinity): Promise<State> {
  let state = emptyState(shop, emptyHead(shop).hash)
  for await (const entry of inPages(readerOf(store, shop, until).page)) state = fold(state, entry)
  return state
}

/** By index: nothing is short enough to be folded whole. */
const found = async (store: Store, shop: string, now: number): Promise<State> =>
  (await loadShop(shop, { store, every: 0, now, mayEvict: true })).state

const unmarked = <T extends Thing>(of: { readonly [id: string]: T }) =>
  Object.entries(of).map(([id, { heldMs: _, ...thing }]) => [id, thing] as const)

/**
 * What is there, not since when it is held; and of what was said of a zone and taken back before the
 * first reading that counts, nothing.
 */
function held(state: State) {
  const { zone, gun, devices, ...things } = state.things
  const air = unmarked(zone)
    .map(([id, thing]) => [id, { ...thing, entries: liveIn(thing.entries) }] as const)
    .filter(([, { entries }]) => entries.length > 0)
  const kept = [unmarked(gun), unmarked(devices), air].map((of) => Object.fromEntries(of))
  return { ...state, things, kept }
}

const AFTER = [0, 3 * HOUR, 5 * HOUR, 13 * HOUR, 3 * 24 * HOUR, 9 * 24 * HOUR, 50 * 24 * HOUR]

describe.each([
  ['in memory', () => memoryStore(), 25],
  [
    'in SQLite',
    () => {
      const { file, remove } = logFolder()
      places.push(remove)
      return sqliteStore(file)
    },
    10,
  ],
] as const)('a shop %s', (_name, make, often) => {
  test('opened without a snapshot holds what it would have folded', { timeout: patience }, () =>
    fc.assert(
      fc.asyncProperty(anyHistory, async (steps) => {
        const store = make()
        const clock = new TestClock()
        const { shops } = await openTestShop({ store, clock })
        for (const [i, step] of steps.entries()) {
          clock.advance(step.minutes * MINUTE)
          const { handle, state } = shops.ownWriter
          await handle(step.make(`h${i}`, { now: clock.now(), state: state() }))
        }
        const whole = await folded(store, shops.own)
        for (const ms of AFTER) {
          const now = clock.now() + ms
          expect(held(await found(store, shops.own, now))).toEqual(held(evict(whole, now)))
        }
        await store.close()
      }),
      tries(often),
    ),
  )
})

test('two weeks of one painter, opened at any moment of the last day, are what they were folded to', {
  timeout: patience,
}, async () => {
  const { file, remove } = logFolder()
  places.push(remove)
  const { shop, endMs } = await writeBigLog(file, { ...QUIET, entries: 1_500 })
  const store = sqliteStore(file)
  const whole = await folded(store, shop)
  for (let hours = 16; hours >= -200; hours -= 9) {
    const now = endMs - hours * HOUR
    const [byIndex, byFold] = [await found(store, shop, now), evict(whole, now)]
    expect(held(byIndex)).toEqual(held(byFold))
  }
  await store.close()
})
