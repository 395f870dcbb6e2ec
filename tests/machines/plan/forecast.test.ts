import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'
import { forecastOf } from '../../../machines/plan/forecast.ts'
import type { ForecastAsked } from '../../../machines/plan/forecastTypes.ts'
import { learnedFrom } from '../../../machines/plan/learned.ts'
import { matteKey, sprayKey } from '../../../machines/plan/learning.ts'
import { MATTE_BASE } from '../../support/learningShop.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import { minute, Shop } from '../../support/shop.ts'

const JOB = 'VANREAR2'
const DOOR = 'SDEDR222'
const SIDE = 'REARSDE2'
const STEPS = [
  { stage: 'base', sheet: BASE.sheet },
  { stage: 'clear', sheet: CLEAR.sheet },
]

/** A booth of 20 °C, and a van with a door of 2 m² that is to be sprayed. */
function van(route: readonly object[] = STEPS, sheets: readonly object[] = [BASE, CLEAR]): Shop {
  const shop = new Shop()
  for (const sheet of sheets) shop.do('SaveSheet', { sheet })
  shop.do('SaveZone', { zone: 'booth' })
  shop.do('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
  shop.do('OpenJob', { job: JOB, title: 'Delivery van' })
  return withPanel(shop, DOOR, route)
}

function withPanel(shop: Shop, panel: string, route: readonly object[], job = JOB): Shop {
  const data = { job, panel, name: panel, operation: 'repair', areaM2: 2, zone: 'booth', route }
  shop.do('AddPanel', data)
  return shop
}

const asked = (shop: Shop, how: ForecastAsked = {}) => forecastOf(shop.state, shop.now, how)
const doneMin = (shop: Shop, how: ForecastAsked = {}) => {
  const { jobs, atMs } = asked(shop, how)
  return ((jobs[0]?.doneAtMs ?? Number.NaN) - atMs) / 60_000
}
const measured = (value: number) =>
  learnedFrom(Array.from({ length: 40 }, (_, i) => ({ lo: value + i / 1e3, hi: value + i / 1e3 })))

describe('a forecast', () => {
  test('adds up what the sheets say: mixing, spraying, flash', () => {
    // Mix 5, coat 4, flash 8, coat 4, flash 15, coat 4, flash 10, coat 4.
    expect(doneMin(van())).toBe(54)
  })

  test('shows its spread: what was counted narrows it', () => {
    const unknown = asked(van()).jobs[0]
    const figures = { [sprayKey('base')]: measured(1), [sprayKey('clear')]: measured(1) }
    const known = asked(van(), { figures }).jobs[0]
    const width = (job: typeof known) => Number(job?.lateMs) - Number(job?.earlyMs)
    expect(width(unknown)).toBeGreaterThan(0)
    expect(width(known)).toBeLessThan(width(unknown))
  })

  test('says which step decides when a job is done', () => {
    const cured = asked(van([...STEPS, { stage: 'cure', sheet: CLEAR.sheet }])).jobs[0]
    expect(cured?.decides).toMatchObject({ kind: 'cure', isWait: false, ms: 720 * 60_000 })
    expect(asked(van()).jobs[0]?.decides).toMatchObject({
      stage: 'clear',
      wait: 'flash',
      isWait: true,
    })
  })

  test('of two that are ready it says what else could go on', () => {
    const shop = withPanel(van(), SIDE, STEPS)
    const { next } = asked(shop)
    expect(next?.because).toBe('order')
    expect([next?.act.panel, ...(next?.others ?? [])].sort()).toEqual([SIDE, DOOR].sort())
  })

  test('takes the gun whose needle the sheet asks for, and for the same product the one that sprayed it', () => {
    const shop = van()
    shop.do('SaveGun', { gun: 'primer', needleMm: 1.7 })
    shop.do('SaveGun', { gun: 'one', needleMm: 1.3 })
    shop.do('SaveGun', { gun: 'two', needleMm: 1.3 })
    const guns = () =>
      Object.fromEntries(asked(shop).acts.flatMap(({ sheet, gun }) => (gun ? [[sheet, gun]] : [])))
    expect(guns()).toEqual({ [BASE.sheet]: 'one', [CLEAR.sheet]: 'two' })
    shop.do('MixCup', { cup: 'K7QDM2XV', sheet: CLEAR.sheet, totalMl: 100 })
    shop.do('LoadGun', { gun: 'one', cup: 'K7QDM2XV' })
    shop.do('CleanGun', { gun: 'one' })
    expect(guns()).toEqual({ [BASE.sheet]: 'two', [CLEAR.sheet]: 'one' })
  })

  test('a color whose card would be refused at the gun is not planned, whatever else is ready', () => {
    const shop = van([{ stage: 'base', sheet: BASE.sheet, colour: 'body' }])
    const angle = (l: number) => [{ deg: 45, panel: [50, 0, 0], card: [50 + l, 0, 0] }]
    const measured = (card: string, l: number, more = {}) =>
      shop.do('MeasureColourCard', { job: JOB, colour: 'body', card, angles: angle(l), ...more })
    const cannot = () => asked(shop).cannot.map(({ code }) => code)
    // A shop that does not want to be stopped is not.
    expect(cannot()).toEqual([])
    shop.do('ChangeSettings', { colour: { match: 1, blend: 2, atGun: true } })
    expect(asked(shop).cannot).toMatchObject([{ code: 'colourOff', value: null, card: 'body' }])
    measured('A', 4)
    expect(asked(shop).cannot).toMatchObject([{ code: 'colourOff', limit: 2, card: 'A' }])
    // A card of another tint is near enough: the cup to come may have that.
    measured('B', 1, { tint: 'T2' })
    expect(cannot()).toEqual([])
  })

  test('a job that is paused is named and not planned', () => {
    const shop = van()
    shop.do('PauseJob', { job: JOB })
    expect(asked(shop)).toMatchObject({ acts: [], paused: [JOB] })
  })

  test('a coat that is being sprayed goes on, and keeps its painter', () => {
    const shop = withPanel(van(), SIDE, STEPS)
    shop.do('MixCup', { cup: 'BASE3W9K', sheet: BASE.sheet, totalMl: 900, job: JOB })
    shop.do('StartCoat', { panels: [DOOR], cup: 'BASE3W9K' })
    shop.at(1)
    const { acts, next } = asked(shop)
    expect(acts[0]).toMatchObject({ panel: DOOR, isRunning: true, toMs: minute(4) })
    expect(next?.act).toMatchObject({ panel: SIDE, fromMs: minute(4) })
    expect(next?.act.isFreshCup).toBeUndefined()
  })

  test('a bake of a van waits for all of its panels, and nothing is sprayed beside it', () => {
    const route = [...STEPS, { stage: 'cure', sheet: CLEAR.sheet }]
    const shop = withPanel(van(route), SIDE, route)
    shop.do('AddPanel', {
      job: JOB,
      panel: 'TSTPNE22',
      name: 'Test',
      operation: 'repair',
      zone: 'oven',
      route: route.slice(2),
    })
    shop.do('StartCure', { panels: ['TSTPNE22'], mode: 'bake', setC: 65 })
    shop.do('ReadPart', { panel: 'TSTPNE22' })
    shop.at(31).do('EndCure', { panels: ['TSTPNE22'] })
    shop.do('PassPanel', { panel: 'TSTPNE22' })
    shop.do('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
    const { acts } = asked(shop)
    const bakes = acts.filter(({ mode }) => mode === 'bake')
    expect(bakes).toHaveLength(2)
    expect(bakes[0]?.fromMs).toBe(bakes[1]?.fromMs)
    const coats = acts.filter(({ kind }) => kind === 'coat')
    expect(Math.max(...coats.map(({ toMs }) => toMs))).toBeLessThan(Number(bakes[0]?.fromMs))
  })
})

describe('what was learned', () => {
  test('moves spraying and looks, and no gate', () => {
    const matte = MATTE_BASE.sheet
    const shop = van([{ stage: 'base', sheet: matte }, STEPS[1] as object], [MATTE_BASE, CLEAR])
    const slow = { [matteKey(matte)]: measured(1.5) }
    const fast = { [matteKey(matte)]: measured(0.7) }
    expect(doneMin(shop, { figures: slow })).toBeGreaterThan(doneMin(shop))
    expect(doneMin(shop, { figures: fast })).toBeLessThan(doneMin(shop))
    // The clear's flash is a gate: whatever was learned, its coats are ten minutes apart at least.
    const clear = asked(shop, { figures: fast }).acts.filter(({ stage }) => stage === 'clear')
    expect(Number(clear[1]?.fromMs) - Number(clear[0]?.toMs)).toBeGreaterThanOrEqual(10 * 60_000)
  })

  test('is read by the plan alone: no rule, gate, deadline or bell imports it', () => {
    const root = fileURLToPath(new URL('../../../machines', import.meta.url))
    const files = readdirSync(root, { recursive: true, encoding: 'utf8' })
    const reads = files.filter(
      (file) =>
        file.endsWith('.ts') &&
        !file.startsWith('plan/') &&
        /from '[^']*plan\/(learn|forecast|schedule)/.test(readFileSync(join(root, file), 'utf8')),
    )
    // Types alone: what GET /api/forecast answers.
    expect(reads).toEqual(['contract/answers.ts'])
  })
})

describe('what cannot be planned says what would make it possible', () => {
  const cannot = (shop: Shop, how: ForecastAsked = {}) => asked(shop, how).cannot[0]

  test('nobody who paints', () => {
    expect(cannot(van(), { whatIf: { painters: 0 } })).toMatchObject({ code: 'noPainter' })
  })

  test('a booth too cold for the sheet, and one too damp for any coat', () => {
    const cold = { whatIf: { warmerC: -8 } }
    expect(cannot(van(), cold)).toMatchObject({ code: 'airOutside', airC: 12, minC: 15 })
    const damp = van(STEPS, [{ ...BASE, limits: {} }, CLEAR])
    damp.do('ReadClimate', { zone: 'booth', airC: 20, rh: 0.84 })
    expect(cannot(damp)).toMatchObject({ code: 'dewPoint', leastC: 3 })
  })

  test('a window shorter than what has to happen in it', () => {
    const short = {
      ...BASE,
      recoatWithin: [{ atC: 20, minutes: 3 }],
      afterWindow: 'abradeAndRecoat',
    }
    expect(cannot(van(STEPS, [short, CLEAR]))).toMatchObject({ code: 'windowShort', windowMin: 3 })
  })

  test('a cup that ends before one panel is sprayed', () => {
    const short = { ...CLEAR, potLife: [{ atC: 20, minutes: 7 }], activators: [] }
    expect(cannot(van(STEPS, [BASE, short]))).toMatchObject({
      code: 'cupShort',
      lastsMin: 7,
      needsMin: 9,
    })
  })

  test('a cure that the sheet does not have', () => {
    const route = [...STEPS, { stage: 'cure', sheet: CLEAR.sheet }]
    expect(cannot(van(route, [BASE, { ...CLEAR, cure: {} }]))).toMatchObject({ code: 'noCure' })
  })
})

describe('tonight or abrade', () => {
  const HOURS = { hours: { opensAt: '07:00', closesAt: '16:00' }, timeZone: 'UTC' }
  /** One coat of base on, of which the next one has to be on within four hours. */
  function late(windowMin: number): Shop {
    const short = { ...BASE, recoatWithin: [{ atC: 20, minutes: windowMin }] }
    const shop = van(STEPS, [short, CLEAR])
    shop.do('ChangeSettings', HOURS)
    shop.at(460).do('MixCup', { cup: 'BASE3W9K', sheet: BASE.sheet, totalMl: 900, job: JOB })
    shop.do('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
    shop.do('StartCoat', { panels: [DOOR], cup: 'BASE3W9K' })
    shop.at(464).do('FinishCoat', { panels: [DOOR] })
    shop.at(477).do('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
    return shop
  }

  test('a window that shuts before the shop opens: spray it now, or abrade in the morning', () => {
    const { tonight, acts } = asked(late(240))
    expect(tonight).toMatchObject([{ panel: DOOR, stage: 'base', shutsAtMs: minute(464 + 240) }])
    // 07:00 of the next day is 1380 min after 08:00.
    expect(acts[0]).toMatchObject({ kind: 'abrade', fromMs: minute(1380) })
  })

  test('a window that is open in the morning asks for nothing', () => {
    const { tonight, acts } = asked(late(1440))
    expect(tonight).toEqual([])
    expect(acts[0]).toMatchObject({ kind: 'coat', fromMs: minute(1380) })
  })
})

describe('what if', () => {
  test('the booth were warmer, another activator were taken, one painter or panel more', () => {
    const slow = { name: 'slow', fromC: 15, toC: 35, flashBetween: [{ atC: 20, minutes: 25 }] }
    const shop = withPanel(van(STEPS, [BASE, { ...CLEAR, activators: [slow] }]), SIDE, STEPS)
    const plain = doneMin(shop)
    expect(doneMin(shop, { whatIf: { warmerC: -4 } })).toBeGreaterThan(plain)
    expect(doneMin(shop, { whatIf: { activators: { [CLEAR.sheet]: 'slow' } } })).toBeGreaterThan(
      plain,
    )
    expect(doneMin(shop, { whatIf: { painters: 2 } })).toBeLessThanOrEqual(plain)
    const four = [3, 4, 5, 6].reduce((all, n) => withPanel(all, `REARSDE${n}`, STEPS), shop.fork())
    const alone = doneMin(four)
    expect(doneMin(four, { whatIf: { painters: 2 } })).toBeLessThan(alone)
    expect(doneMin(shop, { whatIf: { anotherOf: DOOR } })).toBeGreaterThan(plain)
    // Nothing of it stays.
    expect(doneMin(shop)).toBe(plain)
  })
})
