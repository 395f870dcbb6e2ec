import { describe, expect, test } from 'vitest'
import { evict } from '../../machines/evict.ts'
import { FOLD_VERSION, type State } from '../../machines/state.ts'
import { sha256 } from '../../server/log/canonical.ts'
import { LogError, type Store } from '../../server/log/log.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { keepSnapshot, readSnapshot } from '../../server/snapshot.ts'
import { command, JOB, vanInWork } from '../support/serverCommands.ts'
import { MINUTE, openTestShop } from '../support/serverShop.ts'

const KEY = String(FOLD_VERSION)

/** A shop with the van in work, closed; what its log and its snapshot say. */
async function closedShop() {
  const store = memoryStore()
  const { shops } = await openTestShop({ store })
  for (const wish of vanInWork) await shops.ownWriter.handle(wish)
  await shops.close()
  const kept = await readSnapshot(store, shops.own)
  if (!kept) throw new Error('no snapshot was kept')
  return { store, own: shops.own, kept }
}

/** The same state, but for a mark by which a test knows that it came from the snapshot. */
const marked = (state: State): State => ({
  ...state,
  things: {
    ...state.things,
    settings: { marked: { value: 'plain', context: {}, notTaken: [], entries: [] } },
  },
})
const text = (state: State) => JSON.stringify(state)
const sealed = (state: State) => `{"digest":"${sha256(text(state))}","state":${text(state)}}`
const isMarked = (state: State): boolean => 'marked' in state.things.settings

const reopened = async (store: Store): Promise<State> =>
  (await openTestShop({ store })).shops.ownWriter.state()

describe('a shop that starts', () => {
  test('folds on from its last snapshot', async () => {
    const { store, own, kept } = await closedShop()
    await store.putSnapshot(own, KEY, kept.head, sealed(marked(kept)))
    expect(isMarked(await reopened(store))).toBe(true)
  })

  test('folds what came after the snapshot', async () => {
    const { store, kept } = await closedShop()
    const { shops, clock } = await openTestShop({ store })
    await shops.ownWriter.handle(command('pause', 'PauseJob', { job: JOB }))
    const { state } = shops.ownWriter
    // Not closed: the snapshot is still the old one, as after a kill.
    expect((await store.getSnapshot(shops.own, KEY))?.position).toBe(kept.head)
    expect(await reopened(store)).toEqual(evict(state(), clock.now()))
  })

  const useless: Readonly<Record<string, (kept: State) => { at: number; json: string }>> = {
    'that is not JSON': (kept) => ({ at: kept.head, json: sealed(marked(kept)).slice(0, -9) }),
    'that is other JSON': (kept) => ({ at: kept.head, json: '[1,2,3]' }),
    'of which a letter was changed': (kept) => ({
      at: kept.head,
      json: sealed(marked(kept)).replace('"marked"', '"marled"'),
    }),
    'that says another position than it was kept under': (kept) => ({
      at: kept.head - 1,
      json: sealed(marked(kept)),
    }),
    'beyond the end of the log': (kept) => ({
      at: kept.head + 5,
      json: sealed(marked({ ...kept, head: kept.head + 5 })),
    }),
    'whose hash the log does not have': (kept) => ({
      at: kept.head,
      json: sealed(marked({ ...kept, headHash: 'f'.repeat(64) })),
    }),
    'of another shop': (kept) => ({
      at: kept.head,
      json: sealed(marked({ ...kept, shop: 'THERSHAP' })),
    }),
    'that another version of the fold made': (kept) => ({
      at: kept.head,
      json: sealed(marked({ ...kept, foldVersion: FOLD_VERSION - 1 })),
    }),
    'without one of the kinds of things': (kept) => {
      const { cup: _, ...things } = marked(kept).things
      return { at: kept.head, json: sealed({ ...kept, things } as State) }
    },
  }

  test.each(Object.entries(useless))('leaves a snapshot aside %s', async (_name, make) => {
    const { store, own, kept } = await closedShop()
    const { at, json } = make(kept)
    await store.putSnapshot(own, KEY, at, json)
    expect(await reopened(store)).toEqual(kept)
  })

  test('ignores a snapshot of another version of the fold', async () => {
    const { store, own, kept } = await closedShop()
    await store.putSnapshot(own, String(FOLD_VERSION + 1), kept.head, sealed(marked(kept)))
    expect(await reopened(store)).toEqual(kept)
  })
})

describe('a shop that runs', () => {
  test('keeps a snapshot every 500 entries, of open work only', async () => {
    const store = memoryStore()
    const { shops, clock } = await openTestShop({ store })
    const { handle, state } = shops.ownWriter
    const read = (i: number) =>
      handle(command(`r${i}`, 'ReadClimate', { zone: 'booth', airC: 15 + (i % 2) * 5, rh: 0.5 }))
    for (let i = 2; i <= 499; i += 1) {
      clock.advance(12 * MINUTE)
      await read(i)
    }
    expect(state().head).toBe(499)
    expect(await store.getSnapshot(shops.own, KEY)).toBeNull()
    await Promise.all([500, 501, 502].map(read))
    // The next command is decided after the snapshot was kept.
    await read(503)
    const kept = await readSnapshot(store, shops.own)
    expect(kept?.head).toBe(502)
    const readings = (of: State | null) =>
      of?.things.zone.booth?.entries.filter((entry) => entry.type === 'ClimateRead').length
    // Two days of readings every 12 min, and the one that held when they began.
    expect(readings(kept)).toBeLessThan(250)
    expect(readings(state())).toBe((readings(kept) ?? 0) + 1)
    expect((await store.head(shops.own)).position).toBe(503)
  })

  test('answers on when a snapshot cannot be kept', async () => {
    const inner = memoryStore()
    const full = new LogError(
      { op: 'snapshot', shop: null },
      'full',
      'The disk is full.',
      'Free some.',
    )
    const store: Store = { ...inner, putSnapshot: () => Promise.reject(full) }
    const { shops, reports } = await openTestShop({ store, snapshotEvery: 2 })
    const answers = []
    for (const wish of vanInWork) answers.push(await shops.ownWriter.handle(wish))
    expect(answers.map(({ status }) => status)).toEqual(vanInWork.map(() => 200))
    await shops.close()
    expect(reports.length).toBeGreaterThan(2)
    expect(new Set(reports)).toEqual(new Set([full]))
  })

  test('keeps none when nothing has happened since the last one', async () => {
    const { store, own, kept } = await closedShop()
    const { json } = (await store.getSnapshot(own, KEY)) ?? {}
    const { shops } = await openTestShop({ store })
    await store.putSnapshot(own, KEY, kept.head, 'overwritten')
    await shops.close()
    expect(await store.getSnapshot(own, KEY)).toMatchObject({ json: 'overwritten' })
    expect(json).toBe(sealed(kept))
    await keepSnapshot(store, kept)
    expect(await readSnapshot(store, own)).toEqual(kept)
  })
})
