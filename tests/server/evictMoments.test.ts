import fc from 'fast-check'
import { expect, test } from 'vitest'
import { memoryStore } from '../../server/log/memory.ts'
import type { Answer } from '../../server/problems.ts'
import { patience, tries } from '../support/randomRuns.ts'
import { addPanel, command, DOOR, JOB } from '../support/serverCommands.ts'
import { MINUTE, openTestShop, type TestShop } from '../support/serverShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'

/**
 * Where a zone's past is cut depends on when a server trimmed. Air is read, told late and taken
 * back; cups and coats of days ago arrive late; servers that trim at other moments must answer alike.
 */

const HOUR = 60
const ZONE = 'booth'
const CUPS = ['AAAA2222', 'BBBB2222', 'CCCC2222'] as const

type Act = {
  /** Minutes since the one before, and how many minutes ago it is said to have happened. */
  readonly after: number
  readonly ago: number
  readonly make: (readings: readonly string[]) => readonly [type: string, data: object]
}

const what = fc.oneof(
  fc
    .record({ airC: fc.integer({ min: 14, max: 34 }), rh: fc.constantFrom(0.4, 0.6) })
    .map((air) => () => ['ReadClimate', { zone: ZONE, ...air }] as const),
  fc.nat(50).map((nth) => (readings: readonly string[]) => {
    const entry = readings[nth % Math.max(1, readings.length)] ?? 'never.0'
    return ['VoidEntry', { entry, reason: 'The sensor lay in the sun' }] as const
  }),
  fc
    .constantFrom(...CUPS)
    .map((cup) => () => ['MixCup', { cup, sheet: CLEAR.sheet, totalMl: 300, zone: ZONE }] as const),
  fc
    .constantFrom(...CUPS)
    .map((cup) => () => ['StartCoat', { panels: [DOOR], cup, step: 1 }] as const),
  fc
    .constantFrom(...CUPS)
    .map((cup) => () => ['FinishCoat', { panels: [DOOR], cup, step: 1 }] as const),
  fc.constantFrom(...CUPS).map((cup) => () => ['EmptyCup', { cup, how: 'discarded' }] as const),
)
const acts: fc.Arbitrary<Act[]> = fc.array(
  fc.record({
    after: fc.constantFrom(1, 5, 20, 2 * HOUR, 14 * HOUR, 60 * HOUR, 200 * HOUR),
    ago: fc.constantFrom(0, 0, 0, 3, 40, 13 * HOUR, 50 * HOUR, 210 * HOUR),
    make: what,
  }),
  { minLength: 5, maxLength: 40 },
)

async function shopThatTrims(snapshotEvery: number): Promise<TestShop> {
  const store = memoryStore()
  await store.putMeta('shop', 'SHAPSHAP')
  const shop = await openTestShop({ store, snapshotEvery })
  const past = [
    command('s-base', 'SaveSheet', { sheet: BASE }),
    command('s-clear', 'SaveSheet', { sheet: CLEAR }),
    command('j-open', 'OpenJob', { job: JOB, title: 'Delivery van, rear corner' }),
    addPanel('p-door', DOOR, 'Rear door'),
  ]
  for (const wish of past)
    expect(await shop.shops.ownWriter.handle(wish)).toMatchObject({ status: 200 })
  return shop
}

const entriesOf = ({ body }: Answer) => ('entries' in body ? body.entries : [])

/** One server that trims each half hour at most and two that do it more often get the same, and must answer alike. */
async function answerAlike(all: readonly Act[], often: number, seldom: number): Promise<void> {
  const [never, ...others] = await Promise.all([1_000, often, seldom].map(shopThatTrims))
  if (!never) throw new Error('no shop')
  const readings: string[] = []
  for (const [i, { after, ago, make }] of all.entries()) {
    for (const { clock } of [never, ...others]) clock.advance(after * MINUTE)
    const at = never.clock.now() - ago * MINUTE
    const [type, data] = make(readings)
    const late = ago === 0 ? {} : { at, enteredAt: at }
    const input = command(`h${i}`, type, data, late)
    const wanted = await never.shops.ownWriter.handle(input)
    for (const { shops } of others) expect(await shops.ownWriter.handle(input)).toEqual(wanted)
    for (const e of entriesOf(wanted)) if (e.type === 'ClimateRead') readings.push(e.id)
  }
}

test('servers that evict at other moments answer alike', { timeout: patience }, () =>
  fc.assert(
    fc.asyncProperty(
      acts,
      fc.integer({ min: 1, max: 4 }),
      fc.integer({ min: 5, max: 9 }),
      answerAlike,
    ),
    tries(60),
  ),
)

test('a cup from before the first reading of its zone is judged by that one, however long ago both were', async () => {
  const [cup, other] = CUPS
  const read = (airC: number) => () => ['ReadClimate', { zone: ZONE, airC, rh: 0.5 }] as const
  const mix = (id: string) => () =>
    ['MixCup', { cup: id, sheet: CLEAR.sheet, totalMl: 300, zone: ZONE }] as const
  const finish = () => ['FinishCoat', { panels: [DOOR], cup, step: 1 }] as const
  const acts = [
    { after: 1, ago: 0, make: mix(cup) },
    { after: 60 * HOUR, ago: 0, make: read(31) },
    { after: 200 * HOUR, ago: 0, make: mix(other) },
    { after: 60 * HOUR, ago: 210 * HOUR, make: read(17) },
    { after: 1, ago: 0, make: finish },
  ]
  await answerAlike(acts, 1, 5)
  // Taken back, the one after it holds back.
  const taken = (readings: readonly string[]) =>
    ['VoidEntry', { entry: readings[0], reason: 'The sensor lay in the sun' }] as const
  await answerAlike([...acts, { after: 1, ago: 0, make: taken }, acts[4] as Act], 1, 5)
})

test('a start from before a later coat is judged by the air of the coat before it', async () => {
  const [cup] = CUPS
  const finish = () => ['FinishCoat', { panels: [DOOR], cup, step: 1 }] as const
  const empty = () => ['EmptyCup', { cup, how: 'discarded' }] as const
  await answerAlike(
    [
      {
        after: 1,
        ago: 0,
        make: () => ['MixCup', { cup, sheet: CLEAR.sheet, totalMl: 300, zone: ZONE }],
      },
      { after: 1, ago: 0, make: finish },
      { after: 1, ago: 0, make: () => ['ReadClimate', { zone: ZONE, airC: 14, rh: 0.4 }] },
      { after: 1, ago: 0, make: empty },
      { after: 60 * HOUR, ago: 0, make: empty },
      // The second coat ends the clock of the first: nothing rests on that air any more.
      { after: 1, ago: 0, make: finish },
      { after: 1, ago: 0, make: empty },
      {
        after: 1,
        ago: 40,
        make: () => ['StartCoat', { panels: [DOOR], cup: 'CCCC2222', step: 1 }],
      },
    ],
    1,
    5,
  )
})

test('a finish pressed now is judged by the air of the coat that stood when it was started, by estimate before the last coat', async () => {
  const [cup] = CUPS
  const read = () => ['ReadClimate', { zone: ZONE, airC: 24, rh: 0.5 }] as const
  const finish = () => ['FinishCoat', { panels: [DOOR], cup, step: 1 }] as const
  const mix = () => ['MixCup', { cup, sheet: CLEAR.sheet, totalMl: 300, zone: ZONE }] as const
  const since = [
    { after: 1, ago: 0, make: finish },
    { after: 1, ago: 0, make: read },
    { after: 60 * HOUR, ago: 0, make: mix },
    { after: 1, ago: 0, make: finish },
    { after: 1, ago: 0, make: finish },
  ]
  await answerAlike([{ after: 1, ago: 0, make: read }, ...since], 1, 5)
  await answerAlike(since, 1, 5)
})

test('what a coat is put right to now is judged by the air of the coat before it', async () => {
  const [cup] = CUPS
  const coat = { panels: [DOOR], cup, step: 1 }
  const read = () => ['ReadClimate', { zone: ZONE, airC: 24, rh: 0.5 }] as const
  const finish = () => ['FinishCoat', coat] as const
  const toDrop = (type: string) => () => {
    const replace = { type, data: { ...coat, kind: 'drop' } }
    return ['VoidEntry', { entry: 'h4.0', reason: 'It was a drop coat', replace }] as const
  }
  const past = [
    { after: 1, ago: 0, make: read },
    { after: 1, ago: 0, make: finish },
    { after: 1, ago: 0, make: read },
    {
      after: 60 * HOUR,
      ago: 0,
      make: () => ['MixCup', { cup, sheet: CLEAR.sheet, totalMl: 300, zone: ZONE }] as const,
    },
  ]
  const told = { after: 1, ago: 0, make: finish }
  await answerAlike([...past, told, { ...told, make: toDrop('FinishCoat') }], 1, 5)
  const started = { ...told, make: () => ['StartCoat', coat] as const }
  await answerAlike([...past, started, told, { ...told, make: toDrop('StartCoat') }], 1, 5)
})

test('a coat that ran over a night is ended by what its cup was, though that was emptied long before', async () => {
  const [cup, other] = CUPS
  const base = { panels: [DOOR], step: 0 }
  const coat = { panels: [DOOR], cup, step: 1 }
  const based: readonly Act[] = [0, 20].map((after) => {
    return { after, ago: 0, make: () => ['FinishCoat', base] }
  })
  const mixOf = (id: string): Act => ({
    after: 30,
    ago: 0,
    make: () => ['MixCup', { cup: id, sheet: CLEAR.sheet, totalMl: 300, zone: ZONE }],
  })
  const mix = mixOf(cup)
  const start: Act = { after: 1, ago: 0, make: () => ['StartCoat', coat] }
  const empty: Act = { after: 20, ago: 0, make: () => ['EmptyCup', { cup, how: 'used' }] }
  const evening = [...based, mix, start, empty]
  // By a kiosk whose clock was slow: from before its cup was mixed.
  const early = [...based, mix, { ...start, after: 10, ago: 13 }, empty]
  // Half an hour after the last time every server looks for what is over; one does at each entry.
  const read = () => ['ReadClimate', { zone: ZONE, airC: 20, rh: 0.5 }] as const
  const morning: readonly Act[] = [
    { after: 12 * HOUR - 10, ago: 0, make: read },
    { after: 15, ago: 0, make: read },
    { ...mixOf(other), after: 1 },
  ]
  for (const [before, type, data] of [
    [evening, 'FinishCoat', { panels: [DOOR] }],
    [evening, 'FinishCoat', { panels: [DOOR], cup: other }],
    [evening, 'ContinueCoat', { panels: [DOOR], cup: other }],
    [early, 'FinishCoat', { panels: [DOOR] }],
    [early, 'BreakOffCoat', { panels: [DOOR] }],
  ] as const) {
    const last: Act = { after: 1, ago: 0, make: () => [type, data] }
    await answerAlike([...before, ...morning, last], 1, 5)
  }
})

test('what is said of a panel that has passed is judged by the air of its coats, however long ago that was', async () => {
  const read = () => ['ReadClimate', { zone: ZONE, airC: 20, rh: 0.5 }] as const
  const over = { override: { reason: 'sold as it is' } }
  const past: readonly Act[] = [
    { after: 1, ago: 0, make: read },
    { after: 20, ago: 0, make: () => ['FinishCoat', { panels: [DOOR], step: 0 }] },
    { after: 5, ago: 0, make: read },
    { after: 1, ago: 0, make: () => ['PassPanel', { panel: DOOR, ...over }] },
    // Two days after the coat one server still holds the air of before it and one does not.
    { after: 48 * HOUR - 10, ago: 0, make: read },
    { after: 20, ago: 0, make: read },
  ]
  const start = () => ['StartCoat', { panels: [DOOR], cup: CUPS[0], step: 0 }] as const
  for (const ago of [0, 5]) await answerAlike([...past, { after: 1, ago, make: start }], 1, 5)
})

test('a job that is reopened after its cups were evicted has what its coats took from them, also where a cup was told of late', async () => {
  const [never, often] = await Promise.all([1_000, 1].map(shopThatTrims))
  if (!never || !often) throw new Error('no shop')
  const [cup] = CUPS
  const day: readonly (readonly [after: number, ago: number, type: string, data: object])[] = [
    [60, 5, 'StartCoat', { panels: [DOOR], cup, step: 1 }],
    [3, 4, 'FinishCoat', { panels: [DOOR], cup, step: 1 }],
    [1, 20, 'MixCup', { cup, sheet: BASE.sheet, totalMl: 300, zone: ZONE }],
    [1, 0, 'EmptyCup', { cup, how: 'used' }],
    [1, 0, 'CloseJob', { job: JOB, override: { reason: 'sold as it is' } }],
    [40 * 24 * HOUR, 0, 'ReadClimate', { zone: ZONE, airC: 20, rh: 0.5 }],
    [1, 0, 'ReopenJob', { job: JOB }],
  ]
  for (const [i, [after, ago, type, data]] of day.entries()) {
    for (const { clock, shops } of [never, often]) {
      clock.advance(after * MINUTE)
      const at = clock.now() - ago * MINUTE
      const late = ago === 0 ? {} : { at, enteredAt: at }
      const input = command(`d${i}`, type, data, late)
      const answer = await shops.ownWriter.handle(input)
      expect(answer, JSON.stringify(answer.body)).toMatchObject({ status: 200 })
      if (shops === often.shops && type === 'ReadClimate') {
        expect(shops.ownWriter.state().things.panel).toEqual({})
      }
    }
  }
  const panelOf = ({ shops }: TestShop) => shops.ownWriter.state().things.panel[DOOR]
  expect(panelOf(often)?.context.coats[0]?.opens?.sheet).toBe(BASE.sheet)
  expect(panelOf(often)).toEqual(panelOf(never))
})
