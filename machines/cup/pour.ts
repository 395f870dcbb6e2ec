import type { CommandData } from '../commands.ts'
import { type Deciding, type Decision, type NewFact, refused, unknown } from '../deciding.ts'
import { judge, type Marks } from '../judge.ts'
import type { Problem, RefusalCode } from '../refusals.ts'
import { sheetAt } from '../sheet/fold.ts'
import { chosenOptions } from '../sheet/intervals.ts'
import { colourOf, colourText } from './colours.ts'
import { childOf, leftMl, outOf, type Parent } from './contents.ts'
import { isTaken, taken } from './decide.ts'
import { cupProblems, findCup } from './find.ts'
import type { CupContext } from './machine.ts'
import { isSameColour } from './paint.ts'
import { rangeProblems } from './range.ts'
import { roomProblems } from './room.ts'
import { sharedWith } from './several.ts'

/** What speaks against spraying from a cup, not against pouring it. */
export const OF_SPRAYING: readonly RefusalCode[] = ['inductionNotOver', 'ratioOff', 'noActivator']

type Pour = Deciding<'PourCup', CommandData<'PourCup'>>

/** Only the same product and color may be poured together, and no more than a cup can hold. */
function mixProblems({ state }: Pour, parents: readonly Parent[]): Problem[] {
  const first = parents[0]?.cup
  return parents.flatMap(({ id, cup, ml }): Problem[] => {
    if (first && cup.sheet !== first.sheet) {
      return [{ code: 'wrongProduct', limit: first.sheet, value: cup.sheet, about: id }]
    }
    const [wanted, held] = [first && colourOf(state, first), colourOf(state, cup)]
    if (wanted && !isSameColour(wanted, held)) {
      const limit = colourText(state, wanted, held)
      const value = colourText(state, held, wanted)
      return [{ code: 'wrongColour', limit, value, about: id }]
    }
    return ml === undefined ? [] : roomProblems(id, leftMl(cup), ml)
  })
}

/** An activator or reducer that the sheet does not name has no known pot life. */
function addProblems(d: Pour, first: CupContext): Problem[] {
  const saved = sheetAt(d.state, first.sheet, d.at)
  if (!saved) return []
  const { components, activators, reducers } = saved.sheet
  return d.data.add.flatMap((added) => {
    if (added.role !== 'activator' && added.role !== 'reducer') return []
    const options = added.role === 'activator' ? activators : reducers
    const names = [...options, ...components.filter((c) => c.role === added.role)].map(
      (o) => o.name,
    )
    if (names.includes(added.name)) return []
    return [unknown(added.role, added.name, names)]
  })
}

const nameOf = ({ name }: { readonly name: string }): string => name

/** What goes in now is meant for the air where the cup stands, or is marked. */
function addedProblems(d: Pour, first: CupContext): Problem[] {
  const saved = sheetAt(d.state, first.sheet, d.at)
  const named = (role: string) => d.data.add.filter((one) => one.role === role).map(nameOf)
  const [activator, reducer] = [named('activator')[0], named('reducer')[0]]
  return saved
    ? rangeProblems(
        d,
        first.zone,
        chosenOptions(saved.sheet, activator, reducer, named('additive')),
      )
    : []
}

const keysOf = (id: string, cup: CupContext | null) => ({
  cup: id,
  ...(cup ? { sheet: cup.sheet, ...(cup.job === null ? {} : { job: cup.job }) } : {}),
})

/** What is put in is in the new cup alone. */
function ofParent({ outside = [], ...marks }: Marks): Marks {
  const own = outside.filter(({ code }) => code !== 'optionOutside')
  return { ...marks, ...(own.length > 0 ? { outside: own } : {}) }
}

/**
 * Decanted, joined, topped up, activated: a pour always makes a new cup. One fact for each parent
 * and one for the child. Said late of a cup that is not known yet it is kept: the child has its
 * contents once that cup comes (complete.ts).
 */
export function pourCup(d: Pour): Decision {
  const { cup: childId, from, add, markMl, override } = d.data
  if (isTaken(d, childId)) return refused(taken(childId))
  const all = from.map(({ cup: id, ml }) => ({ id, ml, cup: findCup(d, id) }))
  const parents = all.flatMap(({ id, ml, cup }) => (cup ? [{ id, ml, cup }] : []))
  const first = parents[0]?.cup
  const problems = [
    ...all.flatMap(({ id, cup }) =>
      cupProblems(d, id, cup, d.at).filter((p) => !OF_SPRAYING.includes(p.code)),
    ),
    ...mixProblems(d, parents),
    ...(first ? [...addProblems(d, first), ...addedProblems(d, first)] : []),
  ]
  const verdict = judge({ isLive: d.isLive, now: d.now, problems, override })
  if ('refusal' in verdict) return verdict
  const marks = verdict.marks()
  const isWhole = parents.length === all.length
  const facts = all.map(({ id, ml, cup }): NewFact => {
    const out = cup ? outOf({ id, ml, cup }) : { ml: ml ?? null, isAll: ml === undefined }
    const data = { role: 'parent', into: childId, ...out, asked: ml ?? null }
    return { type: 'CupPoured', keys: keysOf(id, cup), data, marks: ofParent(marks) }
  })
  const contents = isWhole ? childOf({ state: d.state, at: d.at, parents, add, markMl }) : null
  facts.push({
    type: 'CupPoured',
    keys: keysOf(childId, isWhole ? (first ?? null) : null),
    data: {
      role: 'child',
      parents: all.map(({ id }) => id),
      from,
      ...(contents ?? {}),
      ...(add.length > 0 ? { add } : {}),
      ...(markMl === undefined ? {} : { markMl }),
    },
    marks,
  })
  return { facts: [...facts, ...(contents ? sharedWith(d, childId, contents) : [])] }
}
