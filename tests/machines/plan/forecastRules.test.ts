import { expect, test } from 'vitest'
import { forecastOf } from '../../../machines/plan/forecast.ts'
import type { Forecast } from '../../../machines/plan/forecastTypes.ts'
import {
  handKey,
  type LearnedFigures,
  matteKey,
  sprayKey,
} from '../../../machines/plan/learning.ts'
import { drill, drillPatience, SeededDice } from '../../support/drill.ts'
import { MATTE_BASE } from '../../support/learningShop.ts'
import { type PlannedShop, planShop } from '../../support/planShop.ts'
import { playPlan } from '../../support/playPlan.ts'

/** No plan asks for what the rules do not allow: each is played through them, press by press. */

/** How many acts that take a painter go on at once. */
function atOnce({ acts }: Forecast): number {
  const taken = acts
    .filter(({ kind }) => kind !== 'cure')
    .map((act) => ({ fromMs: act.setUpFromMs ?? act.fromMs, toMs: act.toMs }))
  return Math.max(
    0,
    ...taken.map(({ fromMs }) => taken.filter((a) => a.fromMs <= fromMs && fromMs < a.toMs).length),
  )
}

function check({ shop, air, hasHours }: PlannedShop, forecast: Forecast, round: number): void {
  const said = `round ${round}`
  expect(forecast.cannot, said).toEqual([])
  expect(atOnce(forecast), said).toBeLessThanOrEqual(
    forecast.means.painters + forecast.means.preppers,
  )
  if (hasHours)
    for (const { kind, mode, fromMs, toMs, setUpFromMs } of forecast.acts) {
      if (kind === 'cure' && mode === 'air') continue
      const [from, to] = [setUpFromMs ?? fromMs, toMs].map((ms) =>
        new Date(ms).toISOString().slice(11, 16),
      )
      expect(from && from >= '07:30' && to && to <= '16:30', `${said} ${from} ${to}`).toBe(true)
    }
  const fork = shop.fork()
  const { refused } = playPlan(fork, forecast, air)
  expect(refused, said).toEqual([])
  // What was forecast is what came: each panel is through when it was said.
  for (const { job, doneAtMs } of forecast.jobs) {
    const ends = Object.values(fork.state.things.panel)
      .filter(({ context }) => context.job === job)
      .flatMap(({ entries }) => entries.at(-1)?.at ?? [])
    expect(Math.max(...ends, forecast.atMs), said).toBe(doneAtMs)
  }
}

/** A shop whose work takes otherwise than its sheets say. */
function someFigures(dice: SeededDice): LearnedFigures {
  const some = (key: string) => {
    const factor = 0.6 + 0.8 * dice.next()
    const spread: [number, number] = [factor * 0.8, factor * 1.25]
    return [key, { factor, spread, median: factor, cases: 20, sheetWeight: 0 }] as const
  }
  const keys = [sprayKey('base'), sprayKey('clear'), matteKey(MATTE_BASE.sheet), handKey('abrade')]
  return Object.fromEntries(keys.map(some))
}

/** @returns how many acts the first plan has */
function planAndPlay(dice: SeededDice, round: number): number {
  const planned = planShop(dice, { jobs: 3, panels: 2 })
  const figures = someFigures(dice)
  const first = forecastOf(planned.shop.state, planned.shop.now, { figures })
  check(planned, first, round)
  // From the middle of it the rest is planned anew, by what really happened until then.
  const half = first.acts[Math.floor(first.acts.length / 2)]
  if (half) {
    const { shop, air } = planned
    playPlan(shop, first, air, half.fromMs)
    shop.now = Math.max(shop.now, half.fromMs)
    check(planned, forecastOf(shop.state, shop.now, { figures }), round)
  }
  return first.acts.length
}

test(
  'what is planned is taken by the rules at its moment, from the first press to the last',
  () => {
    const { rounds, dice, done, count } = drill('plans played', { small: 20, long: 300 })
    for (let round = 0; round < rounds; round += 1) count('acts', planAndPlay(dice, round))
    done()
  },
  drillPatience,
)

test('a bake and the cleaning of a gun in its zone are not planned for one instant', () => {
  planAndPlay(new SeededDice(2_469_754_260), 0)
})
