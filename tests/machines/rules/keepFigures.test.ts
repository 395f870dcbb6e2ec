import { describe, expect, test } from 'vitest'
import { cupView } from '../../../kiosk/lanes/cups.ts'
import { cupLabelOf } from '../../../labels/fromState.ts'
import { keepEndsAt } from '../../../machines/cup/keep.ts'
import { keepAsked } from '../../../machines/cup/keepAsk.ts'
import { evict } from '../../../machines/evict.ts'
import {
  addPanel,
  around,
  BASE_CUP,
  CLEAR_CUP,
  cupOf,
  DOOR,
  dueMin,
  mix,
  said,
  shopWith,
  startCoat,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

/** How long a stored mix keeps, where its sheet does not say it: asked at its first use of a later day, once. */

const DAY = 24 * 60
const { keepDays: _, ...SILENT } = BASE
const REDUCER = 'slow reducer'
/** A base that is sprayed with a reducer of choice in it, which its ratio does not have. */
const REDUCIBLE = {
  ...BASE,
  components: BASE.components.filter(({ role }) => role !== 'reducer'),
  reducers: [{ name: REDUCER, fromC: 5, toC: 35 }],
}

/** Base mixed at 0, of a sheet that says nothing of how long that keeps. */
function stored(sheet: object = SILENT, more: object = {}): Shop {
  const shop = shopWith([sheet, CLEAR])
  addPanel(shop, [{ stage: 'base', sheet: BASE.sheet }])
  return mix(shop, BASE_CUP, BASE.sheet, more)
}
const asked = (shop: Shop, min: number, cup = BASE_CUP) =>
  keepAsked(shop.state, cupOf(shop, cup), minute(min))
const tell = (shop: Shop, min: number, days: number | 'unlimited', reduced = false) =>
  shop.at(min).do('SetShopFigure', { sheet: BASE.sheet, keep: { reduced, days } })
const endsMin = (shop: Shop, cup = BASE_CUP) =>
  ((keepEndsAt(shop.state, cupOf(shop, cup)) ?? Number.NaN) - minute(0)) / 60_000

describe('a mix of a sheet that does not say how long it keeps', () => {
  test('is asked about on a later day only, and not where the sheet says it or a clock runs', () => {
    expect(asked(stored(), 60)).toBeNull()
    expect(asked(stored(), DAY)).toEqual({ sheet: BASE.sheet, isReduced: false })
    expect(asked(stored(BASE), DAY)).toBeNull()
    const clear = mix(stored(), CLEAR_CUP, CLEAR.sheet)
    expect(asked(clear, DAY, CLEAR_CUP)).toBeNull()
  })

  test('is sprayed all the same, and says that nobody could judge it', () => {
    const shop = stored().at(DAY)
    const [start] = shop.fork().do('StartCoat', { panels: [DOOR], cup: BASE_CUP })
    expect(start?.notJudged).toContain('keepOver')
    tell(shop, DAY, 30)
    const [known] = shop.do('StartCoat', { panels: [DOOR], cup: BASE_CUP })
    expect(known?.notJudged ?? []).not.toContain('keepOver')
  })

  test('keeps as the shop says once, for this cup and the next: refused from then on, not a moment before', () => {
    const shop = stored()
    tell(shop, DAY, 3)
    expect([asked(shop, DAY), endsMin(shop), dueMin(shop, 'keepUntil')]).toEqual([
      ...[null, 3 * DAY, 3 * DAY],
    ])
    expect(around(shop, 3 * DAY, startCoat(BASE_CUP))).toEqual(['done', 'keepOver'])
    mix(shop, 'NNNN2222', BASE.sheet)
    expect(asked(shop, 2 * DAY, 'NNNN2222')).toBeNull()
    const unlimited = stored()
    tell(unlimited, DAY, 'unlimited')
    expect([asked(unlimited, 900 * DAY), endsMin(unlimited)]).toEqual([null, Number.NaN])
    expect(said(startCoat(BASE_CUP)(unlimited.at(300 * DAY)))).toBe('done')
  })

  test('shows its date on the Wall and on its next label, and is held until then', () => {
    const shop = stored()
    tell(shop, DAY, 30)
    const at = minute(30 * DAY)
    expect(cupView(shop.state, BASE_CUP, cupOf(shop, BASE_CUP), shop.now).keepsUntil).toBe(at)
    expect(cupLabelOf(shop.state, BASE_CUP)).toMatchObject({ keepUntilMs: at })
    shop.do('PrintLabel', { cup: BASE_CUP })
    expect(shop.entries.at(-1)?.data.keepUntilMs).toBe(at)
    expect(evict(shop.state, minute(29 * DAY)).things.cup[BASE_CUP]).toBeDefined()
  })

  test('goes by its sheet once that has it, for the cups of before as well', () => {
    const shop = stored()
    tell(shop, DAY, 30)
    shop.do('SaveSheet', { sheet: { ...BASE, keepDays: 5 } })
    expect(endsMin(shop)).toBe(5 * DAY)
    // What a sheet said when a cup was mixed stays so: a later edit never moves the past.
    const typed = stored(BASE)
    typed.at(DAY).do('SaveSheet', { sheet: { ...BASE, keepDays: 5 } })
    expect(endsMin(typed)).toBe(30 * DAY)
  })

  test('with reducer in it is asked about by that, and counts from when the reducer went in', () => {
    const shop = stored(REDUCIBLE, { reducer: REDUCER })
    expect(asked(shop, DAY)).toEqual({ sheet: BASE.sheet, isReduced: true })
    tell(shop, DAY, 7, true)
    expect(endsMin(shop)).toBe(7 * DAY)
    // Mixed long before, reduced on the twentieth day: the mix's own thirty days still bind it.
    mix(shop, 'NNNN2222', BASE.sheet)
    const add = [{ role: 'reducer', name: REDUCER, ml: 30 }]
    shop.at(20 * DAY).do('PourCup', { cup: 'RRRR2222', from: [{ cup: 'NNNN2222', ml: 60 }], add })
    expect(endsMin(shop, 'RRRR2222')).toBe(27 * DAY)
    shop.at(22 * DAY).do('PourCup', { cup: 'SSSS2222', from: [{ cup: 'RRRR2222', ml: 30 }] })
    expect(endsMin(shop, 'SSSS2222')).toBe(27 * DAY)
    shop.at(26 * DAY).do('PourCup', { cup: 'TTTT2222', from: [{ cup: 'NNNN2222' }], add })
    expect(endsMin(shop, 'TTTT2222')).toBe(31 * DAY)
  })

  test('a question that was a slip is taken back', () => {
    const shop = stored()
    const [entry] = tell(shop, DAY, 1)
    shop.do('VoidEntry', { entry: entry?.id, reason: 'another product' })
    expect([asked(shop, DAY) !== null, endsMin(shop)]).toEqual([true, Number.NaN])
  })
})

test.each([
  [{ keep: { reduced: false, days: 0 } }],
  [{ keep: { reduced: false, days: 'long' } }],
  [{ keep: { days: 3 } }],
  [{ keep: { reduced: true, days: 3 }, dropOver: 'wet' }],
])('a figure of the shop that is none is refused: %j', (more) => {
  expect(() => stored().send('SetShopFigure', { sheet: BASE.sheet, ...more })).toThrow()
})
