import { afterEach, describe, expect, test } from 'vitest'
import { deadlines } from '../../machines/deadlines.ts'
import { FOLD_VERSION } from '../../machines/state.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { sqliteStore } from '../../server/log/sqlite.ts'
import { labelRoutes } from '../../server/routes/labels.ts'
import { countingStore } from '../support/countingStore.ts'
import { entriesAfter } from '../support/logEntries.ts'
import { logFolder } from '../support/logFiles.ts'
import { CUP, command, DOOR, JOB, vanInWork } from '../support/serverCommands.ts'
import { MINUTE, openTestShop, TestClock, type TestShop } from '../support/serverShop.ts'
import { BASE } from '../support/sheets.ts'

/** What is said of an old job, or asked of an old cup, reads that thing alone, however long the log is. */

const DAY = 24 * 60 * MINUTE
const places: (() => void)[] = []
afterEach(() => {
  for (const remove of places.splice(0)) remove()
})

/** A shop a month after its one job was closed and its cup emptied, with so many readings since. */
async function monthLater(readings: number) {
  const { file, remove } = logFolder()
  places.push(remove)
  const store = sqliteStore(file)
  await store.putMeta('shop', 'SHAPSHAP')
  const clock = new TestClock()
  const before = await openTestShop({ store, clock })
  for (const wish of [
    ...vanInWork,
    // A bell of its panel, and one of its cup.
    command('start', 'StartCoat', { panels: [DOOR], cup: CUP }),
    command('finish', 'FinishCoat', { panels: [DOOR] }),
  ])
    expect(await before.shops.ownWriter.handle(wish)).toMatchObject({ status: 200 })
  for (const kind of ['panel', 'cup']) {
    const due = deadlines(before.shops.ownWriter.state()).find(({ thing }) => thing.kind === kind)
    clock.advance(Math.max(0, (due?.dueAt ?? 0) - clock.now()))
    const rung = command(`ring-${kind}`, 'RingBell', { key: due?.key, wasHeard: true })
    expect(await before.shops.ownWriter.handle(rung)).toMatchObject({ status: 200 })
  }
  for (const wish of [
    command('empty', 'EmptyCup', { cup: CUP, how: 'discarded' }),
    command('close', 'CloseJob', { job: JOB, override: { reason: 'sold as it is' } }),
  ])
    expect(await before.shops.ownWriter.handle(wish)).toMatchObject({ status: 200 })
  await before.shops.close()
  const from = clock.now() + DAY
  const every = Math.floor((30 * DAY) / readings)
  const since = Array.from({ length: readings }, (_, i) => {
    const at = from + i * every
    const air = { airC: 20 + (i % 3), rh: 0.5 }
    return { type: 'ClimateRead', zone: 'booth', data: air, at, enteredAt: at, recordedAt: at }
  })
  const head = await store.head('SHAPSHAP')
  await store.append('SHAPSHAP', head.position, entriesAfter('SHAPSHAP', head, since))
  clock.advance(31 * DAY)
  const counting = countingStore(store)
  const shop = await openTestShop({ store: counting.store, clock, more: [labelRoutes] })
  expect(shop.shops.ownWriter.state().things).toMatchObject({
    job: {},
    panel: {},
    cup: {},
    bell: {},
  })
  const asks = async (work: (shop: TestShop) => Promise<{ status: number }>) => {
    const [rows, already] = [counting.rows(), counting.asked.length]
    const { things } = shop.shops.ownWriter.state()
    expect(await work(shop)).toMatchObject({ status: 200 })
    // The state holds what it held: what came back for this is out of it again.
    expect(shop.shops.ownWriter.state().things).toEqual(things)
    return { rows: counting.rows() - rows, asked: counting.asked.slice(already) }
  }
  return { asks, close: () => store.close() }
}

describe('a month after a job was closed', () => {
  const both = async (work: (shop: TestShop) => Promise<{ status: number }>) => {
    const [some, many] = [await monthLater(2_000), await monthLater(20_000)]
    const answers = [await some.asks(work), await many.asks(work)]
    for (const { close } of [some, many]) await close()
    return answers
  }

  test('a note on it leaves the state as it was and reads that job alone', async () => {
    const [some, many] = await both(({ post }) =>
      post('/api/commands', command('n', 'AddNote', { job: JOB, text: 'The customer called' })),
    )
    expect(some?.rows).toBeGreaterThan(0)
    expect(many).toEqual(some)
    // With the passes of its panel: a bell may have rung in the name of another that was sprayed in them.
    const own = /^(command (n|start|finish)|job|panel|cup) ?/
    const others = many?.asked.filter((what) => !own.test(what))
    expect(others).toEqual([])
  })

  test('a scan of its empty cup leaves the state as it was and reads that cup alone', async () => {
    const [some, many] = await both(({ get }) => get(`/api/scan/${CUP}`))
    expect(some?.rows).toBeGreaterThan(0)
    expect(many).toEqual(some)
    expect(many?.asked.filter((what) => !what.startsWith('cup'))).toEqual([])
  })
})

test('a cup that a coat named nine days before it was mixed is the same after a restart', async () => {
  const store = memoryStore()
  const clock = new TestClock()
  const live = await openTestShop({ store, clock, snapshotEvery: 5 })
  const handle = async (input: object) =>
    expect(await live.shops.ownWriter.handle(input)).toMatchObject({ status: 200 })
  for (const wish of vanInWork) await handle(wish)
  const cup = 'CCCC4444'
  const late = { at: clock.now() - 3 * MINUTE, reason: 'typed later' }
  await handle(command('coat', 'StartCoat', { panels: [DOOR], cup }, late))
  clock.advance(9 * DAY)
  await handle(command('air-2', 'ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 }))
  await expect.poll(() => live.shops.ownWriter.state().things.cup).not.toHaveProperty(cup)
  await handle(command('mix-2', 'MixCup', { cup, sheet: BASE.sheet, totalMl: 200 }))
  const was = live.shops.ownWriter.state().things.cup[cup]
  expect(was?.entries.map((entry) => entry.command)).toEqual(['coat', 'mix-2'])

  await store.putSnapshot(live.shops.own, String(FOLD_VERSION), 1, 'no snapshot at all')
  const again = await openTestShop({ store, clock, snapshotEvery: 5 })
  expect(again.shops.ownWriter.state().things.cup[cup]).toEqual(was)
})
