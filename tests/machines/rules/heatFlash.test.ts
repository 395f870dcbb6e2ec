import * as v from 'valibot'
import { describe, expect, test } from 'vitest'
import { withHeatFlash } from '../../../machines/sheet/heatFlashForm.ts'
import { sheetSchema } from '../../../machines/sheet/sheetSchema.ts'
import {
  addPanel,
  air,
  around,
  bells,
  CLEAR_CUP,
  CLEAR_CURE,
  coat,
  DOOR,
  evicted,
  mix,
  queued,
  refusalOf,
  said,
  shopWith,
} from '../../support/given.ts'
import { CLEAR } from '../../support/sheets.ts'
import type { Answer, Shop } from '../../support/shop.ts'

/** A figure that a gate needs and that was never typed is asked for; empty is never zero. */

const BAKE = { tempC: 60, minutes: 30, basis: 'part' } as const
const LAMP = { minutes: 12, distanceCm: 80 }
const saved = (cure: object, more: object = {}) => ({ ...CLEAR, ...more, cure })

/** Two coats of clear, the last finished at minute 15; a cure is due. */
function cleared(sheet: object, chosen: object = {}): Shop {
  const shop = addPanel(shopWith([sheet]), CLEAR_CURE)
  mix(shop, CLEAR_CUP, CLEAR.sheet, chosen)
  return coat(coat(shop, CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
}
const heat =
  (mode: 'bake' | 'infrared' | 'air', more: object = {}) =>
  (shop: Shop): Answer =>
    shop.send('StartCure', { panels: [DOOR], mode, ...more })

describe('a sheet without a flash before heat', () => {
  const shop = () => cleared(saved({ ...CLEAR.cure, bake: [BAKE] }))

  test('rings for no bake, and refuses it as not known, however long ago the last coat was', () => {
    expect(bells(shop(), 'mayGoToHeat')).toEqual([])
    const refusal = refusalOf(heat('bake')(shop().at(600)))
    expect(refusal).toMatchObject({
      code: 'flashNotOver',
      params: { why: 'notKnown', limit: null },
      overridable: true,
    })
    expect(refusal.clearsAt).toBeUndefined()
    expect(refusal.message).toBe(
      'Rear door: Flash before heat is not known. Enter it on the sheet (minutes, or “none”).',
    )
  })

  test('leaves the other waits of its coat as they were in the air of that day, for as long as it is asked for', () => {
    const sheet = saved({ ...CLEAR.cure, bake: [BAKE] })
    const first = coat(
      mix(addPanel(shopWith([sheet]), CLEAR_CURE), CLEAR_CUP, CLEAR.sheet),
      CLEAR_CUP,
      1,
      3,
    )
    const cold = air(air(first, 4, 8), 60, 8)
    for (let day = 1; day < 40; day += 1) air(cold, day * 24 * 60, 20)
    const ready = bells(cold, 'coatReady')
    expect(ready).toHaveLength(1)
    expect(bells(evicted(cold, 40 * 24 * 60), 'coatReady')).toEqual(ready)
  })

  test('lets the film cure in air', () => {
    expect(said(heat('air')(shop().at(16)))).toBe('done')
  })

  test('counts from the last coat once somebody types it', () => {
    const typed = shop().at(20)
    typed.do('SaveSheet', { sheet: saved({ bake: [{ ...BAKE, flashBefore: 12 }] }) })
    expect(bells(typed, 'mayGoToHeat')).toEqual([['mayGoToHeat', 27]])
    expect(around(typed, 27, heat('bake'))).toEqual(['flashNotOver', 'done'])
  })

  test('says "none" by a choice', () => {
    const typed = shop().at(20)
    typed.do('SaveSheet', { sheet: saved({ bake: [{ ...BAKE, flashBefore: 'none' }] }) })
    expect(said(heat('bake')(typed))).toBe('done')
    const none = cleared(saved({ bake: [{ ...BAKE, flashBefore: 'none' }] }))
    expect(said(heat('bake')(none.at(19)))).toBe('done')
  })

  test('is not judged where the bake is told late, and marked by its override where it is not', () => {
    const [late] = queued(shop().at(60), 20, 'StartCure', { panels: [DOOR], mode: 'bake' })
    expect([late?.notJudged, late?.outside]).toEqual([['flashNotOver', 'vehicleLimit'], undefined])
    const [live] = shop()
      .at(60)
      .do('StartCure', { panels: [DOOR], mode: 'bake', override: { reason: 'EQUIPMENT' } })
    expect(live?.override?.codes).toEqual(['flashNotOver'])
  })
})

test('one that is known keeps the figure of its day, whatever is typed later', () => {
  const shop = cleared(saved({ bake: [{ ...BAKE, flashBefore: 10 }] })).at(20)
  shop.do('SaveSheet', { sheet: saved({ bake: [{ ...BAKE, flashBefore: 40 }] }) })
  expect(around(shop, 25, heat('bake'))).toEqual(['flashNotOver', 'done'])
  shop.do('SaveSheet', { sheet: saved({ bake: [BAKE] }) })
  expect(around(shop, 25, heat('bake'))).toEqual(['flashNotOver', 'done'])
})

test('oven and lamp are known each by itself', () => {
  const shop = cleared(saved({ bake: [BAKE], infrared: { ...LAMP, flashBefore: 5 } }))
  expect(bells(shop, 'mayGoToHeat')).toEqual([['mayGoToHeat', 20]])
  expect(around(shop, 20, heat('infrared'))).toEqual(['flashNotOver', 'done'])
  expect(said(heat('bake')(shop.at(300)))).toBe('flashNotOver')
})

test('a bake of an activator that has none of its own is not known either', () => {
  const fast = { name: 'fast', fromC: 10, toC: 20, cure: { bake: [BAKE] } }
  const own = saved({ bake: [{ ...BAKE, flashBefore: 10 }] }, { activators: [fast] })
  const shop = cleared(own, { activator: 'fast' })
  expect(said(heat('bake')(shop.at(300)))).toBe('flashNotOver')
  const filled = withHeatFlash(v.parse(sheetSchema, own), { bake: 30 })
  expect(filled.cure.bake?.[0]?.flashBefore).toBe(10)
  shop.do('SaveSheet', { sheet: filled })
  expect(said(heat('bake')(shop.at(301)))).toBe('done')
})

test('other words, and less than nothing, are no flash before heat', () => {
  for (const flashBefore of ['soon', '', -1, null]) {
    const save = () => shopWith([saved({ bake: [{ ...BAKE, flashBefore }] })])
    expect(save, String(flashBefore)).toThrow('data.sheet.cure.bake.0.flashBefore')
  }
})
