import type { CommandType } from '../../machines/commands.ts'
import { FILTER_WORK, REVIEWS, TRAININGS } from '../../machines/records/commands.ts'
import { DISPOSITIONS } from '../../machines/trace/dispositions.ts'
import { type Maker, PEOPLE, ZONES } from './randomChoices.ts'
import type { Dice } from './randomDice.ts'

/** What a person says of the shop's records, and of what a trace shows. */

const DONE_MS = Date.UTC(2025, 5, 1)

/** A job with some of its panels. */
function jobIn({ state }: Parameters<Maker>[0], dice: Dice) {
  const [id, panel] = dice.of(Object.entries(state.things.panel)) ?? []
  const entry = panel && dice.of(panel.entries)
  return id && panel && entry && panel.context.job !== ''
    ? { job: panel.context.job, panels: [id], entry: entry.id }
    : null
}

export const recordMakers: { readonly [T in CommandType]?: Maker } = {
  RecordTraining: (_, dice) => ({
    data: { person: dice.of(PEOPLE), name: 'somebody', kind: dice.of(TRAININGS), doneMs: DONE_MS },
  }),
  ServiceFilter: (_, dice) => ({ data: { zone: dice.of(ZONES), what: dice.of(FILTER_WORK) } }),
  UseSolvent: (_, dice) => ({
    data: { zone: dice.of(ZONES), solvent: 'thinner', ml: dice.between(0, 900) },
  }),
  SettleDeviation: (day, dice) => {
    const about = jobIn(day, dice)
    if (!about) return null
    const { job, entry } = about
    const disposition = dice.of(DISPOSITIONS)
    return { data: { job, entry, code: 'flashNotOver', disposition, reason: 'looked at' } }
  },
  ReviewCause: (day, dice) => {
    const about = jobIn(day, dice)
    if (!about) return null
    const { job, panels } = about
    const verdict = dice.of(REVIEWS)
    const instead = verdict === 'edit' ? { instead: 'damp' } : {}
    const of = { defect: 'runs', cause: 'cold' }
    return { data: { job, panels, ...of, verdict, ...instead, reason: 'looked at' } }
  },
}
