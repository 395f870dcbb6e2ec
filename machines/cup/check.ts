import type { CommandData } from '../commands.ts'
import type { Deciding, Decision } from '../deciding.ts'
import { judge } from '../judge.ts'
import type { Problem } from '../refusals.ts'
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

/** A cup is carried to another zone: its clock goes on in the air there. */
export function moveCup(d: Deciding<'MoveCup', CommandData<'MoveCup'>>): Decision {
  const { cup: id, zone } = d.data
  const cup = findCup(d, id)
  const problems: Problem[] = cup ? notFrom(d, id, 'CupMoved') : [cupUnknown(id)]
  const verdict = judge({ isLive: d.isLive, now: d.now, problems })
  if ('refusal' in verdict) return verdict
  const job = cup?.job ?? null
  const keys = { cup: id, zone, ...(job === null ? {} : { job }) }
  return { facts: [{ type: 'CupMoved', keys, data: { zone }, marks: verdict.marks() }] }
}
