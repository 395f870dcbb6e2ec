import type { CommandData } from '../commands.ts'
import type { Parent } from '../cup/contents.ts'
import { isTaken, taken } from '../cup/decide.ts'
import { findCup } from '../cup/find.ts'
import { sharedWith } from '../cup/several.ts'
import { type Deciding, type Decision, type NewFact, refused, thingThen } from '../deciding.ts'
import { judge } from '../judge.ts'
import type { Problem } from '../refusals.ts'
import { cupsOf, heldIn } from './back.ts'
import { gunEndsAt, holding } from './find.ts'

type Back = Deciding<'PourBack', CommandData<'PourBack'>>

/**
 * What is left in a gun goes into a clean cup, because its own is empty, was thrown away or would take
 * harm: a cup of its own from then on, with the clocks of the cups that it came from and those of the gun.
 * Nothing extends them. The gun keeps its clock until it is rinsed or cleaned.
 * Refuses an id that is in use (`idTaken`), an empty gun (`gunEmpty`), and one with two materials in it or
 * past its time (`gunHolds`).
 * @param ml how much came out of it, mL
 */
export function pourIntoCleanCup(d: Back, ml: number): Decision {
  const { gun: id, cup, override } = d.data
  if (isTaken(d, cup)) return refused(taken(cup))
  const thing = thingThen(d, { kind: 'gun', id })
  const loads = thing?.context.loads ?? []
  const about = thing?.context.spec?.name ?? id
  const cups = cupsOf(loads)
  // Of an empty gun no cup can be made, whenever that is said.
  if (!thing || cups.length === 0)
    return refused({ code: 'gunEmpty', limit: null, value: id, about })
  const ends = gunEndsAt(d.state, thing.context)
  const isOver = ends !== null && d.at >= ends
  const from = cups.map((one) => ({ cup: one, ml: ml / cups.length }))
  const parents = from.flatMap((part): Parent[] => {
    const known = findCup(d, part.cup)
    return known ? [{ id: part.cup, cup: known, ml: part.ml }] : []
  })
  const unknown = cups.filter((one) => !parents.some((parent) => parent.id === one))
  const holds = [holding(id, thing.context, loads.at(-1)?.sheet ?? null, isOver)]
  const problems: Problem[] = [
    ...unknown.map((one): Problem => ({ code: 'cupUnknown', limit: null, value: one })),
    ...(thing.value === 'dirty' || isOver ? holds : []),
  ]
  const verdict = judge({ isLive: d.isLive, now: d.now, problems, override })
  if ('refusal' in verdict) return verdict
  const marks = verdict.marks()
  const child = { role: 'child', parents: cups }
  // Without one of its cups it waits for that one (complete.ts), to which it is tied without taking of it.
  if (unknown.length > 0) {
    const out = { role: 'parent', into: cup, ml: 0, isAll: false }
    const ties = cups.map((one): NewFact => ({ type: 'CupPoured', keys: { cup: one }, data: out }))
    const waits = {
      type: 'CupPoured',
      keys: { cup, gun: id },
      data: { ...child, from },
      marks,
    } as const
    return { facts: [...ties, waits] }
  }
  const contents = heldIn({ state: d.state, at: d.at, parents, loads })
  const job = parents[0]?.cup.job ?? null
  const keys = { cup, gun: id, sheet: contents.sheet, ...(job === null ? {} : { job }) }
  return {
    facts: [
      { type: 'CupPoured', keys, data: { ...child, ...contents }, marks },
      ...sharedWith(d, cup, contents),
    ],
  }
}
