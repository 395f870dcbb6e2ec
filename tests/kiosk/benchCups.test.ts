import { describe, expect, test } from 'vitest'
import {
  additionsFor,
  handCopyOf,
  leftMl,
  oneOfEachRole,
  type PourPlan,
  partnersOf,
  pourData,
  previewCup,
  proposedIn,
  sheetOfCup,
  tintFor,
  withoutGone,
} from '../../kiosk/bench/cups.ts'
import { gunLines } from '../../kiosk/lanes/gunLines.ts'
import { parseCommand } from '../../machines/contract.ts'
import { cupEndsAt } from '../../machines/cup/ends.ts'
import { currentSheets } from '../../machines/plan/route.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { MINUTE, minute, Shop } from '../support/shop.ts'
import { madeContext } from '../support/things.ts'

const CUP = 'K7QDM2XV'
const OTHER = 'M3TDM2XV'
const NEW = 'NEWDM2XV'

function cupShop(): Shop {
  const shop = new Shop()
  shop.do('SaveSheet', { sheet: CLEAR })
  shop.do('SaveSheet', { sheet: BASE })
  shop.do('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 300, activator: 'standard' })
  shop.do('PrintLabel', { cup: CUP })
  shop.at(10).do('MixCup', { cup: OTHER, sheet: CLEAR.sheet, totalMl: 200 })
  shop.do('MixCup', { cup: 'BASEM2XV', sheet: BASE.sheet, totalMl: 300 })
  return shop
}
const cup = (shop: Shop, id: string) => madeContext(shop.state, 'cup', id)

describe('pouring', () => {
  test('only cups of the same product and color are offered', () => {
    const shop = cupShop()
    expect(partnersOf(shop.state, CUP, cup(shop, CUP), shop.now).map((v) => v.id)).toEqual([OTHER])
  })

  test('the new cup is shown before it is poured: it ends with its earliest parent', () => {
    const shop = cupShop()
    const data = pourData(NEW, { from: [{ cup: CUP }, { cup: OTHER, ml: 50 }] })
    expect(data).toEqual({ cup: NEW, from: [{ cup: CUP }, { cup: OTHER, ml: 50 }] })
    const shown = previewCup(shop.state, 'PourCup', data, shop.now)
    if (shown.kind !== 'cup') throw new Error(shown.kind)
    shop.do('PourCup', data)
    expect(shown.cup.totalMl).toBe(350)
    expect(cupEndsAt(shop.state, shown.cup)).toBe(minute(60))
    expect(cupEndsAt(shop.state, cup(shop, NEW))).toBe(minute(60))
    expect(leftMl(cup(shop, OTHER))).toBe(150)
  })

  test('what the server would refuse is refused in the preview as well', () => {
    const shop = cupShop()
    const mixed = pourData(NEW, { from: [{ cup: CUP }, { cup: 'BASEM2XV' }] })
    expect(previewCup(shop.state, 'PourCup', mixed, shop.now)).toMatchObject({
      kind: 'refused',
      refusal: { code: 'wrongProduct' },
    })
    const none = pourData(NEW, { from: [] })
    expect(previewCup(shop.state, 'PourCup', none, shop.now)).toEqual({ kind: 'wrong' })
  })

  test('activator and reducer are offered as the sheet names them, the activator by its ratio', () => {
    const shop = cupShop()
    const [clear, base] = currentSheets(shop.state)
    const cups = new Map([['BASEM2XV', cup(shop, 'BASEM2XV')]])
    const plain = [{ cup: 'BASEM2XV', ml: 200 }]
    // 2:1: half of what the base takes.
    expect(additionsFor(clear, plain, cups)).toEqual([
      { role: 'activator', name: 'standard', ml: 100 },
      { role: 'activator', name: 'slow', ml: 100 },
    ])
    // It was mixed with its reducer: nobody but the painter knows how much more is wanted.
    expect(additionsFor(base, plain, cups)).toEqual([
      { role: 'reducer', name: 'reducer', ml: null },
    ])
    const byMass = clear && { ...clear, by: 'mass' as const }
    expect(additionsFor(byMass, plain, cups)[0]?.ml).toBeNull()
    expect(additionsFor(undefined, plain, cups)).toEqual([])
  })

  test('the amount goes with what is poured together, but for what is activated already', () => {
    const shop = cupShop()
    const [clear] = currentSheets(shop.state)
    const base = cup(shop, 'BASEM2XV')
    const cups = new Map([
      ['BASEM2XV', base],
      ['BASE2222', base],
      [CUP, cup(shop, CUP)],
    ])
    const plain = { cup: 'BASEM2XV', ml: 200 }
    const other = { cup: 'BASE2222', ml: 200 }
    const active = { cup: CUP }
    const given = (...from: PourPlan['from']) => additionsFor(clear, from, cups)
    expect([
      given(plain)[0]?.ml,
      given(plain, other)[0]?.ml,
      given(plain, active)[0]?.ml,
      given(active)[0]?.ml,
      // Without an amount all of it is poured.
      given({ cup: 'BASEM2XV' })[0]?.ml,
    ]).toEqual([100, 200, 100, null, 150])
    const add = [{ role: 'activator', name: 'standard' }]
    const both = { from: [plain, other], add }
    expect(pourData(NEW, both, given(plain, other)).add).toEqual([{ ...add[0], ml: 200 }])
    expect(proposedIn(both, given(plain, other), cups)).toEqual({
      'from.0.ml': 300,
      'from.1.ml': 300,
      'add.0.ml': 200,
    })
    // What was typed stays as it was typed; what nobody has said is refused with a sentence.
    const own = { from: [plain], add: [{ role: 'activator', name: 'standard', ml: 30 }] }
    expect(pourData(NEW, own, given(plain)).add?.[0]?.ml).toBe(30)
    const unsaid = parseCommand({
      id: 'c1',
      type: 'PourCup',
      data: pourData(NEW, { from: [active], add }, given(active)),
    })
    if (unsaid.ok) throw new Error('it was taken')
    expect(unsaid.error.field).toBe('data.add.0.ml')
    // Missing, and not a zero that nobody typed.
    expect(unsaid.error.params).not.toHaveProperty('given')
  })

  test('an activator that is chosen replaces the other; a cup that is gone leaves the form', () => {
    const shop = cupShop()
    const [clear] = currentSheets(shop.state)
    const cups = new Map([[CUP, cup(shop, CUP)]])
    const row = (name: string, role: string) => ({ name, role, ml: '' })
    const from = [{ cup: CUP, ml: '' }]
    const draft = { from, add: [row('standard', 'activator'), row('slow', '')] }
    expect(oneOfEachRole(draft, additionsFor(clear, from, cups))).toEqual({
      from,
      add: [row('slow', 'activator')],
    })
    const two = { ...draft, from: [...from, { cup: OTHER, ml: 50 }] }
    expect(withoutGone(two, cups)).toEqual(draft)
    expect(withoutGone(draft, cups)).toBe(draft)
  })

  test('a stored base that is activated gets a clock of its own', () => {
    const shop = new Shop()
    const stored = {
      ...CLEAR,
      sheet: 'base-2k',
      potLife: null,
      keepDays: 30,
      activators: [{ name: 'hardener', fromC: 10, toC: 35, potLife: [{ atC: 20, minutes: 45 }] }],
    }
    shop.do('SaveSheet', { sheet: stored })
    shop.do('MixCup', { cup: CUP, sheet: 'base-2k', totalMl: 200 })
    shop.at(30)
    const add = [{ role: 'activator', name: 'hardener', ml: 20 }]
    const data = pourData(NEW, { from: [{ cup: CUP }], add })
    const shown = previewCup(shop.state, 'PourCup', data, shop.now)
    if (shown.kind !== 'cup') throw new Error(shown.kind)
    expect(cupEndsAt(shop.state, shown.cup)).toBe(minute(75))
  })
})

describe('what is written on a cup by hand', () => {
  test('id, use-by, ratio and hazards as the label has them; a reprint changes no time', () => {
    const shop = cupShop()
    const first = handCopyOf(shop.state, CUP, cup(shop, CUP), 'MORE')
    expect(first).toMatchObject({
      id: CUP,
      ratio: '2:1',
      by: 'volume',
      useByMs: minute(60),
      copies: 0,
      hazards: { isocyanate: true },
    })
    shop.at(20).do('PrintLabel', { cup: CUP })
    const second = handCopyOf(shop.state, CUP, cup(shop, CUP), 'MORE')
    expect(second).toEqual({ ...first, copies: 1 })
  })

  test('a mix that was poured off its ratio has the ratio as mixed', () => {
    const shop = cupShop()
    const poured = { totalMl: 427, pouredG: [200, 238] }
    shop.do('MixCup', { cup: 'RATQ2345', sheet: CLEAR.sheet, activator: 'standard', ...poured })
    const off = handCopyOf(shop.state, 'RATQ2345', cup(shop, 'RATQ2345'), 'MORE')
    expect(off.ratio).toBe('2:2.27')
  })

  test('a mix without pot life has its keep date; one whose sheet has no hazards says none are known', () => {
    const shop = cupShop()
    const keeps = handCopyOf(shop.state, 'BASEM2XV', cup(shop, 'BASEM2XV'), 'MORE')
    expect(keeps).toMatchObject({ useByMs: null, keepUntilMs: minute(10) + 30 * 1440 * MINUTE })
    const { hazards: _, ...bare } = CLEAR
    shop.do('SaveSheet', { sheet: { ...bare, sheet: 'bare' } })
    shop.do('MixCup', { cup: NEW, sheet: 'bare', totalMl: 100 })
    expect(handCopyOf(shop.state, NEW, cup(shop, NEW), 'MORE').hazards).toBeNull()
  })

  test('the sheet is the one by which it was mixed, not a later edition', () => {
    const shop = cupShop()
    shop.at(20).do('SaveSheet', { sheet: { ...CLEAR, name: 'another name' } })
    expect(sheetOfCup(shop.state, cup(shop, CUP))?.name).toBe(CLEAR.name)
  })
})

describe('guns', () => {
  test('the one to clean first leads, clean ones come last, a second material makes one dirty', () => {
    const shop = cupShop()
    shop.do('SaveGun', { gun: 'a-clean', name: 'Base gun', needleMm: 1.3 })
    shop.do('LoadGun', { gun: 'late', cup: OTHER })
    shop.do('LoadGun', { gun: 'early', cup: CUP })
    expect(gunLines(shop.state).map((g) => [g.id, g.state])).toEqual([
      ['early', 'loaded'],
      ['late', 'loaded'],
      ['a-clean', 'clean'],
    ])
    // A base without pot life in a gun waits for nobody.
    shop.do('LoadGun', { gun: 'base', cup: 'BASEM2XV' })
    expect(gunLines(shop.state).map((g) => g.id)).toEqual(['early', 'late', 'base', 'a-clean'])
    const override = { reason: 'DELIBERATE_TECHNIQUE' }
    shop.do('LoadGun', { gun: 'early', cup: 'BASEM2XV', override })
    expect(gunLines(shop.state).find((g) => g.id === 'early')).toMatchObject({
      state: 'dirty',
      holds: BASE.name,
      endsAt: minute(60),
    })
    shop.do('CleanGun', { gun: 'early', solvent: 'gun solvent' })
    expect(gunLines(shop.state).find((g) => g.id === 'early')?.state).toBe('clean')
  })
})

test('tint is offered for a color, as the next variant of its job', () => {
  const shop = new Shop()
  shop.do('SaveSheet', { sheet: BASE })
  shop.do('OpenJob', {
    job: 'JJJJ2222',
    title: 'Delivery van',
    colours: [{ key: 'body', code: 'S-1' }],
  })
  const mixed = { sheet: BASE.sheet, totalMl: 300, job: 'JJJJ2222' }
  shop.do('MixCup', { cup: CUP, ...mixed, colour: 'body' })
  shop.do('MixCup', { cup: OTHER, ...mixed })
  const cupIn = (id: string) => madeContext(shop.state, 'cup', id)
  const offered = (id: string) =>
    tintFor(shop.state, cupIn(id)).map(({ role, name }) => [role, name])
  expect(offered(CUP)).toEqual([['tint', 'T1']])
  expect(offered(OTHER)).toEqual([])
  const add = [{ role: 'tint', name: 'T1', ml: 2 }]
  shop.do('PourCup', { cup: NEW, from: [{ cup: CUP, ml: 100 }], add })
  expect(cupIn(NEW).paint).toMatchObject({ tint: 'T1' })
  expect(offered(CUP)).toEqual([['tint', 'T2']])
})
