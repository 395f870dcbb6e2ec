import { describe, expect, test } from 'vitest'
import { evict } from '../../machines/evict.ts'
import { FOLD_VERSION, type State } from '../../machines/state.ts'
import { sha256 } from '../../server/log/canonical.ts'
import { LogError, type Store } from '../../server/log/log.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { keepSnapshot, readSnapshot } from '../../server/snapshot.ts'
import { countingStore } from '../support/countingStore.ts'
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
/** A store's way of keeping snapshots, under other names. */
const put =
  (store: Store, named: (key: string) => string): Store['putSnapshot'] =>
  (shop, key, ...rest) =>
    store.putSnapshot(shop, named(key), ...rest)
const text = (state: State) => JSON.stringify(state)
/** A snapshot of one part, as its writer would have it. */
async function putSealed(store: Store, own: string, at: number, json: string, of = json) {
  await store.putSnapshot(own, `${KEY} part 0`, at, json)
  await store.putSnapshot(own, KEY, at, JSON.stringify({ digests: [sha256(of)] }))
}
const isMarked = (state: State): boolean => 'marked' in state.things.settings

const reopened = async (store: Store): Promise<State> =>
  (await openTestShop({ store })).shops.ownWriter.state()

describe('a shop that starts', () => {
  test('folds on from its last snapshot', async () => {
    const { store, own, kept } = await closedShop()
    await putSealed(store, own, kept.head, text(marked(kept)))
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

  const useless: Readonly<
    Record<string, (kept: State) => { at: number; json: string; of?: string }>
  > = {
    'that is not JSON': (kept) => ({ at: kept.head, json: text(marked(kept)).slice(0, -9) }),
    'that is other JSON': (kept) => ({ at: kept.head, json: '[1,2,3]' }),
    'of which a letter was changed': (kept) => ({
      at: kept.head,
      json: text(marked(kept)).replace('"marked"', '"marled"'),
      of: text(marked(kept)),
    }),
    'that says another position than it was kept under': (kept) => ({
      at: kept.head - 1,
      json: text(marked(kept)),
    }),
    'beyond the end of the log': (kept) => ({
      at: kept.head + 5,
      json: text(marked({ ...kept, head: kept.head + 5 })),
    }),
    'whose hash the log does not have': (kept) => ({
      at: kept.head,
      json: text(marked({ ...kept, headHash: 'f'.repeat(64) })),
    }),
    'of another shop': (kept) => ({
      at: kept.head,
      json: text(marked({ ...kept, shop: 'THERSHAP' })),
    }),
    'that another version of the fold made': (kept) => ({
      at: kept.head,
      json: text(marked({ ...kept, foldVersion: FOLD_VERSION - 1 })),
    }),
    'without one of the kinds of things': (kept) => {
      const { cup: _, ...things } = marked(kept).things
      return { at: kept.head, json: text({ ...kept, things } as State) }
    },
  }

  test.each(Object.entries(useless))('leaves a snapshot aside %s', async (_name, make) => {
    const { store, own, kept } = await closedShop()
    const { at, json, of } = make(kept)
    await putSealed(store, own, at, json, of)
    expect(await reopened(store)).toEqual(kept)
  })

  test('ignores a snapshot of another version of the fold', async () => {
    const { store, own, kept } = await closedShop()
    const next = { ...store, putSnapshot: put(store, (key) => key.replace(KEY, `${KEY}1`)) }
    await putSealed(next, own, kept.head, text(marked(kept)))
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
    await read(503)
    await expect.poll(async () => (await readSnapshot(store, shops.own))?.head).toBe(502)
    const kept = await readSnapshot(store, shops.own)
    const readings = (of: State | null) =>
      of?.things.zone.booth?.entries.filter((entry) => entry.type === 'ClimateRead').length
    // Two days of readings every 12 min, and the one that held when they began.
    expect(readings(kept)).toBeLessThan(250)
    expect(readings(state())).toBe((readings(kept) ?? 0) + 1)
    expect((await store.head(shops.own)).position).toBe(503)
  })

  test('that holds more things waits for as many entries', async () => {
    const store = memoryStore()
    const heads: number[] = []
    const noted: Store['putSnapshot'] = async (shop, key, head, json) => {
      if (key === KEY) heads.push(head)
      await store.putSnapshot(shop, key, head, json)
    }
    const { shops } = await openTestShop({ store: { ...store, putSnapshot: noted } })
    const digits = (n: number) =>
      n
        .toString(8)
        .padStart(4, '0')
        .replace(/./g, (d) => `${+d + 2}`)
    for (let n = 0; n < 2_000; n += 1) {
      const job = `J222${digits(n)}`
      await shops.ownWriter.handle(command(job, 'OpenJob', { job, title: 'Van' }))
    }
    expect(Object.keys(shops.ownWriter.state().things.job)).toHaveLength(2_000)
    // Each costs as much as what is held by then.
    await expect.poll(() => heads).toEqual([500, 1_000, 2_000])
    await shops.close()
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
    const { shops } = await openTestShop({ store })
    await store.putSnapshot(own, KEY, kept.head, 'overwritten')
    await shops.close()
    expect(await store.getSnapshot(own, KEY)).toMatchObject({ json: 'overwritten' })
    await keepSnapshot(store, kept)
    expect(await readSnapshot(store, own)).toEqual(kept)
  })
})

describe('a snapshot of many things', () => {
  /** As much open work as hundreds of jobs: the same job, under other ids. */
  function grown(kept: State): State {
    const job = Object.values(kept.things.job)[0]
    const panel = Object.values(kept.things.panel)[0]
    if (!job || !panel) throw new Error('the shop has no work')
    const many = <T>(one: T) =>
      Object.fromEntries(Array.from({ length: 1_000 }, (_, n) => [`MANY${n}`, one]))
    return { ...kept, things: { ...kept.things, job: many(job), panel: many(panel) } }
  }

  test('is written part by part, and others have their turn between any two', async () => {
    const { store, own, kept } = await closedShop()
    const state = grown(kept)
    const written: { length: number; turn: number }[] = []
    let [turn, isDone] = [0, false]
    const count = () => {
      turn += 1
      if (!isDone) setImmediate(count)
    }
    setImmediate(count)
    const watched: Store = {
      ...store,
      putSnapshot(shop, key, position, json) {
        written.push({ length: json.length, turn })
        return store.putSnapshot(shop, key, position, json)
      },
    }
    await keepSnapshot(watched, state)
    isDone = true
    expect(await readSnapshot(store, own)).toEqual(state)
    const whole = JSON.stringify(state).length
    const most = Math.max(...written.map(({ length }) => length))
    expect(whole).toBeGreaterThan(1_000_000)
    expect(most / whole).toBeLessThan(0.2)
    const turns = written.map((one) => one.turn)
    expect(new Set(turns).size).toBe(turns.length)
  })

  test('one thing of thousands of entries is written in parts too', async () => {
    const { store, own, kept } = await closedShop()
    const zone = kept.things.zone.booth
    const reading = zone?.entries.find(({ type }) => type === 'ClimateRead')
    if (!zone || !reading) throw new Error('the booth has no reading')
    const entries = Array.from({ length: 5_000 }, (_, n) => ({ ...reading, id: `r${n}` }))
    const readings = entries.map(({ at }, n) => ({ at: at + n, airC: 20, rh: 0.5 }))
    const booth = { ...zone, entries, context: { ...zone.context, readings } }
    const state = { ...kept, things: { ...kept.things, zone: { ...kept.things.zone, booth } } }
    const lengths: number[] = []
    const watched: Store = {
      ...store,
      putSnapshot(shop, key, position, json) {
        lengths.push(json.length)
        return store.putSnapshot(shop, key, position, json)
      },
    }
    await keepSnapshot(watched, state)
    expect(await readSnapshot(store, own)).toEqual(state)
    expect(Math.max(...lengths) / JSON.stringify(state).length).toBeLessThan(0.2)
  })

  test('holds up no command while it is written', async () => {
    const inner = memoryStore()
    let goOn = () => {}
    const held = new Promise<void>((done) => {
      goOn = done
    })
    const store: Store = {
      ...inner,
      async putSnapshot(...given) {
        await held
        await inner.putSnapshot(...given)
      },
    }
    const { shops } = await openTestShop({ store, snapshotEvery: 3 })
    for (const wish of vanInWork) {
      const { status } = await shops.ownWriter.handle(wish)
      expect(status).toBe(200)
    }
    expect(await readSnapshot(store, shops.own)).toBeNull()
    goOn()
    await shops.close()
    expect(await readSnapshot(store, shops.own)).toEqual(shops.ownWriter.state())
  })

  test('of which the writing was cut short is left aside, and open work is read by its ids', async () => {
    const { store, own, kept } = await closedShop()
    const { shops, clock } = await openTestShop({ store })
    await shops.ownWriter.handle(command('pause', 'PauseJob', { job: JOB }))
    const state = shops.ownWriter.state()
    let parts = 0
    const killed: Store = {
      ...store,
      async putSnapshot(...given) {
        parts += 1
        if (parts > 2) throw new Error('killed')
        await store.putSnapshot(...given)
      },
    }
    await expect(keepSnapshot(killed, grown(state))).rejects.toThrow('killed')
    expect(await readSnapshot(store, own)).toBeNull()
    const counting = countingStore(store)
    expect(await reopened(counting.store)).toEqual(evict(state, clock.now()))
    expect(counting.asked).toContain(`job ${JOB}`)
    expect(kept.head).toBeLessThan(state.head)
  })
})
