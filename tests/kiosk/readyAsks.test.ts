import { describe, expect, test } from 'vitest'
import { lanesOf } from '../../kiosk/lanes/lanes.ts'
import { passActs } from '../../kiosk/lanes/pass.ts'
import { readyAsksOf } from '../../kiosk/lanes/readyAsks.ts'
import { en } from '../../kiosk/words/all.ts'
import { addPanel, CLEAR_CUP, coat, DOOR, mix, shopWith } from '../support/given.ts'
import { CLEAR, SEALER } from '../support/sheets.ts'
import { minute, type Shop } from '../support/shop.ts'

/** What a lane asks before work by hand, with the keys of the lane itself. */

const PRIMER = { ...SEALER, sheet: 'primer-2k', stage: 'primer' } as const

function primed(next: string): Shop {
  const shop = shopWith([PRIMER, CLEAR])
  const coats = { least: 1, planned: 1, most: 1 }
  addPanel(shop, [
    { stage: 'primer', sheet: PRIMER.sheet, coats },
    { stage: next },
    { stage: 'clear', sheet: CLEAR.sheet },
  ])
  return coat(mix(shop, CLEAR_CUP, PRIMER.sheet), CLEAR_CUP, 1, 3)
}

const acts = (shop: Shop, min: number) => {
  const lanes = lanesOf(shop.state, minute(min)).filter(({ panel }) => panel === DOOR)
  return passActs(shop.state, lanes, en, minute(min))
}
const asks = (shop: Shop, min: number) => readyAsksOf(shop.state, acts(shop, min), minute(min))

describe('a lane on which work by hand is due', () => {
  test('asks once from when its film is ready, and then goes on', () => {
    const shop = primed('sand')
    expect(asks(shop, 30)).toEqual([{ sheet: PRIMER.sheet, what: 'sand' }])
    shop.at(30).do('SetShopFigure', { sheet: PRIMER.sheet, ready: { for: 'sand', after: 60 } })
    expect(asks(shop, 31)).toEqual([])
    const [first] = acts(shop, 63)
    expect(first?.type).toBe('DoPrepStep')
    shop.at(63).do(first?.type ?? '', first?.datas[0] ?? {})
  })

  test('asks of each work that one of its keys may be', () => {
    const whats = asks(primed('prep'), 30).map(({ what }) => what)
    expect(whats.sort()).toEqual(['sand', 'tape'])
  })

  test('asks nothing where only coats are due and nothing is taken out', () => {
    const shop = shopWith([CLEAR])
    addPanel(shop, [{ stage: 'clear', sheet: CLEAR.sheet }])
    mix(shop, CLEAR_CUP, CLEAR.sheet)
    expect(asks(shop, 1)).toEqual([])
  })
})
