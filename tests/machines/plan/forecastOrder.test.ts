import { expect, test } from 'vitest'
import { forecastOf } from '../../../machines/plan/forecast.ts'
import { drill, drillPatience, SeededDice } from '../../support/drill.ts'
import { letters } from '../../support/learningShop.ts'
import { bestOfOrders, type Line, optimumOf } from '../../support/orders.ts'
import { BASE, CLEAR, SEALER } from '../../support/sheets.ts'
import { MINUTE, Shop } from '../../support/shop.ts'

/**
 * How near to the best a plan comes: beside every order of priority and beside a true optimum, each by a
 * scheduler of the tests alone.
 */

const LONG = [{ atC: 20, minutes: 5_000 }]
/** Windows and pot lives that never end within a day: what is compared is the order. */
const open = <S extends object>(sheet: S) => ({ ...sheet, recoatWithin: 'unlimited', cure: {} })
const SHEETS = [
  open(BASE),
  { ...open(CLEAR), potLife: LONG, activators: [] },
  { ...open(SEALER), potLife: LONG },
] as const
const OF = { base: SHEETS[0], clear: SHEETS[1], sealer: SHEETS[2] } as const
type Stage = keyof typeof OF

type Planned = { readonly shop: Shop; readonly lines: readonly Line[] }
type Most = { readonly panels: number; readonly coats: number }

/** A shop of one painter, and the same as minutes alone. */
function planned(dice: SeededDice, { panels, coats }: Most): Planned {
  const shop = new Shop()
  for (const sheet of SHEETS) shop.do('SaveSheet', { sheet })
  shop.do('SaveZone', { zone: 'booth' })
  shop.do('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
  const jobs = dice.between(1, panels)
  for (let job = 0; job < jobs; job += 1)
    shop.do('OpenJob', { job: `J${letters(job)}`, title: `Delivery van ${job}` })
  const lines = Array.from({ length: panels }, (_, i): Line => {
    const job = `J${letters(i < jobs ? i : dice.below(jobs))}`
    const areaM2 = dice.between(2, 40) / 10
    const stages: Stage[] = dice.chance(50) ? ['sealer', 'base', 'clear'] : ['base', 'clear']
    const isPrepared = stages.length < 3
    const steps = stages.map((stage) => {
      const many = dice.between(1, coats)
      return { stage, many }
    })
    const route = [
      ...(isPrepared ? [{ stage: 'prep', work: 'tack' }] : []),
      ...steps.map(({ stage, many }) => ({
        ...{ stage, sheet: OF[stage].sheet },
        coats: { least: 1, planned: many, most: many },
      })),
    ]
    const panel = `P${letters(i)}`
    shop.do('AddPanel', {
      job,
      panel,
      name: panel,
      operation: 'repair',
      areaM2,
      zone: 'booth',
      route,
    })
    const min = Math.max(1, areaM2 * 2)
    const sprayed = steps.flatMap(({ stage, many }) => {
      const { sheet, flashBetween, flashBeforeNext } = OF[stage]
      return Array.from({ length: many }, (_, n) => ({
        ...{ material: sheet, isMixed: true, min },
        standMin: (n + 1 < many ? flashBetween : flashBeforeNext)[0].minutes,
      }))
    })
    const tack = { material: '', isMixed: false, min: 3, standMin: 0 }
    return { job, tasks: [...(isPrepared ? [tack] : []), ...sprayed] }
  })
  return { shop, lines }
}

function sumOfForecast({ shop }: Planned): number {
  const { jobs, cannot } = forecastOf(shop.state, shop.now)
  expect(cannot).toEqual([])
  return jobs.reduce((sum, { doneAtMs }) => sum + ((doneAtMs ?? 0) - shop.now) / MINUTE, 0)
}

const share = (ours: number, best: number): number => ours / best

test(
  'up to six panels are at most 5 % over the best of every order of priority',
  () => {
    const { rounds, dice, done } = drill('orders of priority', { small: 20, long: 200 })
    const shares: number[] = []
    for (let round = 0; round < rounds; round += 1) {
      const shop = planned(dice, { panels: dice.between(2, 6), coats: 2 })
      shares.push(share(sumOfForecast(shop), bestOfOrders(shop.lines)))
    }
    done({
      worst: Math.max(...shares).toFixed(4),
      mean: (shares.reduce((a, b) => a + b, 0) / rounds).toFixed(4),
    })
    expect(Math.max(...shares)).toBeLessThanOrEqual(1.05)
  },
  drillPatience,
)

test(
  'up to three panels of three steps are at most 5 % over the true optimum',
  () => {
    const { rounds, dice, done } = drill('true optimum', { small: 20, long: 200 })
    const shares: number[] = []
    for (let round = 0; round < rounds; round += 1) {
      const shop = planned(dice, { panels: dice.between(1, 3), coats: 1 })
      const best = optimumOf(shop.lines)
      shares.push(share(sumOfForecast(shop), best))
      // The two agree on what a plan takes: none is better than the best there is.
      expect(shares.at(-1), `round ${round}`).toBeGreaterThanOrEqual(1 - 1e-6)
    }
    done({
      worst: Math.max(...shares).toFixed(4),
      mean: (shares.reduce((a, b) => a + b, 0) / rounds).toFixed(4),
    })
    expect(Math.max(...shares)).toBeLessThanOrEqual(1.05)
  },
  drillPatience,
)

test('a plan that no single move makes better is also sought from one panel after another', () => {
  const dice = new SeededDice(2_089_179_223)
  const shop = planned(dice, { panels: dice.between(1, 3), coats: 1 })
  expect(share(sumOfForecast(shop), optimumOf(shop.lines))).toBeLessThanOrEqual(1.05)
})
