import * as v from 'valibot'
import { describe, expect, test } from 'vitest'
import { lifeOf, neededMl, panelsFor } from '../../kiosk/bench/amount.ts'
import {
  afterChange,
  draftSchema,
  filled,
  lotsOf,
  NEW_DRAFT,
  partName,
  settled,
  shownOf,
} from '../../kiosk/bench/draft.ts'
import { NONE } from '../../kiosk/bench/options.ts'
import { proposalOf } from '../../kiosk/lanes/activatorProposal.ts'
import { currentSheets } from '../../machines/plan/route.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { minute, Shop } from '../support/shop.ts'

const JOB = 'VANREAR2'
const QUARTER = 'REARQTR2'
const DOOR = 'SDEDR222'

function vanShop(clear: object = CLEAR): Shop {
  const shop = new Shop()
  shop.do('SaveSheet', { sheet: clear })
  shop.do('SaveSheet', { sheet: BASE })
  shop.do('ReadClimate', { zone: 'bench', airC: 20, rh: 0.5 })
  shop.do('OpenJob', {
    job: JOB,
    title: 'Delivery van',
    colours: [{ key: 'silver', code: 'S-1 silver' }],
  })
  const route = [
    { stage: 'base', sheet: BASE.sheet, colour: 'silver' },
    { stage: 'clear', sheet: CLEAR.sheet },
  ]
  const panel = { job: JOB, operation: 'repair', route }
  shop.do('AddPanel', { ...panel, panel: QUARTER, name: 'Rear quarter', areaM2: 1.2 })
  shop.do('AddPanel', { ...panel, panel: DOOR, name: 'Sliding door' })
  return shop
}

const sheetsOf = (shop: Shop) => currentSheets(shop.state) as [Sheet, ...Sheet[]]
const clearOf = (shop: Shop) => sheetsOf(shop).find((s) => s.sheet === CLEAR.sheet) as Sheet
const fill = (shop: Shop, draft: Partial<typeof NEW_DRAFT> = {}) =>
  filled(shop.state, { ...NEW_DRAFT, ...draft }, sheetsOf(shop), shop.now)

describe('what is left open is proposed', () => {
  test('the activator for the warmest hour, and whether it is slow now', () => {
    const { activators } = clearOf(vanShop())
    expect(proposalOf(activators, 20, 22)).toMatchObject({
      option: { name: 'standard' },
      suitsNow: true,
    })
    expect(proposalOf(activators, 20, 30)).toMatchObject({
      option: { name: 'slow' },
      suitsNow: false,
    })
    expect(proposalOf(activators, 20, 40).option).toBeNull()
  })

  test('by the bench’s own reading; without another figure the warmest hour is now', () => {
    const shop = vanShop()
    expect(fill(shop)).toMatchObject({ warmestC: 20, activator: { picked: 'standard' } })
    expect(fill(shop, { warmestC: 30 }).activator.picked).toBe('slow')
    expect(fill(shop, { warmestC: 30, activator: 'standard' }).activator.picked).toBe('standard')
    expect(fill(shop).isAirOld).toBe(false)
    shop.at(31)
    expect(fill(shop).isAirOld).toBe(true)
  })

  test('without any reading by the warmest hour alone', () => {
    const shop = new Shop()
    shop.do('SaveSheet', { sheet: CLEAR })
    expect(fill(shop)).toMatchObject({ air: null, warmestC: 20 })
    expect(fill(shop, { warmestC: 31 }).activator.picked).toBe('slow')
  })

  test('the job’s only color for the base, and none for a clear', () => {
    const shop = vanShop()
    expect(fill(shop, { sheet: BASE.sheet, job: JOB }).colour).toBe('silver')
    expect(fill(shop, { sheet: CLEAR.sheet, job: JOB }).colour).toBe('')
  })

  test('a closed job, a retired sheet and a color of another job are dropped from the draft', () => {
    const shop = vanShop()
    const draft = { sheet: 'gone', job: 'NXTRNE22', colour: 'red' }
    expect(fill(shop, draft)).toMatchObject({ job: '', colour: '', sheet: { sheet: CLEAR.sheet } })
  })

  test('the first pour settles it: warmer air, another coat, a new edition or a retired sheet change nothing', () => {
    const shop = vanShop()
    const pours = [{ part: 0, g: 140, at: shop.now }]
    const draft = { ...NEW_DRAFT, sheet: CLEAR.sheet, job: JOB, pours }
    const first = filled(shop.state, { ...draft, pours: [] }, sheetsOf(shop), shop.now)
    const begun = { ...draft, ...settled(first) }
    expect(first).toMatchObject({ activator: { picked: 'standard' }, mix: { totalMl: 210 } })

    shop.at(1).do('ReadClimate', { zone: 'bench', airC: 30, rh: 0.5 })
    shop.do('RemovePanel', { panel: QUARTER })
    const components = [{ name: 'another clear', role: 'base', parts: 1, densityGPerMl: 1 }]
    shop.do('SaveSheet', { sheet: { ...CLEAR, components } })
    const later = filled(shop.state, begun, sheetsOf(shop), shop.now)
    expect(later).toMatchObject({ activator: { picked: 'standard' }, mix: { totalMl: 210 } })
    expect(later.mix.sheet.components).toEqual(first.mix.sheet.components)

    shop.at(2).do('RetireSheet', { sheet: CLEAR.sheet })
    expect(filled(shop.state, begun, sheetsOf(shop), shop.now).sheet).toEqual(first.sheet)
  })

  test('a component goes by the activator that was chosen for it', () => {
    const it = fill(vanShop())
    expect(partName(it, 0)).toBe('clear')
    expect(partName(it, 1)).toBe('activator (standard)')
  })

  test('lots are said for the components that have one', () => {
    expect(lotsOf(clearOf(vanShop()), { clear: ' A17 ', activator: ' ' })).toEqual([
      { name: 'clear', lot: 'A17' },
    ])
  })
})

describe('what is typed and chosen', () => {
  const shop = vanShop()
  const change = (draft: Partial<typeof NEW_DRAFT>, to: object) => {
    const own = { ...NEW_DRAFT, ...draft }
    const shown = shownOf(own, fill(shop, own))
    return afterChange(own, shown, { ...shown, ...to })
  }

  test('leaves what is proposed open, and text that means no number counts as nothing', () => {
    expect(change({}, { coats: 3 })).toEqual({ ...NEW_DRAFT, isOpen: false, coats: 3 })
    expect(change({ coats: 3 }, { coats: 'three' }).coats).toBe('three')
    expect(fill(shop, { coats: 'three' }).coats).toBe(fill(shop).coats)
  })

  test('for one product, job or choice of panels does not hold for another', () => {
    const typed = { sheet: CLEAR.sheet, job: JOB, areaM2: 2, solids: 0.5, totalMl: 400, cupMl: 650 }
    expect(change(typed, { sheet: BASE.sheet })).toEqual({
      ...NEW_DRAFT,
      isOpen: false,
      ...{ sheet: BASE.sheet, job: JOB, cupMl: 650 },
    })
    expect(change(typed, { job: '' })).toEqual({
      ...NEW_DRAFT,
      isOpen: false,
      ...typed,
      job: '',
      areaM2: '',
    })
    expect(change(typed, { panels: [DOOR] })).toMatchObject({ panels: [DOOR], areaM2: '' })
    const first = { ...typed, firstMl: 120 }
    expect(change(first, { cupMl: 400 })).toMatchObject({ firstMl: 120, totalMl: 400, cupMl: 400 })
    expect(change(first, { totalMl: 300 })).toMatchObject({ firstMl: '', totalMl: 300 })
  })

  test('a draft that an older page kept is read: null was as proposed', () => {
    const old = { sheet: CLEAR.sheet, activator: null, panels: null, areaM2: null, totalMl: 250 }
    expect(v.parse(draftSchema, old)).toEqual({ ...NEW_DRAFT, sheet: CLEAR.sheet, totalMl: 250 })
  })

  test('outside every range nothing is chosen until somebody says what goes in', () => {
    const asked = { picked: '', isAsked: true }
    for (const warmestC of [12, 37]) {
      const cold = vanShop()
      cold.do('ReadClimate', { zone: 'bench', airC: 12, rh: 0.5 })
      expect(fill(cold, { warmestC }).activator).toMatchObject(asked)
      const it = fill(cold, { warmestC, activator: 'slow' })
      expect(it.activator).toMatchObject({ picked: 'slow', isAsked: false })
    }
    // The first pour does not answer it, and leaves out none that was chosen.
    const hot = fill(shop, { warmestC: 37 })
    const pours = [{ part: 0, g: 140, at: shop.now }]
    expect(fill(shop, { ...settled(hot), pours }).activator).toMatchObject(asked)
    const none = fill(shop, { warmestC: 37, activator: NONE })
    expect(fill(shop, { ...settled(none), pours }).activator).toMatchObject({
      picked: '',
      isAsked: false,
    })
    expect(fill(shop).activator.isAsked).toBe(false)
    expect(fill(shop, { sheet: BASE.sheet }).activator.isAsked).toBe(false)
  })

  test('none of the activators is a choice of its own, and what was poured without one stays so', () => {
    expect(fill(shop, { activator: NONE }).activator.picked).toBe('')
    const pours = [{ part: 0, g: 140, at: shop.now }]
    expect(fill(shop, { activator: '', pours }).activator.picked).toBe('')
  })
})

describe('how much', () => {
  test('the panels that still need the product, with their missing coats', () => {
    const shop = vanShop()
    const clear = clearOf(shop)
    expect(panelsFor(shop.state, JOB, clear, '')).toEqual([
      { id: QUARTER, job: JOB, name: 'Rear quarter', areaM2: 1.2, coatsLeft: 2 },
      { id: DOOR, job: JOB, name: 'Sliding door', areaM2: null, coatsLeft: 2 },
    ])
    shop.do('MixCup', { cup: 'BASEM2XV', sheet: BASE.sheet, totalMl: 300 })
    shop.at(1).do('FinishCoat', { panels: [QUARTER], cup: 'BASEM2XV' })
    const base = sheetsOf(shop).find((s) => s.sheet === BASE.sheet) as Sheet
    expect(panelsFor(shop.state, JOB, base, 'silver')[0]?.coatsLeft).toBe(1)
    shop.do('RemovePanel', { panel: DOOR })
    expect(panelsFor(shop.state, JOB, clear, '').map((p) => p.id)).toEqual([QUARTER])
  })

  // Volume balance: m² × coats × µm / (solids × transfer), here rounded up to 10 mL.
  test('millilitres for the panels chosen, by film, solids and transfer', () => {
    const need = { areaM2: 1.2, coats: 2, dryUmPerCoat: 25, solids: 0.45, transfer: 0.65 }
    expect(neededMl(need)).toBe(210)
    expect(neededMl({ ...need, dryUmPerCoat: null })).toBeNull()
    expect(neededMl({ ...need, areaM2: 0 })).toBeNull()
    const shop = vanShop()
    expect(fill(shop, { job: JOB })).toMatchObject({ neededMl: 210, mix: { totalMl: 210 } })
    expect(fill(shop, { job: JOB, areaM2: 2.4 }).neededMl).toBe(420)
    expect(fill(shop, { job: JOB, panels: [DOOR] })).toMatchObject({
      areaM2: null,
      neededMl: null,
      mix: { totalMl: 300 },
    })
    expect(fill(shop, { job: JOB, totalMl: 500 }).mix.totalMl).toBe(500)
  })
})

describe('of several cups the first one alone', () => {
  const long = { job: JOB, panels: [QUARTER], coats: 20 }

  test('is its share of the whole, and the plan stays that of the whole', () => {
    const shop = vanShop()
    const all = fill(shop, long)
    const { life, wholeMl } = all
    if (life.kind !== 'several') throw new Error(life.kind)
    const firstMl = Math.ceil((life.cups[0]?.share ?? 0) * wholeMl)
    expect(firstMl).toBeLessThan(wholeMl)
    const first = fill(shop, { ...long, firstMl })
    expect(first).toMatchObject({ wholeMl, life, mix: { totalMl: firstMl } })
    // Once it is poured the plan still is of the whole.
    expect(fill(shop, { ...long, firstMl, ...settled(first) })).toMatchObject({
      wholeMl,
      mix: { totalMl: firstMl },
    })
  })

  test('a pot life is calculated in the warmer of now and the warmest hour, and the screen says so', () => {
    expect(fill(vanShop(), { warmestC: 15 })).toMatchObject({ warmestC: 15, potC: 20 })
    expect(fill(vanShop(), { warmestC: 28 }).potC).toBe(28)
  })
})

describe('whether the cup lasts for its coats', () => {
  const shop = vanShop()
  const input = {
    sheet: clearOf(shop),
    activator: 'standard',
    additives: [],
    reducer: '',
    coats: 2,
    panels: 2,
    areaM2: 3,
    sprayMinPerM2: 2,
    air: { at: minute(0), airC: 20, rh: 0.5 },
    warmestC: 20,
  }

  test('one cup is enough for two coats with ten minutes of flash and an hour of pot life', () => {
    // 2 panels of 3 min: coat 1 ends at 3, 6; coat 2 may start at 13 and 16.
    expect(lifeOf(input)).toMatchObject({ kind: 'enough', lastCoatAtMin: 16, livesMin: 60 })
  })

  test('several are mixed one after the other when it does not, each with its share', () => {
    const life = lifeOf({ ...input, coats: 8 })
    expect(life.kind).toBe('several')
    if (life.kind !== 'several') return
    expect(life.cups[0]?.mixAtMin).toBe(0)
    expect(life.cups.reduce((sum, cup) => sum + cup.share, 0)).toBeCloseTo(1, 9)
  })

  test('pot life goes by the warmest hour and flash by the air of now: both towards caution', () => {
    // One point, a factor 2 per 10 °C: 30 min at 30 °C; the flash stays that of 20 °C.
    expect(lifeOf({ ...input, warmestC: 30 })).toMatchObject({ lastCoatAtMin: 16, livesMin: 30 })
  })

  test('the chosen activator’s own pot life counts', () => {
    expect(lifeOf({ ...input, activator: 'slow' })).toMatchObject({ livesMin: 90 })
  })

  test('what cannot be planned is said: no pot life, a panel too large, air too damp', () => {
    expect(lifeOf({ ...input, sheet: { ...input.sheet, potLife: null } }).kind).toBe('endless')
    expect(lifeOf({ ...input, areaM2: 90 }).kind).toBe('tooLong')
    const damp = { at: minute(0), airC: 20, rh: 0.96 }
    const water: Sheet = { ...input.sheet, medium: 'waterborne' }
    expect(lifeOf({ ...input, sheet: water, air: damp }).kind).toBe('noFlash')
    expect(lifeOf({ ...input, coats: 0 }).kind).toBe('unknown')
  })
})
