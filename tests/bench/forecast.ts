import { forecastOf } from '../../machines/plan/forecast.ts'
import { letters } from '../support/learningShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { Shop } from '../support/shop.ts'
import { median, title } from './figures.ts'
import { oursAtMost, part, ratioAtMost } from './table.ts'

/** What a forecast of a whole shop costs: the plan, and the same at both ends of its spread. */

const LARGE = '60 panels of 30 jobs, planned three times: as expected, and at both ends'
const FEW = 'six panels, in many orders, with the spread'
const EACH = 'the same: a panel of 60 against a panel of 12'
const ROUNDS = 9

function shopOf(panels: number): Shop {
  const shop = new Shop()
  for (const sheet of [BASE, CLEAR]) shop.do('SaveSheet', { sheet })
  shop.do('SaveZone', { zone: 'booth' })
  shop.do('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
  for (let n = 0; n < panels; n += 1) {
    const job = `J${letters(n >> 1)}`
    if (n % 2 === 0) shop.do('OpenJob', { job, title: `Delivery van ${n >> 1}` })
    const route = [
      { stage: 'prep', work: 'abrade' },
      { stage: 'base', sheet: BASE.sheet },
      { stage: 'clear', sheet: CLEAR.sheet },
      { stage: 'cure', sheet: CLEAR.sheet },
    ]
    const panel = `P${letters(n)}`
    const areaM2 = 0.5 + (n % 7) / 5
    shop.do('AddPanel', {
      job,
      panel,
      name: panel,
      operation: 'repair',
      areaM2,
      zone: 'booth',
      route,
    })
  }
  return shop
}

export const forecast = part(
  'forecast',
  { [LARGE]: oursAtMost(150), [FEW]: null, [EACH]: ratioAtMost(3) },
  async (put) => {
    title('forecast: the rest of every route, with its spread')
    const [large, small, few] = [shopOf(60), shopOf(12), shopOf(6)]
    const took = { large: [] as number[], small: [] as number[], few: [] as number[] }
    for (let round = 0; round < ROUNDS; round += 1)
      for (const [shop, all] of [
        [large, took.large],
        [small, took.small],
        [few, took.few],
      ] as const) {
        const from = performance.now()
        forecastOf(shop.state, shop.now)
        // The first ones are compiled while they run.
        if (round > 1) all.push(performance.now() - from)
      }
    const ours = median(took.large)
    put(LARGE, { ours, unit: 'ms' })
    put(FEW, { ours: median(took.few), unit: 'ms' })
    put(EACH, {
      ours: ours / 60,
      unit: 'ms',
      limit: { what: 'a panel of 12', value: median(took.small) / 12, unit: 'ms' },
    })
  },
)
