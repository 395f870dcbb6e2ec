import { expect, test } from 'vitest'
import {
  addPanel,
  air,
  BASE_CLEAR,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_CURE,
  CLEAR_ONLY,
  coat,
  DOOR,
  JOB,
  mix,
  outsideOf,
  queued,
  said,
  shopWith,
  startCoat,
  vanWith,
  WING,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

/** Late facts are never refused, whatever a START is refused for; an override of the air stands for each of its rules. */

const FRESH = 'FFFF2222'
const WEIGHED = { ...CLEAR, by: 'mass' as const }
const weighed = (pouredG: readonly number[]): Shop =>
  mix(addPanel(shopWith([WEIGHED]), CLEAR_ONLY), CLEAR_CUP, CLEAR.sheet, { pouredG })

function denibbed(): Shop {
  const shop = shopWith()
  const colours = [{ key: 'body', code: 'S-1', kind: 'pearl' }]
  shop.do('OpenJob', { job: JOB, title: 'Van', colours })
  addPanel(shop, [{ ...BASE_CLEAR[0], colour: 'body', coats: { planned: 1 } }, BASE_CLEAR[1]])
  mix(shop, BASE_CUP, BASE.sheet, { job: JOB, colour: 'body' })
  coat(mix(shop, CLEAR_CUP, CLEAR.sheet), BASE_CUP, 1, 3)
  shop.at(20).do('DenibPanel', { panel: DOOR, grit: 1500 })
  return shop
}

function degreased(): Shop {
  const shop = vanWith([{ stage: 'prep', work: 'degrease' }, ...CLEAR_ONLY])
  shop.at(1).do('DoPrepStep', { panel: DOOR, step: 0 })
  return shop
}

function baked(): Shop {
  const shop = coat(coat(vanWith(CLEAR_CURE), CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
  shop.at(30).do('StartCure', { panels: [DOOR], mode: 'bake' })
  shop.at(60).do('EndCure', { panels: [DOOR] })
  return mix(shop, FRESH, CLEAR.sheet)
}

const LATE: readonly (readonly [string, () => Shop, number, object])[] = [
  [
    'lookFirst',
    () => coat(vanWith(CLEAR_ONLY, [{ ...CLEAR, flashBy: 'appearance' }]), CLEAR_CUP, 1, 3),
    20,
    {},
  ],
  ['cleanerWet', degreased, 2, {}],
  ['wantsBase', denibbed, 21, {}],
  ['keepOver', () => vanWith([BASE_CLEAR[0]]), 31 * 1_440, { cup: BASE_CUP }],
  ['ratioOff', () => weighed([200, 60]), 1, {}],
  ['noActivator', () => weighed([200, 0]), 1, {}],
  ['partTemp', () => air(vanWith(CLEAR_ONLY), 1, 20, 0.2, { surfaceC: 8 }), 2, {}],
  ['partHot', baked, 61, { cup: FRESH, step: 0 }],
]

test.each(LATE)(
  '%s refuses a start, and marks the same start that is told late',
  (code, past, min, more) => {
    const start = { panels: [DOOR], cup: CLEAR_CUP, ...more }
    const codes = (shop: Shop) => {
      const answer = shop.at(min).send('StartCoat', start)
      return 'refusal' in answer ? [answer.refusal.code, ...answer.refusal.also] : []
    }
    expect(codes(past())).toContain(code)
    const [late] = queued(past().at(min + 60), min, 'StartCoat', start)
    expect(outsideOf(late)).toContain(code)
  },
)

test('an override of the dew point covers job, zone and stage until the next reading as well', () => {
  // 20 °C and 90 % RH: within three degrees of the dew point.
  const shop = addPanel(vanWith(CLEAR_ONLY, [BASE, { ...CLEAR, limits: {} }]), CLEAR_ONLY, {
    panel: WING,
    name: 'Side',
  })
  air(shop, 1, 20, 0.9)
  const side = startCoat(CLEAR_CUP, { panels: [WING] })
  expect(said(side(shop.fork()))).toBe('dewPoint')
  shop.do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP, override: { reason: 'CLIMATE' } })
  const answer = side(shop.fork().at(2))
  expect('drafts' in answer && answer.drafts[0]?.override?.codes).toEqual(['dewPoint'])
  expect(said(side(air(shop, 3, 20, 0.9)))).toBe('dewPoint')
})
