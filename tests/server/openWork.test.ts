import fc from 'fast-check'
import { afterEach, expect, test } from 'vitest'
import { evict } from '../../machines/evict.ts'
import { FOLD_VERSION, type State } from '../../machines/state.ts'
import type { Thing } from '../../machines/things.ts'
import { loadShop } from '../../server/load.ts'
import type { Store } from '../../server/log/log.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { sqliteStore } from '../../server/log/sqlite.ts'
import { allKept } from '../support/allKept.ts'
import { DAY_MS, dayId, QUIET } from '../support/bigDay.ts'
import { writeBigLog } from '../support/bigLog.ts'
import { countingStore } from '../support/countingStore.ts'
import { logFolder } from '../support/logFiles.ts'
import { patience, tries } from '../support/randomRuns.ts'
import { command, DOOR, JOB, ROUTE, vanInWork } from '../support/serverCommands.ts'
import { anyHistory } from '../support/serverHistories.ts'
import { MINUTE, openTestShop, START_MS, TestClock } from '../support/serverShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'

/**
 * After an update no snapshot of before can be used. A shop then reads its open work alone, and comes to
 * the same as by a fold of its whole log.
 */

const HOUR = 60 * MINUTE
const KEY = String(FOLD_VERSION)
const places: (() => void)[] = []
afterEach(() => {
  for (const remove of places.splice(0)) remove()
})

/** The store as a program of the next version finds it. */
const afterUpdate = (store: Store): Store => ({ ...store, getSnapshot: async () => null })
/** As a program finds it that wrote nothing beside the log, such as after an import. */
const withLogAlone = (store: Store): Store => ({
  ...afterUpdate(store),
  getMeta: async (key) => (key.startsWith('open ') ? null : await store.getMeta(key)),
})

const loaded = async (store: Store, shop: string, now: number): Promise<State> =>
  (await loadShop(shop, { store, every: 10, now, mayEvict: true })).state

/**
 * What is there. Since when it is held decides nothing but whether it is read again; what was said of a
 * zone, gun or device and taken back is held by some for longer than by others, and counts for none.
 */
function held(loaded: State) {
  const state = allKept(loaded)
  const parts = ['zone', 'gun', 'devices'] as const
  const unmarked = <T extends Thing>({ heldMs: _, ...thing }: T) => {
    const voids = new Set(thing.entries.flatMap(({ data }) => data.entry ?? []))
    const entries = thing.entries.filter(({ id, type }) => type !== 'EntryVoided' && !voids.has(id))
    return { ...thing, entries }
  }
  const kept = parts.map((kind) =>
    Object.fromEntries(
      Object.entries<Thing>(state.things[kind]).map(([id, thing]) => [id, unmarked(thing)]),
    ),
  )
  const { zone: _z, gun: _g, devices: _d, ...whole } = state.things
  return { ...state, things: whole, kept }
}

test(
  'a shop opened after an update holds what it would have folded, whatever happened',
  {
    timeout: patience,
  },
  () =>
    fc.assert(
      fc.asyncProperty(anyHistory, fc.nat({ max: 200 * 24 }), async (steps, restHours) => {
        const store = memoryStore()
        const clock = new TestClock()
        const { shops } = await openTestShop({ store, clock, snapshotEvery: 7 })
        for (const [i, step] of steps.entries()) {
          clock.advance(step.minutes * MINUTE)
          const { handle, state } = shops.ownWriter
          await handle(step.make(`h${i}`, { now: clock.now(), state: state() }))
        }
        // Not closed, as after a kill: what is open was kept some entries ago.
        for (const now of [clock.now(), clock.now() + restHours * HOUR]) {
          const byIds = await loaded(afterUpdate(store), shops.own, now)
          const byLog = await loaded(withLogAlone(store), shops.own, now)
          expect(held(byIds)).toEqual(held(byLog))
        }
      }),
      tries(60),
    ),
)

test('a coat said before its cup was known keeps what it took of that cup, though the cup is over and the update came after', async () => {
  const store = memoryStore()
  const { shops, clock } = await openTestShop({ store, snapshotEvery: 1_000 })
  const { handle } = shops.ownWriter
  const late = (minutes: number) => ({ at: clock.now() - minutes * MINUTE, reason: 'typed later' })
  const [of, child] = ['CCCC7777', 'CCCC8888']
  for (const wish of vanInWork) await handle(wish)
  clock.advance(HOUR)
  const answers = [
    await handle(
      command('start', 'StartCoat', { panels: [DOOR], cup: child, gun: 'gun-1' }, late(20)),
    ),
    await handle(
      command('mix-2', 'MixCup', { cup: of, sheet: BASE.sheet, totalMl: 300 }, late(30)),
    ),
    await handle(command('pour', 'PourCup', { cup: child, from: [{ cup: of, ml: 90 }] }, late(25))),
    await handle(command('end', 'FinishCoat', { panels: [DOOR] })),
    await handle(command('empty', 'EmptyCup', { cup: of, how: 'used' })),
    await handle(command('empty-2', 'EmptyCup', { cup: child, how: 'used' })),
  ]
  expect(answers.map(({ status }) => status)).toEqual(answers.map(() => 200))
  const opened = shops.ownWriter.state().things.panel[DOOR]?.context.coats
  expect(opened?.[0]?.opens?.sheet).toBe(BASE.sheet)
  clock.advance(14 * HOUR)
  await shops.close()
  expect(shops.ownWriter.state().things.cup[child]).toBeUndefined()
  const byIds = await loaded(afterUpdate(store), shops.own, clock.now())
  expect(byIds.things.panel[DOOR]?.context.coats).toEqual(opened)
  expect(held(byIds)).toEqual(held(await loaded(store, shops.own, clock.now())))
  expect(held(byIds)).toEqual(held(await loaded(withLogAlone(store), shops.own, clock.now())))
})

test('what a gun holds of a cup that is over was where a panel is said to be only after weeks, also where that is read after a kill', async () => {
  const store = memoryStore()
  const clock = new TestClock()
  const before = await openTestShop({ store, clock, snapshotEvery: 1_000 })
  const [cup, panel] = ['CCCC7777', 'PPPP7777']
  const data = { cup, sheet: CLEAR.sheet, totalMl: 300, zone: 'bench' }
  const late = { at: clock.now() + HOUR - MINUTE, reason: 'typed later' }
  for (const wish of [...vanInWork, command('mix-2', 'MixCup', data)])
    await before.shops.ownWriter.handle(wish)
  clock.advance(HOUR)
  const start = command('start', 'StartCoat', { panels: [panel], cup, gun: 'gun-1' }, late)
  expect(await before.shops.ownWriter.handle(start)).toMatchObject({ status: 200 })
  await before.shops.ownWriter.handle(command('empty', 'EmptyCup', { cup, how: 'used' }))
  clock.advance(9 * 24 * HOUR)
  await before.shops.close()
  const { shops } = await openTestShop({ store, clock, snapshotEvery: 1_000 })
  const added = command('add', 'AddPanel', {
    ...{ job: JOB, panel, name: 'Hood', operation: 'repair', zone: 'booth' },
    route: [{ stage: 'clear', sheet: CLEAR.sheet }],
  })
  expect(await shops.ownWriter.handle(added)).toMatchObject({ status: 200 })
  const placesOf = (state: State) =>
    state.things.gun['gun-1']?.context.loads.flatMap(({ clocks }) => clocks.map((c) => c.moves))
  const now = clock.now()
  const live = placesOf(shops.ownWriter.state())
  expect(live).toMatchObject([[{ zone: 'booth', isUse: true }]])
  expect(placesOf(await loaded(store, shops.own, now))).toEqual(live)
  expect(placesOf(await loaded(afterUpdate(store), shops.own, now))).toEqual(live)
})

test('a panel that was added to two jobs by mistake is let go of a week later, whichever of these is held', async () => {
  const store = memoryStore()
  const { shops, clock } = await openTestShop({ store, snapshotEvery: 1 })
  const [other, hood] = ['VANJAB33', 'HHHH2222']
  const press = async (id: string, type: string, data: object) =>
    expect(await shops.ownWriter.handle(command(id, type, data))).toMatchObject({ status: 200 })
  const byMistake = async (id: string, job: string) => {
    const data = { job, panel: hood, name: 'Hood', operation: 'repair', route: ROUTE }
    await press(id, 'AddPanel', data)
    await press(`no-${id}`, 'VoidEntry', { entry: `${id}.0`, reason: 'The other van' })
  }
  for (const wish of vanInWork) await press(wish.id, wish.type, wish.data as object)
  await byMistake('first', JOB)
  await press('close', 'CloseJob', { job: JOB, override: { reason: 'Collected' } })
  clock.advance(9 * DAY_MS)
  await press('other', 'OpenJob', { job: other, title: 'Estate car, hood' })
  await byMistake('second', other)
  for (const [days, panels] of [
    [0, [hood]],
    [8, []],
  ] as const) {
    const now = clock.now() + days * DAY_MS
    const live = evict(shops.ownWriter.state(), now)
    expect(Object.keys(live.things.job)).toEqual([other])
    expect(Object.keys(live.things.panel)).toEqual(panels)
    for (const by of [store, afterUpdate(store), withLogAlone(store)])
      expect(held(await loaded(by, shops.own, now))).toEqual(held(live))
  }
})

/** A shop of one painter, years of it, that was opened and closed late on its last day. */
async function closedShop(entries: number, shape = QUIET) {
  const { file, remove } = logFolder()
  places.push(remove)
  const { shop, days, endMs } = await writeBigLog(file, { ...shape, entries })
  const store = sqliteStore(file)
  const clock = new TestClock()
  clock.advance(endMs - START_MS)
  const { shops } = await openTestShop({ store, clock })
  for (const wish of vanInWork.slice(2)) await shops.ownWriter.handle(wish)
  await shops.close()
  return { store, shop, days, now: clock.now() }
}

test.each([
  ['of one painter', QUIET],
  // Its second oven has no sensor: nothing that was read there ends what it holds.
  ['with a zone in which nobody ever measures', { ...QUIET, jobs: 2 }],
])(
  'an opening after an update reads as many rows of a long log as of a short one: %s',
  {
    timeout: patience,
  },
  async (_, shape) => {
    const read = []
    for (const entries of [2_000, 20_000]) {
      const { store, shop, now } = await closedShop(entries, shape)
      const counting = countingStore(store)
      const state = await loaded(afterUpdate(counting.store), shop, now)
      expect(Object.keys(state.things.job)).toContain(JOB)
      read.push({ rows: counting.rows(), asked: counting.asked.length })
      await store.close()
    }
    expect(read[1]).toEqual(read[0])
    // The check of the newest rows, the set-up, and of each thing what there is.
    expect(read[0]?.rows).toBeLessThan(1_000)
  },
)

test('weeks of one painter, opened after an update at any hour of the days that followed, are what the log folds to', {
  timeout: patience,
}, async () => {
  const { store, shop, now } = await closedShop(1_500)
  for (let hours = 0; hours < 200; hours += 15) {
    const then = now + hours * HOUR
    const [byIds, byLog] = [
      await loaded(afterUpdate(store), shop, then),
      await loaded(withLogAlone(store), shop, then),
    ]
    expect(held(byIds)).toEqual(held(byLog))
  }
  await store.close()
})

test('what was over when an update came, and is named again, is as before', {
  timeout: patience,
}, async () => {
  const { store, now } = await closedShop(1_500)
  const clock = new TestClock()
  clock.advance(now - START_MS + DAY_MS)
  const { shops } = await openTestShop({ store: afterUpdate(store), clock })
  const old = dayId('J', 3, 0)
  expect(shops.ownWriter.state().things.job[old]).toBeUndefined()
  const note = { job: old, text: 'The customer called' }
  expect((await shops.ownWriter.handle(command('call', 'AddNote', note))).status).toBe(200)
  const again = { panel: dayId('P', 3, 0), toStep: 1, done: 0, reason: 'dust' }
  await shops.ownWriter.handle(command('open', 'ReopenJob', { job: old }))
  expect((await shops.ownWriter.handle(command('dust', 'SendBackPanel', again))).status).toBe(200)
  await shops.close()
  await store.close()
})

const useless: Readonly<Record<string, (text: string) => string>> = {
  'of which a letter was changed': (text) => text.replace('"job":["', '"job":["X'),
  'that is cut': (text) => text.slice(0, -9),
  'that is empty': () => '',
}

test.each(Object.entries(useless))('a list of open work %s is left aside', async (_name, spoil) => {
  const store = memoryStore()
  const { shops, clock } = await openTestShop({ store })
  for (const wish of vanInWork) await shops.ownWriter.handle(wish)
  await shops.close()
  const key = `open ${shops.own}`
  const text = await store.getMeta(key)
  await store.putMeta(key, spoil(text ?? ''))
  const state = await loaded(afterUpdate(store), shops.own, clock.now())
  expect(state).toEqual(await loaded(withLogAlone(store), shops.own, clock.now()))
})

test('a list of open work of another log under the same name is left aside', async () => {
  const [store, other] = [memoryStore(), memoryStore()]
  const { shops, clock } = await openTestShop({ store })
  for (const wish of vanInWork) await shops.ownWriter.handle(wish)
  await shops.close()
  await other.putMeta('shop', shops.own)
  const second = await openTestShop({ store: other })
  for (const wish of vanInWork)
    await second.shops.ownWriter.handle({ ...wish, id: `other-${wish.id}` })
  // Not closed: nothing was kept of it but what the first one said.
  await other.putMeta(`open ${shops.own}`, (await store.getMeta(`open ${shops.own}`)) ?? '')
  const state = await loaded(afterUpdate(other), shops.own, clock.now())
  expect(state).toEqual(evict(second.shops.ownWriter.state(), clock.now()))
})

test('a shop of which a snapshot was kept has a list of its open work beside it', async () => {
  const store = memoryStore()
  const { shops } = await openTestShop({ store, snapshotEvery: 5 })
  for (const wish of vanInWork) await shops.ownWriter.handle(wish)
  await shops.close()
  const head = shops.ownWriter.state().head
  expect((await store.getSnapshot(shops.own, KEY))?.position).toBe(head)
  expect(await store.getMeta(`open ${shops.own}`)).toContain(`"head":${head}`)
})
