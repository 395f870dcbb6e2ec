import { expect, test } from 'vitest'
import { actsOf } from '../../kiosk/lanes/acts.ts'
import { lanesOf } from '../../kiosk/lanes/lanes.ts'
import { en } from '../../kiosk/words/all.ts'
import { CLEAR } from '../support/sheets.ts'
import { minute, Shop } from '../support/shop.ts'

/** One more coat of the step before is offered where the panel's chart and the rules would take it. */

const DOOR = 'SDEDR222'
const PANELS = { panels: [DOOR] }
const CUP = 'K7QDM2XV'
const FRESH = 'FRESHCP2'
const ROUTE = [
  { stage: 'clear', sheet: CLEAR.sheet },
  { stage: 'cure', sheet: CLEAR.sheet },
  { stage: 'sand' },
  { stage: 'polish' },
]

function van(): Shop {
  const shop = new Shop()
  shop.do('SaveSheet', { sheet: CLEAR })
  shop.do('OpenJob', { job: 'VANREAR2', title: 'Delivery van' })
  const panel = { panel: DOOR, name: 'Sliding door', operation: 'repair', route: ROUTE }
  shop.do('AddPanel', { job: 'VANREAR2', ...panel })
  shop.do('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 500 })
  return shop
}

/** What is offered as one more, and what the rules say to that coat at that moment. */
function oneMore(shop: Shop, min: number, cup: string) {
  const [lane] = lanesOf(shop.state, minute(min))
  if (!lane) throw new Error('no lane')
  const acts = actsOf(shop.state, lane, en, minute(min))
  const offered = acts.filter(({ key }) => key.startsWith('more-')).map(({ data }) => data)
  const answer = shop.fork().send('StartCoat', { ...PANELS, cup, step: 0 })
  return { offered, said: 'refusal' in answer ? answer.refusal.code : 'taken' }
}

test('one more clear is offered before the cure, not on what is cured, and again once that is sanded', () => {
  const shop = van()
  const more = (cup: string) => [{ ...PANELS, cup, step: 0 }]
  const walk: readonly (readonly [number, () => void, string, object[], string])[] = [
    [0, () => shop.do('StartCoat', { ...PANELS, cup: CUP }), CUP, [], 'coatRunning'],
    [2, () => shop.do('FinishCoat', PANELS), CUP, [], 'flashNotOver'],
    [12, () => shop.do('StartCoat', { ...PANELS, cup: CUP }), CUP, [], 'coatRunning'],
    // It may be pressed at any time; flash is counted down beside the sentence.
    [14, () => shop.do('FinishCoat', PANELS), CUP, more(CUP), 'flashNotOver'],
    [24, () => {}, CUP, more(CUP), 'taken'],
    [25, () => shop.do('StartCure', { ...PANELS, mode: 'bake' }), CUP, [], 'heatInZone'],
    [31, () => shop.do('ReadPart', { panel: DOOR }), CUP, [], 'heatInZone'],
    [61, () => shop.do('EndCure', PANELS), CUP, [], 'windowShut'],
    [
      90,
      () => shop.do('MixCup', { cup: FRESH, sheet: CLEAR.sheet, totalMl: 300 }),
      FRESH,
      [],
      'windowShut',
    ],
    [
      100,
      () => shop.do('DoPrepStep', { panel: DOOR, step: 2, grit: 800 }),
      FRESH,
      more(FRESH),
      'taken',
    ],
    [101, () => shop.do('StartCoat', { ...PANELS, cup: FRESH, step: 0 }), FRESH, [], 'coatRunning'],
  ]
  for (const [min, press, cup, offered, said] of walk) {
    shop.at(min)
    press()
    expect({ min, ...oneMore(shop, min, cup) }).toEqual({ min, offered, said })
  }
})
