import { describe, expect, test } from 'vitest'
import { boothTimers } from '../../kiosk/booth/boothView.ts'
import { ARM_WITHIN_MS, armUntil, nextOf, readArmed, retimed } from '../../kiosk/lanes/armed.ts'
import { type Lane, lanesOf } from '../../kiosk/lanes/lanes.ts'
import { nextLine, nextUp } from '../../kiosk/lanes/nextUp.ts'
import { allActsOf, passActs, startsNext, wantsCup } from '../../kiosk/lanes/pass.ts'
import { en } from '../../kiosk/words/all.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { MINUTE, minute, Shop } from '../support/shop.ts'

const JOB = 'VANREAR2'
const CUP = 'K7QDM2XV'
const BASE_CUP = 'M2XVK7QD'
const DOOR = 'SDEDR222'
const QUARTER = 'REARQTR2'
const ROUTE = [
  { stage: 'base', sheet: BASE.sheet },
  { stage: 'clear', sheet: CLEAR.sheet },
  { stage: 'cure', sheet: CLEAR.sheet },
]

function van(route: readonly object[] = ROUTE): Shop {
  const shop = new Shop()
  for (const sheet of [CLEAR, BASE]) shop.do('SaveSheet', { sheet })
  shop.do('OpenJob', { job: JOB, title: 'Delivery van' })
  for (const [panel, name] of [
    [DOOR, 'Sliding door'],
    [QUARTER, 'Rear quarter'],
  ])
    shop.do('AddPanel', { job: JOB, panel, name, operation: 'repair', areaM2: 1, route })
  shop.do('MixCup', { cup: BASE_CUP, sheet: BASE.sheet, totalMl: 500 })
  shop.do('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 500 })
  return shop
}
const lanes = (shop: Shop, min: number, ...panels: string[]): Lane[] => {
  const all = lanesOf(shop.state, minute(min))
  return panels.length === 0
    ? all
    : panels.map((panel) => all.find((l) => l.panel === panel) as Lane)
}

describe('a pass: several lanes at once', () => {
  const acts = (shop: Shop, min: number, ...panels: string[]) =>
    passActs(shop.state, lanes(shop, min, ...panels), en, minute(min))

  test('starts and finishes all of its panels with one command, in the order chosen', () => {
    const shop = van()
    const start = acts(shop, 0, QUARTER, DOOR).find((a) => a.type === 'StartCoat' && a.isMain)
    expect(start?.datas).toEqual([{ panels: [QUARTER, DOOR], cup: BASE_CUP }])
    shop.do('StartCoat', start?.datas[0])
    const finish = acts(shop.at(6), 6, QUARTER, DOOR).find((a) => a.isMain)
    expect(finish).toMatchObject({ type: 'FinishCoat', datas: [{ panels: [QUARTER, DOOR] }] })
    shop.do('FinishCoat', finish?.datas[0])
    const ends = lanes(shop, 6, QUARTER, DOOR).map((l) => l.band?.from)
    // The last of the pass ends it; the one before by its spraying time of 2 min earlier.
    expect(ends).toEqual([minute(4), minute(6)])
  })

  test('offers nothing that only one of its panels could take', () => {
    const shop = van()
    shop.do('StartCoat', { panels: [DOOR], cup: BASE_CUP })
    expect(acts(shop, 1, QUARTER, DOOR)).toEqual([])
  })

  test('sends one command for each panel where the command knows only one', () => {
    const shop = van([{ stage: 'prep' }, ...ROUTE])
    const done = acts(shop, 0, QUARTER, DOOR).find((a) => a.type === 'DoPrepStep')
    expect(done?.datas).toEqual([
      { panel: QUARTER, step: 0 },
      { panel: DOOR, step: 0 },
    ])
  })

  test('a cup has still to be mixed where only one more of the step before could be sprayed', () => {
    const shop = van()
    shop.do('EmptyCup', { cup: CUP, how: 'discarded' })
    shop.do('FinishCoat', { panels: [DOOR], cup: BASE_CUP })
    shop.at(15).do('FinishCoat', { panels: [DOOR], cup: BASE_CUP })
    const offered = acts(shop, 60, DOOR)
    const starts = offered.filter((a) => a.type === 'StartCoat')
    expect(starts[0]?.datas[0]).toMatchObject({ step: 0 })
    // It may go on at once, and is not held back until the clear may.
    expect(starts.some(startsNext(lanes(shop, 60, DOOR)))).toBe(false)
    expect(wantsCup(lanes(shop, 60, DOOR), offered)).toBe(true)
  })

  test('no cup has to be mixed for two panels that wait for different products', () => {
    const shop = van()
    shop.do('FinishCoat', { panels: [DOOR], cup: BASE_CUP })
    shop.at(15).do('FinishCoat', { panels: [DOOR], cup: BASE_CUP })
    const both = lanes(shop, 60, DOOR, QUARTER)
    expect(both.map((lane) => lane.stage)).toEqual(['clear', 'base'])
    expect(wantsCup(both, acts(shop, 60, DOOR, QUARTER))).toBe(false)
    expect(wantsCup(lanes(shop, 60, QUARTER), acts(shop, 60, QUARTER))).toBe(false)
  })

  test('every action of a pass is accepted unchanged', () => {
    const shop = van()
    let count = 0
    for (const min of [0, 4, 15, 20, 40]) {
      shop.at(min)
      for (const act of acts(shop, min, QUARTER, DOOR)) {
        const copy = shop.fork()
        const at = act.agoMin ? { at: minute(min - act.agoMin), enteredAt: minute(min) } : {}
        for (const data of act.datas) copy.do(act.type, data, at)
        count += 1
      }
      const main = acts(shop, min, QUARTER, DOOR).find((a) => a.isMain)
      for (const data of main?.datas ?? []) shop.do(main?.type ?? '', data)
    }
    expect(count).toBeGreaterThan(30)
  })
})

describe('what else a lane offers', () => {
  const keys = (shop: Shop, min: number) =>
    allActsOf(shop.state, lanes(shop, min, DOOR)[0] as Lane, en, minute(min)).map((a) => a.key)

  test('"finished n minutes ago", one touch each, never from before the start', () => {
    const shop = van()
    shop.do('StartCoat', { panels: [DOOR], cup: BASE_CUP })
    expect(keys(shop, 0.5).filter((k) => k.startsWith('ago'))).toEqual([])
    expect(keys(shop, 4).filter((k) => k.startsWith('ago'))).toEqual(['ago-1', 'ago-2', 'ago-3'])
    expect(keys(shop, 20).filter((k) => k.startsWith('ago'))).toHaveLength(5)
  })

  test('"never pressed start", other kinds of coat, and what was seen', () => {
    const shop = van()
    expect(keys(shop, 0)).toEqual(
      expect.arrayContaining(['alone', 'kind-light', 'kind-drop', 'kind-blend']),
    )
    expect(keys(shop, 0)).not.toContain('see-run')
    shop.do('FinishCoat', { panels: [DOOR], cup: BASE_CUP })
    expect(keys(shop, 1)).toContain('see-run')
  })
})

const LABELED = { panels: [DOOR], label: 'START', untilMs: minute(8) }
describe('a start got ready before flash is over', () => {
  const flashing = () => van().at(0)
  test('may be got ready within the last two minutes, and not before that', () => {
    const shop = flashing()
    shop.do('FinishCoat', { panels: [DOOR], cup: BASE_CUP })
    // Base flashes 8 min at 20 °C.
    expect(armUntil(lanes(shop, 5.9, DOOR), minute(5.9))).toBeNull()
    expect(armUntil(lanes(shop, 6, DOOR), minute(6))).toBe(minute(8))
    expect(armUntil(lanes(shop, 8, DOOR), minute(8))).toBeNull()
    expect(ARM_WITHIN_MS).toBe(2 * MINUTE)
  })

  test('of a pass waits for the last of its panels', () => {
    const shop = flashing()
    shop.do('FinishCoat', { panels: [DOOR], cup: BASE_CUP })
    shop.at(1).do('FinishCoat', { panels: [QUARTER], cup: BASE_CUP })
    expect(armUntil(lanes(shop, 8.5, DOOR, QUARTER), minute(8.5))).toBe(minute(9))
  })

  test('is due when flash is over, also when colder air makes it later; it is over when the coat runs', () => {
    const shop = flashing()
    shop.do('FinishCoat', { panels: [DOOR], cup: BASE_CUP })
    const start = { ...LABELED, data: { panels: [DOOR], cup: BASE_CUP } }
    expect(nextOf(shop.state, start, minute(7))).toMatchObject({ kind: 'waits' })
    expect(nextOf(shop.state, start, minute(8) + 500)).toEqual({ kind: 'due' })
    // Nobody confirms it for a minute.
    expect(nextOf(shop.state, start, minute(9) + 499)).toEqual({ kind: 'due' })
    expect(nextOf(shop.state, start, minute(9) + 500)).toEqual({ kind: 'forgotten' })
    shop.at(7).do('ReadClimate', { zone: 'booth', airC: 10, rh: 0.5 })
    // At 10 °C flash takes twice as long, and a first reading holds back to the start.
    expect(nextOf(shop.state, start, minute(9))).toMatchObject({
      kind: 'waits',
      untilMs: minute(16) + 500,
    })
    // What is said beside the lane, and kept through a reload, is the same moment.
    expect(retimed(shop.state, start, minute(9))).toEqual({ ...start, untilMs: minute(16) })
    expect(retimed(shop.state, { ...start, untilMs: minute(16) }, minute(10)).untilMs).toBe(
      minute(16),
    )
    shop.at(17).do('StartCoat', { panels: [DOOR], cup: BASE_CUP, override: { reason: 'CLIMATE' } })
    expect(nextOf(shop.state, start, minute(17))).toEqual({ kind: 'over' })
    expect(nextOf(shop.state, { ...start, panels: ['GANE2222'] }, minute(17))).toEqual({
      kind: 'over',
    })
  })

  test('is kept through a reload', () => {
    const start = { ...LABELED, data: { panels: [DOOR], cup: CUP } }
    const text = JSON.stringify([start])
    expect(readArmed(text)).toEqual([start])
    expect(readArmed(JSON.stringify([{ ...start, data: {} }]))).toEqual([])
    for (const broken of [null, '', '{', '[1]', '{"a":1}']) expect(readArmed(broken)).toEqual([])
  })
})

describe('what comes next', () => {
  test('is in order of time across jobs; a coat is named, an end is listed once', () => {
    const shop = van()
    shop.do('FinishCoat', { panels: [DOOR], cup: BASE_CUP })
    shop.at(1).do('FinishCoat', { panels: [QUARTER], cup: BASE_CUP })
    const up = nextUp(shop.state, minute(2))
    expect(up.map((d) => nextLine(shop.state, d, en))).toEqual([
      'Sliding door, base 2',
      'Rear quarter, base 2',
      'Cup K7QD: pot life ends',
    ])
    expect(up.map((d) => d.dueAt)).toEqual(up.map((d) => d.dueAt).toSorted((a, b) => a - b))
  })
})

describe('the Booth view', () => {
  const titles = (shop: Shop, min: number, job?: string) =>
    boothTimers(shop.state, en, minute(min), job).map((t) => `${t.title}: ${t.chip.big}`)

  test('shows one or two timers: what rings first, then what is due soonest', () => {
    const shop = van()
    shop.do('FinishCoat', { panels: [DOOR], cup: BASE_CUP })
    shop.at(3).do('FinishCoat', { panels: [QUARTER], cup: BASE_CUP })
    expect(titles(shop, 4)).toEqual(['Sliding door: 4:00', 'Rear quarter: 7:00'])
    expect(titles(shop, 12)).toHaveLength(2)
    expect(titles(shop, 4, 'ANTHER22')).toEqual([])
  })

  test('shows a cup that ends sooner than anything else, however many panels there are', () => {
    const shop = van()
    shop.do('FinishCoat', { panels: [DOOR], cup: BASE_CUP })
    shop.do('FinishCoat', { panels: [QUARTER], cup: BASE_CUP })
    expect(titles(shop, 59)[0]).toBe('Cup K7QD: 1 min')
    expect(titles(shop, 62)[0]).toBe('Cup K7QD: +2 min')
  })

  test('shows a cup beside a lone panel', () => {
    const shop = new Shop()
    shop.do('SaveSheet', { sheet: CLEAR })
    shop.do('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 100 })
    expect(titles(shop, 10)).toEqual(['Cup K7QD: 50 min'])
    expect(boothTimers(shop.state, en, minute(61))[0]?.chip).toMatchObject({
      big: '+1 min',
      sound: 'B2',
    })
  })
})
