import type { CommandData } from '../commands.ts'
import type { Deciding, Decision } from '../deciding.ts'
import { judge } from '../judge.ts'
import { cupUnknown, notFrom } from './decide.ts'
import { findCup } from './find.ts'
import { roomProblems } from './room.ts'

/** A stored mix was stirred, strained, or a card sprayed with it. */
export function checkCup(d: Deciding<'CheckCup', CommandData<'CheckCup'>>): Decision {
  const { cup: id, done } = d.data
  const cup = findCup(d, id)
  const problems = cup ? notFrom(d, id, 'CupChecked') : [cupUnknown(id)]
  const verdict = judge({ isLive: d.isLive, now: d.now, problems })
  if ('refusal' in verdict) return verdict
  const job = cup?.job ?? null
  const keys = { cup: id, ...(job === null ? {} : { job }) }
  return { facts: [{ type: 'CupChecked', keys, data: { done }, marks: verdict.marks() }] }
}

/** What is left in a cup, as it was weighed or seen: it corrects what was estimated. */
export function measureCup(d: Deciding<'MeasureCup', CommandData<'MeasureCup'>>): Decision {
  const { cup: id, leftMl } = d.data
  const cup = findCup(d, id)
  const problems = cup
    ? [...notFrom(d, id, 'CupMeasured'), ...roomProblems(id, cup.totalMl, leftMl)]
    : [cupUnknown(id)]
  const verdict = judge({ isLive: d.isLive, now: d.now, problems })
  if ('refusal' in verdict) return verdict
  const job = cup?.job ?? null
  const keys = { cup: id, ...(job === null ? {} : { job }) }
  return { facts: [{ type: 'CupMeasured', keys, data: { leftMl }, marks: verdict.marks() }] }
}
