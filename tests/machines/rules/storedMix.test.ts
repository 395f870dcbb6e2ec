import { describe, expect, test } from 'vitest'
import {
  around,
  BASE_CUP,
  cupOf,
  DOOR,
  JOB,
  minuteOf,
  mix,
  refusalOf,
  said,
  shopWith,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

const DAY = 1_440
const STORED = 'FFFF2222'

/** Monday at eight: a base of a color of this kind is mixed. */
function monday(kind = 'metallic', sheet: object = BASE): Shop {
  const shop = shopWith([sheet, CLEAR])
  shop.do('ChangeSettings', { timeZone: 'Etc/UTC' })
  shop.do('OpenJob', {
    job: JOB,
    title: 'Delivery van',
    colours: [{ key: 'body', code: 'S-1', kind }],
  })
  const route = [{ stage: 'base', sheet: BASE.sheet, colour: 'body' }]
  shop.do('AddPanel', { job: JOB, panel: DOOR, name: 'Door', operation: 'repair', route })
  return mix(shop, BASE_CUP, BASE.sheet, { job: JOB, colour: 'body' })
}
const notJudged = (shop: Shop, cup = BASE_CUP) =>
  (shop.fork().do('StartCoat', { panels: [DOOR], cup })[0]?.notJudged ?? []).filter(
    (code) => code === 'stored',
  )

describe('a stored mix used on a later day', () => {
  test('was not judged where nobody says that it was stirred, strained and tried', () => {
    // Midnight is sixteen hours after eight.
    expect(notJudged(monday().at(960 - 0.001))).toEqual([])
    expect(notJudged(monday().at(960))).toEqual(['stored'])
  })

  test('is asked once for each day, in one touch', () => {
    const shop = monday().at(7 * DAY)
    shop.do('CheckCup', { cup: BASE_CUP, done: ['stirred', 'strained', 'cardSprayed'] })
    expect(notJudged(shop.at(7 * DAY + 30))).toEqual([])
    expect(notJudged(shop.at(8 * DAY))).toEqual(['stored'])
    expect(cupOf(shop, BASE_CUP).checked?.done).toEqual(['stirred', 'strained', 'cardSprayed'])
  })

  test('wants a card of a color with flakes, and none of a solid one', () => {
    const checked = (kind: string) => {
      const shop = monday(kind).at(DAY)
      shop.do('CheckCup', { cup: BASE_CUP, done: ['stirred', 'strained'] })
      return notJudged(shop)
    }
    expect([checked('pearl'), checked('solid')]).toEqual([['stored'], []])
  })

  test('is not asked again once it was sprayed that day', () => {
    const shop = monday().at(DAY)
    shop.do('StartCoat', { panels: [DOOR], cup: BASE_CUP })
    shop.at(DAY + 3).do('FinishCoat', { panels: [DOOR] })
    expect(notJudged(shop.at(DAY + 20))).toEqual([])
  })

  test('is as old as the oldest in it, also when it is poured into another cup today', () => {
    const shop = monday().at(DAY)
    shop.do('PourCup', { cup: STORED, from: [{ cup: BASE_CUP }] })
    expect(notJudged(shop, STORED)).toEqual(['stored'])
    const checked = monday().at(DAY)
    checked.do('CheckCup', { cup: BASE_CUP, done: ['stirred', 'strained', 'cardSprayed'] })
    checked.do('PourCup', { cup: STORED, from: [{ cup: BASE_CUP }] })
    expect(notJudged(checked, STORED)).toEqual([])
  })

  test('has to be there', () => {
    const shop = monday()
    expect(said(shop.send('CheckCup', { cup: STORED, done: ['stirred'] }))).toBe('cupUnknown')
  })
})

describe('how long a mix without activator keeps', () => {
  const keeps = (shop: Shop, cup = BASE_CUP) => {
    const until = cupOf(shop, cup).keepUntilMs
    return until === null ? null : minuteOf(until) / DAY
  }
  const UNREDUCED = { ...BASE, keepDaysReduced: 5, components: [BASE.components[0]] }
  const REDUCERS = [{ name: 'slow', fromC: 10, toC: 40 }]

  test('is shorter from its reducer on', () => {
    expect(keeps(monday('solid', UNREDUCED))).toBe(30)
    expect(keeps(monday('solid', { ...BASE, keepDaysReduced: 5 }))).toBe(5)
    const shop = monday('solid', { ...UNREDUCED, reducers: REDUCERS }).at(10 * DAY)
    const add = [{ role: 'reducer', name: 'slow', ml: 50 }]
    shop.do('PourCup', { cup: STORED, from: [{ cup: BASE_CUP }], add })
    expect(keeps(shop, STORED)).toBe(15)
    const start = (copy: Shop) => copy.send('StartCoat', { panels: [DOOR], cup: STORED })
    expect(around(shop, 15 * DAY, start)).toEqual(['done', 'keepOver'])
    expect(refusalOf(start(shop.at(16 * DAY))).overridable).toBe(true)
  })

  test('is never longer for it', () => {
    const shop = monday('solid', { ...UNREDUCED, reducers: REDUCERS }).at(28 * DAY)
    const add = [{ role: 'reducer', name: 'slow', ml: 50 }]
    shop.do('PourCup', { cup: STORED, from: [{ cup: BASE_CUP }], add })
    expect(keeps(shop, STORED)).toBe(30)
  })

  test('has no date once an activator is in it', () => {
    const activators = [{ name: 'crosslinker', fromC: 10, toC: 40 }]
    const shop = monday('solid', { ...BASE, activators })
    const add = [{ role: 'activator', name: 'crosslinker', ml: 20 }]
    shop.do('PourCup', { cup: STORED, from: [{ cup: BASE_CUP }], add })
    expect(keeps(shop, STORED)).toBeNull()
    mix(shop, 'GGGG2222', BASE.sheet, { activator: 'crosslinker' })
    expect(keeps(shop, 'GGGG2222')).toBeNull()
  })
})
