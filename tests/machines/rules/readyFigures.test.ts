import { describe, expect, test } from 'vitest'
import { readyAsked } from '../../../machines/panel/filmReady.ts'
import {
  addPanel,
  around,
  CLEAR_CUP,
  CLEAR_CURE,
  coat,
  DOOR,
  mix,
  panelOf,
  queued,
  said,
  shopWith,
} from '../../support/given.ts'
import { BASE, CLEAR, SEALER } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

/** From when a film is ready for work by hand, where its sheet does not say it: asked once, and kept. */

const PRIMER = { ...SEALER, sheet: 'primer-2k', stage: 'primer' } as const
const FILM = { sand: PRIMER, tape: PRIMER, polish: CLEAR, handle: PRIMER } as const
type What = keyof typeof FILM

/** Primer, or clear, on at minute 3; nothing typed of when it is ready. */
function sprayed(what: What, more: object = {}): Shop {
  const film = FILM[what]
  const next = { sand: 'sand', tape: 'prep', polish: 'polish', handle: 'prep' }[what]
  const shop = shopWith([{ ...film, ...more }, BASE])
  const coats = { least: 1, planned: 1, most: 1 }
  addPanel(shop, [{ stage: film.stage, sheet: film.sheet, coats }, { stage: next }])
  return coat(mix(shop, CLEAR_CUP, film.sheet), CLEAR_CUP, 1, 3)
}

const WORK: { readonly [W in What]: readonly [string, object] } = {
  sand: ['DoPrepStep', { panel: DOOR, step: 1, grit: 600 }],
  tape: ['DoPrepStep', { panel: DOOR, step: 1, work: 'mask' }],
  polish: ['PolishPanel', { panel: DOOR }],
  handle: ['MovePanel', { panel: DOOR, zone: 'bay-2' }],
}
const work = (what: What) => (shop: Shop) => shop.send(...WORK[what])
const askedAt = (shop: Shop, what: What, min: number) =>
  readyAsked({ state: shop.state, at: minute(min) }, { panel: panelOf(shop) }, what)
const figure = (what: What, after: unknown, min = 4) => ({
  min,
  data: { sheet: FILM[what].sheet, ready: { for: what, after } },
})
const told = (shop: Shop, { min, data }: { min: number; data: object }) => {
  shop.at(min).do('SetShopFigure', data)
  return shop
}

describe.each(['sand', 'tape', 'polish', 'handle'] as const)('ready to %s', (what) => {
  const code = what === 'sand' ? 'sandEarly' : 'notReady'

  test('is asked of a sheet that is silent, and not of one that says it', () => {
    expect(askedAt(sprayed(what), what, 30)).toBe(FILM[what].sheet)
    expect(askedAt(sprayed(what, { ready: { [what]: 90 } }), what, 30)).toBeNull()
  })

  test('holds from what the shop said, also for a coat that was on before', () => {
    const shop = told(sprayed(what), figure(what, 90))
    expect(around(shop, 93, work(what))).toEqual([code, 'done'])
    expect(askedAt(shop, what, 30)).toBeNull()
    const atOnce = told(sprayed(what), figure(what, 'none'))
    expect(said(work(what)(atOnce.at(4)))).toBe('done')
  })

  test('of another work is another question', () => {
    const other = what === 'sand' ? 'tape' : 'sand'
    const data = { sheet: FILM[what].sheet, ready: { for: other, after: 90 } }
    expect(askedAt(told(sprayed(what), { min: 4, data }), what, 30)).toBe(FILM[what].sheet)
  })

  test('the last word counts, and the sheet that says it later before the shop', () => {
    const shop = told(told(sprayed(what), figure(what, 90)), figure(what, 120, 5))
    expect(around(shop, 123, work(what))).toEqual([code, 'done'])
    shop.at(6).do('SaveSheet', { sheet: { ...FILM[what], ready: { [what]: 60 } } })
    expect(around(shop, 63, work(what))).toEqual([code, 'done'])
  })

  test('work that was done without it says that it was not judged', () => {
    const [entry] = sprayed(what)
      .at(60)
      .do(...WORK[what])
    expect(entry?.notJudged).toEqual([code])
    const [known] = told(sprayed(what), figure(what, 30))
      .at(60)
      .do(...WORK[what])
    expect(known?.notJudged).toBeUndefined()
    // What a kiosk without its server pressed before the shop said it was not judged by it.
    const late = told(sprayed(what), figure(what, 30, 50)).at(60)
    expect(queued(late, 40, ...WORK[what])[0]?.notJudged).toEqual([code])
  })
})

test('a base is sanded by eye, and a film that cured in air at any time: neither is asked about', () => {
  const shop = shopWith([BASE, CLEAR])
  addPanel(shop, [{ stage: 'base', sheet: BASE.sheet }, { stage: 'sand' }])
  coat(mix(shop, CLEAR_CUP, BASE.sheet), CLEAR_CUP, 1, 3)
  expect(askedAt(shop, 'sand', 30)).toBeNull()
  const cured = shopWith([CLEAR])
  addPanel(cured, CLEAR_CURE)
  mix(cured, CLEAR_CUP, CLEAR.sheet)
  coat(coat(cured, CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
  cured.at(20).do('StartCure', { panels: [DOOR], mode: 'air' })
  cured.at(2_000).do('EndCure', { panels: [DOOR] })
  expect(askedAt(cured, 'polish', 2_001)).toBeNull()
})

test('a sheet that says when it is dust free is not asked when it may be handled', () => {
  expect(askedAt(sprayed('handle', { ready: { dustFree: 30 } }), 'handle', 10)).toBeNull()
})

test.each([
  [{ ready: { for: 'sand', after: -1 } }],
  [{ ready: { for: 'wash', after: 10 } }],
  [{ ready: { for: 'sand' } }],
  [{ ready: { for: 'sand', after: 'soon' } }],
  [{ ready: { for: 'sand', after: 10 }, dropOver: 'wet' }],
  [{}],
])('a figure of the shop that is none is refused: %j', (more) => {
  expect(() => sprayed('sand').send('SetShopFigure', { sheet: PRIMER.sheet, ...more })).toThrow()
})
