import { type Deadline, type IsAbout, isPrompt, nearAt, ofAll } from '../bell/deadline.ts'
import { type State, thingOf } from '../state.ts'
import { cupEndsAt, inductionEndsAt } from './ends.ts'
import { keepEndsAt } from './keep.ts'
import type { CupContext } from './machine.ts'

/** Bells of a cup that is not empty: induction, pot life near and over, or the date that it keeps. */
function cupDues(state: State, id: string, cup: CupContext): Deadline[] {
  const made = (bell: Deadline['bell'], dueAt: number): Deadline => ({
    key: `${bell}:${id}`,
    bell,
    thing: { kind: 'cup', id },
    dueAt,
    ...(cup.job === null ? {} : { job: cup.job }),
  })
  const standsUntil = inductionEndsAt(state, cup)
  const dues = standsUntil === null ? [] : [made('inductionOver', standsUntil)]
  const endsAt = cupEndsAt(state, cup)
  if (endsAt !== null) {
    const startMs = Math.min(cup.mixedAt, ...cup.clocks.map((c) => c.startMs))
    dues.push(made('potNear', nearAt(startMs, endsAt, 10, 0.2)), made('potOver', endsAt))
    return dues
  }
  const keeps = keepEndsAt(state, cup)
  return keeps === null ? dues : [...dues, made('keepUntil', keeps)]
}

/** Bells of cups. A paused job's prompts are silent; its alarms are not. */
export function cupDeadlines(state: State, isAbout: IsAbout = ofAll): Deadline[] {
  return Object.entries(state.things.cup).flatMap(([id, thing]) => {
    if (!isAbout(id) || (thing.value !== 'live' && thing.value !== 'stored')) return []
    const cup = thing.context
    const isQuiet =
      cup.job !== null && thingOf(state, { kind: 'job', id: cup.job })?.value === 'paused'
    return cupDues(state, id, cup).filter((due) => !(isQuiet && isPrompt(due.bell)))
  })
}
