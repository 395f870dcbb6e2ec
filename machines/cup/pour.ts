import type { CommandData } from '../commands.ts'
import { type Deciding, type Decision, type NewFact, refused } from '../deciding.ts'
import { judge } from '../judge.ts'
import type { Problem } from '../refusals.ts'
import { sheetAt } from '../sheet/fold.ts'
import { chosenOptions, potLives } from '../sheet/intervals.ts'
import { isTaken, taken } from './decide.ts'
import { earliest } from './ends.ts'
import { cupProblems, findCup } from './find.ts'
import type { CupContents, CupContext, PotClock } from './machine.ts'

type Pour = Deciding<'PourCup', CommandData<'PourCup'>>
type Parent = { readonly id: string; readonly cup: CupContext; readonly ml: number | undefined }

const leftMl = (cup: CupContext): number => Math.max(0, cup.totalMl - cup.pouredMl)
const takenMl = ({ cup, ml }: Parent): number => ml ?? leftMl(cup)

/** Only the same product and colour go together; and no more than a cup can hold. */
function mixProblems(parents: readonly Parent[]): Problem[] {
  const first = parents[0]?.cup
  return parents.flatMap(({ id, cup, ml }): Problem[] => {
    if (first && cup.sheet !== first.sheet) {
      return [{ code: 'wrongProduct', limit: first.sheet, value: cup.sheet, about: `cup ${id}` }]
    }
    if (first && cup.colour !== first.colour) {
      return [{ code: 'wrongColour', limit: first.colour, value: cup.colour, about: `cup ${id}` }]
    }
    return (ml ?? 0) > leftMl(cup)
      ? [{ code: 'noRoom', limit: leftMl(cup), value: ml ?? 0, about: id }]
      : []
  })
}

/** Activator put in now starts a clock of its own, where the product has not got one yet. */
function activated(
  d: Pour,
  parents: readonly Parent[],
  zone: string,
): { clocks: PotClock[]; activator: string | null } {
  const first = parents[0]?.cup
  const added = d.data.add.find((a) => a.role === 'activator')
  const saved = sheetAt(d.state, first?.sheet, d.at)
  if (!first || !added || !saved) return { clocks: [], activator: null }
  const reducer = d.data.add.find((a) => a.role === 'reducer')?.name ?? first.reducer ?? undefined
  const intervals = potLives(saved.sheet, chosenOptions(saved.sheet, added.name, reducer))
  return {
    clocks: intervals.map((interval) => ({ startMs: d.at, zone, interval })),
    activator: added.name,
  }
}

/** The child's contents. Its clocks are all its parents', and what their labels say: nothing extends a cup. */
function childOf(d: Pour, parents: readonly Parent[]): CupContents {
  const first = (parents[0] as Parent).cup
  const fresh = activated(d, parents, first.zone)
  const addedMl = d.data.add.reduce((sum, a) => sum + a.ml, 0)
  const clocks = [...parents.flatMap((p) => p.cup.clocks), ...fresh.clocks]
  const labels = parents.flatMap(({ cup }) => [cup.untilMs, ...cup.prints.map((p) => p.untilMs)])
  const keeps = earliest(parents.map((p) => p.cup.keepUntilMs))
  return {
    sheet: first.sheet,
    sheetVersion: first.sheetVersion,
    stage: first.stage,
    name: first.name,
    totalMl: parents.reduce((sum, p) => sum + takenMl(p), 0) + addedMl,
    ratio: first.ratio,
    by: first.by,
    zone: first.zone,
    colour: first.colour,
    activator: fresh.activator ?? first.activator,
    reducer: d.data.add.find((a) => a.role === 'reducer')?.name ?? first.reducer,
    clocks,
    keepUntilMs: clocks.length > 0 ? null : keeps,
    induction: parents.map((p) => p.cup.induction).findLast((i) => i !== null) ?? null,
    untilMs: earliest(clocks.length > 0 ? [...labels, keeps] : labels),
  }
}

/**
 * Decanted, joined, topped up, activated: a pour always makes a new cup. One fact for each parent
 * and one for the child.
 */
export function pourCup(d: Pour): Decision {
  const { cup: childId, from, add, override } = d.data
  if (isTaken(d, childId)) return refused(d, taken(childId))
  const parents: Parent[] = []
  const problems: Problem[] = []
  for (const { cup: id, ml } of from) {
    const cup = findCup(d, id)
    problems.push(...cupProblems(d, id, cup, d.at).filter((p) => p.code !== 'inductionNotOver'))
    // A child of a cup that the log does not know has no contents: that makes no sense at any time.
    if (!cup) return refused(d, { code: 'cupUnknown', limit: 'a mixed cup', value: id })
    parents.push({ id, cup, ml })
  }
  problems.push(...mixProblems(parents))
  const verdict = judge({ isLive: d.isLive, now: d.now, problems, override })
  if ('refusal' in verdict) return verdict
  const marks = verdict.marks()
  const job = parents[0]?.cup.job ?? null
  const jobKey = job === null ? {} : { job }
  const facts: NewFact[] = parents.map((p) => ({
    type: 'CupPoured',
    keys: { cup: p.id, sheet: p.cup.sheet, ...(p.cup.job === null ? {} : { job: p.cup.job }) },
    data: {
      role: 'parent',
      into: childId,
      ml: takenMl(p),
      isAll: p.ml === undefined || takenMl(p) >= leftMl(p.cup),
    },
    marks,
  }))
  const contents = childOf(d, parents)
  facts.push({
    type: 'CupPoured',
    keys: { cup: childId, sheet: contents.sheet, ...jobKey },
    data: {
      role: 'child',
      parents: parents.map((p) => p.id),
      ...contents,
      ...(add.length > 0 ? { add } : {}),
    },
    marks,
  })
  return { facts }
}
