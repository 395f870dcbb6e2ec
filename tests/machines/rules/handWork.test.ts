import { describe, expect, test } from 'vitest'
import {
  around,
  BASE_CUP,
  CLEAR_CUP,
  coat,
  DOOR,
  JOB,
  mix,
  outsideOf,
  panelOf,
  queued,
  refusalOf,
  said,
  shopWith,
  startCoat,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

const override = { reason: 'asked for' }
const MID = { ...BASE, sheet: 'mid-pearl', name: 'Pearl midcoat', stage: 'midcoat' }
const MID_CUP = 'MMMM2222'
const ONE = { least: 1, planned: 1, most: 1 }
const SAND_READY = { ...CLEAR, ready: { sand: 240, tape: 60, polish: 480, handle: 120 } }

function van(kind: string, stages: readonly string[], more: object = {}): Shop {
  const shop = shopWith([BASE, MID, SAND_READY])
  const colours = [{ key: 'body', code: 'S-1', kind }]
  shop.do('OpenJob', { job: JOB, title: 'Delivery van', colours })
  const sheets: Record<string, string> = {
    base: BASE.sheet,
    midcoat: MID.sheet,
    clear: CLEAR.sheet,
  }
  const route = stages.map((stage) => ({
    stage,
    ...(sheets[stage] ? { sheet: sheets[stage], coats: ONE } : {}),
    ...(stage === 'base' || stage === 'midcoat' ? { colour: 'body' } : {}),
  }))
  const panel = { job: JOB, panel: DOOR, name: 'Rear door', operation: 'repair', ...more }
  shop.do('AddPanel', { ...panel, route })
  mix(shop, BASE_CUP, BASE.sheet, { job: JOB, colour: 'body' })
  mix(shop, MID_CUP, MID.sheet, { job: JOB, colour: 'body' })
  return mix(shop, CLEAR_CUP, CLEAR.sheet)
}
const denib = (shop: Shop, min: number, more: object = {}) =>
  shop.at(min).send('DenibPanel', { panel: DOOR, grit: 1500, ...more })

describe('a nib taken out', () => {
  test('reopens no window that is shut', () => {
    const shop = coat(van('solid', ['base', 'clear']), BASE_CUP, 1, 3).at(2_000)
    expect(said(denib(shop, 2_000))).toBe('done')
    mix(shop, 'FFFF2222', CLEAR.sheet)
    expect(said(startCoat('FFFF2222')(shop))).toBe('windowShut')
    shop.do('AbradePanel', { panel: DOOR, grit: 800 })
    expect(said(startCoat('FFFF2222')(shop))).toBe('done')
  })

  test('of an effect base wants base before the clear', () => {
    const shop = coat(van('metallic', ['base', 'clear']), BASE_CUP, 1, 3)
    denib(shop, 20)
    const refusal = refusalOf(startCoat(CLEAR_CUP)(shop.at(21)))
    expect([refusal.code, refusal.overridable]).toEqual(['wantsBase', true])
    expect(refusal.message).toBe('Rear door: Spray base again where it was sanded first.')
    // Free of the most, which is one coat.
    const [start] = shop.do('StartCoat', { panels: [DOOR], cup: BASE_CUP, kind: 'drop' })
    expect(outsideOf(start)).toEqual([])
    shop.at(22).do('FinishCoat', { panels: [DOOR] })
    expect(said(startCoat(CLEAR_CUP)(shop.at(37)))).toBe('done')
    expect(panelOf(shop).coats.map((c) => c.counts)).toEqual([true, false])
  })

  test('of a solid base wants nothing', () => {
    const shop = coat(van('solid', ['base', 'clear']), BASE_CUP, 1, 3)
    denib(shop, 20)
    expect(said(startCoat(CLEAR_CUP)(shop.at(21)))).toBe('done')
  })

  test('of a three-stage pearl wants the midcoat, and through to the ground both', () => {
    const pearl = () => {
      const shop = van('pearl', ['base', 'midcoat', 'clear'])
      return coat(coat(shop, BASE_CUP, 1, 3), MID_CUP, 20, 22)
    }
    const spot = pearl()
    denib(spot, 38)
    expect(refusalOf(startCoat(CLEAR_CUP)(spot.at(38))).message).toContain('midcoat')
    coat(spot, MID_CUP, 38, 40, { kind: 'drop' })
    expect(said(startCoat(CLEAR_CUP)(spot.at(55)))).toBe('done')
    const through = pearl()
    denib(through, 37, { toGround: true })
    expect(refusalOf(startCoat(CLEAR_CUP)(through.at(38))).message).toContain('Spray base')
    expect(refusalOf(startCoat(MID_CUP)(through.at(38))).message).toContain('Spray base')
    coat(through, BASE_CUP, 38, 39, { kind: 'drop' })
    expect(refusalOf(startCoat(CLEAR_CUP)(through.at(54))).message).toContain('Spray midcoat')
    coat(through, MID_CUP, 54, 55, { kind: 'drop' })
    expect(panelOf(through).wants).toEqual([])
  })
})

describe('too early to sand', () => {
  test('a base before its own flash', () => {
    const shop = coat(van('solid', ['base', 'clear']), BASE_CUP, 1, 3)
    const early = (copy: Shop) => copy.send('DenibPanel', { panel: DOOR, grit: 1500 })
    expect(around(shop, 11, early)).toEqual(['sandEarly', 'done'])
    expect(said(denib(shop, 4, { override }))).toBe('done')
  })

  test('another film before its sheet says that it can be sanded', () => {
    const shop = coat(van('solid', ['clear', 'sand', 'polish']), CLEAR_CUP, 1, 3)
    const abrade = (copy: Shop) => copy.send('AbradePanel', { panel: DOOR, grit: 1500 })
    const sand = (copy: Shop) => copy.send('DoPrepStep', { panel: DOOR, step: 1, grit: 1500 })
    expect(around(shop, 243, abrade)).toEqual(['sandEarly', 'done'])
    expect(around(shop, 243, sand)).toEqual(['sandEarly', 'done'])
    const late = shop.fork().at(300)
    expect(outsideOf(queued(late, 4, 'DenibPanel', { panel: DOOR })[0])).toEqual(['sandEarly'])
  })

  test('is not asked of a film that cured in air; after a bake it counts from when the part is cool', () => {
    const cured = (mode: string) => {
      const shop = coat(van('solid', ['clear', 'cure', 'polish']), CLEAR_CUP, 1, 3)
      shop.at(14).do('StartCure', { panels: [DOOR], mode })
      shop.at(20).do('EndCure', { panels: [DOOR] })
      return shop
    }
    expect(said(denib(cured('air'), 20))).toBe('done')
    // Half an hour of cooling, and the sheet's four hours.
    const ask = (copy: Shop) => copy.send('DenibPanel', { panel: DOOR, grit: 1500 })
    expect(around(cured('bake'), 20 + 30 + 240, ask)).toEqual(['sandEarly', 'done'])
  })
})

describe('work on a film that is not ready for it', () => {
  test.each([
    ['polish', 483, (s: Shop) => s.send('PolishPanel', { panel: DOOR })],
    ['tape', 63, (s: Shop) => s.send('DoPrepStep', { panel: DOOR, step: 1, work: 'mask' })],
    ['handle', 123, (s: Shop) => s.send('MovePanel', { panel: DOOR, zone: 'bay-2' })],
  ] as const)('to %s is refused until minute %d', (what, min, ask) => {
    const route = what === 'polish' ? ['clear', 'polish'] : ['clear', 'prep', 'polish']
    const shop = coat(van('solid', route), CLEAR_CUP, 1, 3)
    expect(around(shop, min, ask)).toEqual(['notReady', 'done'])
    expect(refusalOf(ask(shop.fork().at(4))).message).toContain(`Not ready to ${what} yet`)
  })
})

describe('a cleaner', () => {
  test.each([
    ['steel', 5],
    ['plastic', 10],
  ])('on %s wants %d minutes', (substrate, minutes) => {
    const shop = van('solid', ['prep', 'base', 'clear'], { substrate })
    shop.at(2).do('DoPrepStep', { panel: DOOR, step: 0, work: 'degrease' })
    expect(around(shop, 2 + minutes, startCoat(BASE_CUP))).toEqual(['cleanerWet', 'done'])
    const [start] = shop.at(3).do('StartCoat', { panels: [DOOR], cup: BASE_CUP, override })
    expect(start?.override?.codes).toEqual(['cleanerWet'])
  })
})
