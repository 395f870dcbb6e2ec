import { afterAll, beforeAll, expect, test } from 'vitest'
import { COMMANDS, type CommandType } from '../../machines/commands.ts'
import { deadlines } from '../../machines/deadlines.ts'
import { GETS, OLD } from '../support/askedGets.ts'
import { type CountedShop, countedShop } from '../support/countedShop.ts'
import { patience } from '../support/randomRuns.ts'
import { CUP, command, DOOR, JOB, QUARTER, ROUTE, vanInWork } from '../support/serverCommands.ts'
import { MINUTE } from '../support/serverShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'

/**
 * However long a log is, each command and each GET reads as many rows of it: as many as open work and
 * the thing that is named need. Counted, not timed, on 2,000 entries and on 20,000.
 */

/** Where two thousand entries of a shop of one painter reach to, and twenty thousand. */
const LENGTHS = [2_000, 20_000] as const

type Wish = readonly [type: CommandType, data: object | ((shop: CountedShop) => object)]

const CARD_ANGLES = [{ deg: 45, panel: [50, 0, 0], card: [51, 0, 0] }]
const OTHER_CUP = 'CCCC3333'
const POURED = 'CCCC4444'
const CLEAR_CUP = 'CCCC5555'
const ALSO = 'PPPP3333'

/** The key of a bell that is due soon, of one kind. */
const bellOf =
  (kind: string) =>
  ({ shop }: CountedShop) => ({
    key: deadlines(shop.shops.ownWriter.state()).find(({ bell }) => bell === kind)?.key ?? 'none',
  })

/** The entry that a command of today left. */
const entryOf = (id: string) => ({ entry: `${id}.0`, reason: 'pressed by mistake' })

/**
 * The most rows that a command reads between two turns of whoever else waits. What is not here is about
 * open work, which is in memory: none.
 */
const MOST_ROWS: Partial<Record<CommandType, number>> = {
  AddNote: 200,
  PrintLabel: 100,
  ReopenJob: 200,
  SendBackPanel: 250,
  SettleDeviation: 200,
  VoidEntry: 150,
}

/** A day on which everything is done that can be done. `wait` lets minutes go by. */
const DAY: readonly (Wish | { readonly wait: number })[] = [
  ['SaveSheet', { sheet: { ...BASE, sheet: 'base-new', name: 'Another base' } }],
  ['SaveGun', { gun: 'gun-1', name: 'Gun of the base' }],
  ['SaveZone', { zone: 'booth', name: 'Booth', clearanceMin: 20 }],
  ['SaveAirSupply', { air: 'main', receiverL: 800, freeAirLpm: 1400, cutOutKpa: 1000 }],
  ['ChangeSettings', { shopName: 'A shop' }],
  ['TestSound', { pattern: 'prompt', heard: true }],
  ['CommissionLevel', {}],
  ['ReportSleep', { why: 'lost' }],
  ['ReportClockJump', { fromMs: 1, toMs: 2 }],
  ['ReportFlood', { isOn: true, count: 12 }],
  ['ConfirmClock', ({ clock }) => ({ nowMs: clock.now() })],
  ['ReadClimate', { zone: 'booth', airC: 22, rh: 0.5 }],
  ['OpenJob', { job: 'JJJJ3333', title: 'Another van' }],
  ['PauseJob', { job: JOB }],
  ['ResumeJob', { job: JOB }],
  ['AddNote', { job: JOB, text: 'Two chips under the handle' }],
  ['AddPhoto', { job: JOB, photo: 'a'.repeat(64) }],
  [
    'AddPanel',
    {
      job: JOB,
      panel: ALSO,
      name: 'Sill',
      operation: 'repair',
      route: [{ stage: 'prep' }, ...ROUTE],
    },
  ],
  ['DoPrepStep', { panel: ALSO, step: 0 }],
  ['SetRoute', { panel: ALSO, route: [{ stage: 'prep' }, { stage: 'sand' }, ...ROUTE] }],
  ['SkipStep', { panel: ALSO, step: 1, reason: 'smooth enough' }],
  ['MovePanel', { panel: ALSO, zone: 'bench' }],
  ['RemovePanel', { panel: ALSO }],
  ['PrintLabel', { cup: CUP }],
  ['LoadGun', { gun: 'gun-1', cup: CUP }],
  ['StartCoat', { panels: [DOOR, QUARTER], cup: CUP, gun: 'gun-1' }],
  ['BreakOffCoat', { panels: [DOOR, QUARTER] }],
  ['StartCoat', { panels: [DOOR, QUARTER], cup: CUP, gun: 'gun-1' }],
  ['MixCup', { cup: OTHER_CUP, sheet: BASE.sheet, totalMl: 200, job: JOB, alsoFor: ['JJJJ3333'] }],
  ['ContinueCoat', { panels: [DOOR, QUARTER], cup: OTHER_CUP }],
  { wait: 5 },
  ['FinishCoat', { panels: [DOOR, QUARTER] }],
  { wait: 9 },
  ['RingBell', bellOf('coatReady')],
  ['SnoozeBell', (shop) => ({ ...bellOf('coatReady')(shop), minutes: 1 })],
  ['EscalateBell', (shop) => ({ ...bellOf('coatReady')(shop), to: 'zone' })],
  ['HoldBell', bellOf('coatReady')],
  ['AcknowledgeBell', bellOf('coatReady')],
  ['InspectCoat', { panel: DOOR, result: 'good' }],
  ['SetAirMovers', { zone: 'booth', on: true }],
  ['SetDayRange', { zone: 'booth', minC: 15, maxC: 25 }],
  ['ReadFilm', { panel: DOOR, um: 60, method: 'wetComb' }],
  ['StartCoat', { panels: [DOOR, QUARTER], cup: CUP, gun: 'gun-1' }],
  { wait: 5 },
  ['FinishCoat', { panels: [DOOR, QUARTER] }],
  ['PourBack', { gun: 'gun-1', cup: CUP }],
  ['RinseGun', { gun: 'gun-1' }],
  ['CleanGun', { gun: 'gun-1' }],
  ['PourCup', { cup: POURED, from: [{ cup: OTHER_CUP, ml: 50 }] }],
  ['CheckCup', { cup: POURED, done: ['stirred'] }],
  ['MeasureCup', { cup: POURED, leftMl: 40 }],
  ['MoveCup', { cup: POURED, zone: 'prep' }],
  ['ClearZone', { zone: 'bench', how: 'gauge' }],
  ['PurgeZone', { zone: 'bench', minutes: 3 }],
  ['EmptyCup', { cup: POURED, how: 'discarded' }],
  { wait: 20 },
  ['MixCup', { cup: CLEAR_CUP, sheet: CLEAR.sheet, totalMl: 300, activator: 'standard' }],
  ['StartCoat', { panels: [DOOR], cup: CLEAR_CUP }],
  { wait: 5 },
  ['FinishCoat', { panels: [DOOR] }],
  ['ReachCover', { panel: DOOR, override: { reason: 'one wet coat is enough' } }],
  ['AbradePanel', { panel: QUARTER, grit: 800 }],
  ['DenibPanel', { panel: QUARTER, grit: 1500 }],
  ['SetHeatLimit', { job: JOB, maxC: null }],
  ['DecideBlend', { job: JOB, body: 'van', on: 'roof', beside: ['left-rear-side'], blend: true }],
  ['MeasureColourCard', { job: JOB, colour: 'body', card: 'A', angles: CARD_ANGLES }],
  ['ChooseColourCard', { job: JOB, colour: 'body', card: 'A' }],
  ['StartCure', { panels: [DOOR], mode: 'bake', override: { reason: 'the lead said so' } }],
  ['ReadPart', { panel: DOOR, partC: 61 }],
  ['EndCure', { panels: [DOOR] }],
  ['PolishPanel', { panel: DOOR, override: { reason: 'sold as it is' } }],
  ['PassPanel', { panel: DOOR, override: { reason: 'sold as it is' } }],
  ['SendBackPanel', { panel: DOOR, toStep: 1, done: 0, reason: 'dust' }],
  ['CloseJob', { job: JOB, override: { reason: 'sold as it is' } }],
  ['ReopenJob', { job: JOB }],
  ['AddPerson', { person: 'p-ann', name: 'Ann', role: 'painter' }],
  ['RetirePerson', { person: 'p-ann' }],
  // What names something of long ago.
  ['AddNote', { job: OLD.job, text: 'The customer called' }],
  ['ReopenJob', { job: OLD.job }],
  ['SendBackPanel', { panel: OLD.panel, toStep: 1, done: 0, reason: 'dust' }],
  ['PrintLabel', { cup: OLD.cup }],
  ['VoidEntry', entryOf('t-2-SaveGun')],
  ['VoidEntry', entryOf('t-12-ReadClimate')],
  ['VoidEntry', entryOf('t-15-AddNote')],
  // A sheet that nobody used, and one that was always used.
  ['VoidEntry', entryOf('t-1-SaveSheet')],
  ['VoidEntry', entryOf('set-up-1')],
  ['ImportSheets', { format: 'flashbell-sheets', version: 1, sheets: [{ ...BASE, edition: '2' }] }],
  [
    'RecordTraining',
    ({ clock }) => ({ person: 'ann', name: 'Ann', kind: 'initial', doneMs: clock.now() }),
  ],
  ['ServiceFilter', { zone: 'booth', what: 'changed' }],
  ['UseSolvent', { solvent: 'thinner', ml: 500 }],
  [
    'ReviewCause',
    {
      ...{ job: JOB, panels: [DOOR], defect: 'runs', cause: 'cold' },
      ...{ verdict: 'reject', reason: 'the part was warm' },
    },
  ],
  [
    'SettleDeviation',
    {
      ...{ job: OLD.job, entry: 'none.0', code: 'flashNotOver' },
      ...{ disposition: 'watch', reason: 'UNKNOWN' },
    },
  ],
  ['SetShopFigure', { sheet: BASE.sheet, dropOver: 'wet' }],
  ['RetireSheet', { sheet: BASE.sheet }],
]

/** Asked and not accepted on this day: what they are about is read all the same. */
const REFUSED: readonly CommandType[] = [
  ...(['CommissionLevel', 'EndCure', 'EscalateBell', 'SettleDeviation', 'StartCure'] as const),
]

let shops: readonly CountedShop[] = []
beforeAll(async () => {
  shops = [await countedShop(LENGTHS[0]), await countedShop(LENGTHS[1])]
}, patience)
afterAll(async () => {
  for (const { close } of shops) await close()
})

const POST = (body: object) => ({ method: 'POST', body: JSON.stringify(body) })

test('every command reads as many rows of a long log as of a short one, and lets others have their turn', {
  timeout: patience,
}, async () => {
  for (const { shop } of shops)
    for (const wish of vanInWork.slice(2))
      expect((await shop.app.request('/api/commands', POST(wish))).status).toBe(200)
  const [asked, done] = [new Set<string>(), new Set<string>()]
  for (const [i, wish] of DAY.entries()) {
    for (const { clock } of shops) clock.advance('wait' in wish ? wish.wait * MINUTE : 1_000)
    if ('wait' in wish) continue
    const [type, data] = wish
    const answers = []
    for (const one of shops) {
      const given = typeof data === 'function' ? data(one) : data
      const body = command(`t-${i + 1}-${type}`, type, given)
      answers.push(await one.counted(() => one.shop.app.request('/api/commands', POST(body))))
    }
    const [short, long] = answers
    expect({ type, i, rows: long?.rows, status: long?.status }, String(long?.asked)).toEqual({
      ...{ type, i, rows: short?.rows, status: short?.status },
    })
    const most = MOST_ROWS[type] ?? 0
    expect(long?.most, `${type}, command ${i} of the day, in one turn`).toBeLessThanOrEqual(most)
    asked.add(type)
    if (long?.status === 200) done.add(type)
  }
  const types = Object.keys(COMMANDS)
  expect(types.filter((type) => !asked.has(type))).toEqual([])
  expect(types.filter((type) => !done.has(type)).sort()).toEqual(REFUSED)
})

test('every GET reads as many rows of a long log as of a short one, and lets others have their turn', async () => {
  const routes = shops[0]?.shop.app.routes ?? []
  const paths = new Set(routes.filter(({ method }) => method === 'GET').map(({ path }) => path))
  expect([...paths].sort()).toEqual(Object.keys(GETS).sort())
  const all = Object.values(GETS).flatMap(({ asked, ...get }) =>
    asked.map((path) => ({ ...get, path })),
  )
  for (const { path, mostRows } of all) {
    const [short, long] = [
      await shops[0]?.counted(() => shops[0]?.shop.app.request(path) as Response),
      await shops[1]?.counted(() => shops[1]?.shop.app.request(path) as Response),
    ]
    expect({ path, rows: long?.rows, status: long?.status }, String(long?.asked)).toEqual({
      ...{ path, rows: short?.rows, status: short?.status },
    })
    expect(long?.most, `${path}, in one turn`).toBeLessThanOrEqual(mostRows)
  }
})

test('the bells of a year let others have their turn between two pages', async () => {
  const { shop, counted } = shops[1] as CountedShop
  const { status, most, rows } = await counted(() => shop.app.request('/api/bells?days=366'))
  expect(status).toBe(200)
  expect(rows).toBeGreaterThan(most)
  expect(most).toBeLessThanOrEqual(GETS['/api/bells']?.mostRows ?? 0)
})

test('the tail of a whole history lets others have their turn between two pages, however fast it is read', async () => {
  const { shop, mostInATurn } = shops[1] as CountedShop
  const { head } = shop.shops.ownWriter.state()
  let sent = 0
  const most = await mostInATurn(async () => {
    const { body } = await shop.app.request('/api/tail?after=0')
    const reader = (body as ReadableStream<Uint8Array>).getReader()
    for (const text = new TextDecoder(); sent < head; ) {
      const { value } = await reader.read()
      sent += text.decode(value, { stream: true }).match(/^id:/gm)?.length ?? 0
    }
    await reader.cancel()
  })
  expect(sent).toBe(head)
  expect(head).toBeGreaterThan(LENGTHS[1])
  expect(most).toBeLessThanOrEqual(GETS['/api/tail']?.mostRows ?? 0)
})
