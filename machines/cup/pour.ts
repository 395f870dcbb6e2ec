import type { CommandData } from '../commands.ts'
import { type Deciding, type Decision, type NewFact, refused, unknown } from '../deciding.ts'
import { judge } from '../judge.ts'
import type { Problem } from '../refusals.ts'
import { sheetAt } from '../sheet/fold.ts'
import { chosenOptions, potLives } from '../sheet/intervals.ts'
import { isTaken, taken } from './decide.ts'
import { earliest } from './ends.ts'
import { cupProblems, findCup } from './find.ts'
import type { CupContents, CupContext, PotClock } from './machine.ts'
import { joinedMixes } from './mixes.ts'

type Pour = Deciding<'PourCup', CommandData<'PourCup'>>
type Parent = { readonly id: string; readonly cup: CupContext; readonly ml: number | undefined }

const leftMl = (cup: CupContext): number => Math.max(0, cup.totalMl - cup.pouredMl)
const takenMl = ({ cup, ml }: Parent): number => ml ?? leftMl(cup)

/** Only the same product and color may be poured together, and no more than a cup can hold. */
function mixProblems(parents: readonly Parent[]): Problem[] {
  const first = parents[0]?.cup
  return parents.flatMap(({ id, cup, ml }): Problem[] => {
    if (first && cup.sheet !== first.sheet) {
      return [{ code: 'wrongProduct', limit: first.sheet, value: cup.sheet, about: id }]
    }
    if (first && cup.colour !== first.colour) {
      return [{ code: 'wrongColour', limit: first.colour, value: cup.colour, about: id }]
    }
    return (ml ?? 0) > leftMl(cup)
      ? [{ code: 'noRoom', limit: leftMl(cup), value: ml ?? 0, about: id }]
      : []
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

type Fresh = { clocks: PotClock[]; activator: string | null; induction: PotClock | null }

/** Activator put in now starts its own clocks, and the induction time. */
function activated(d: Pour, first: CupContext): Fresh {
  const added = d.data.add.find((a) => a.role === 'activator')
  const saved = sheetAt(d.state, first.sheet, d.at)
  if (!added || !saved) return { clocks: [], activator: null, induction: null }
  const reducer = d.data.add.find((a) => a.role === 'reducer')?.name ?? first.reducer ?? undefined
  const intervals = potLives(saved.sheet, chosenOptions(saved.sheet, added.name, reducer))
  const started = (interval: PotClock['interval']) => ({
    startMs: d.at,
    zone: first.zone,
    interval,
  })
  const { induction } = saved.sheet
  return {
    clocks: intervals.map(started),
    activator: added.name,
    induction: induction ? started({ kind: 'notBefore', points: induction }) : null,
  }
}

/** Of several induction times, the one that began last. */
const latestOf = (clocks: readonly (PotClock | null)[]): PotClock | null =>
  clocks
    .filter((clock) => clock !== null)
    .reduce<PotClock | null>((a, b) => (a !== null && a.startMs >= b.startMs ? a : b), null)

/** What any of the parents has in it: a stored base joined to an activated one is activated. */
const named = (parents: readonly Parent[], of: (cup: CupContext) => string | null) =>
  parents.map((p) => of(p.cup)).find((name) => name !== null) ?? null

/**
 * The ratio with what was added, in parts of the same volume. Parts by mass stay as they were: what
 * was added is known in mL only, and the entry carries it.
 */
function ratioWith(cup: CupContext, parentsMl: number, add: Pour['data']['add']): string {
  const parts = cup.ratio.split(':').map(Number)
  const partMl = parentsMl / parts.reduce((sum, part) => sum + part, 0)
  if (cup.by === 'mass' || !Number.isFinite(partMl) || partMl === 0) return cup.ratio
  const added = add.map((a) => Math.round((100 * a.ml) / partMl) / 100)
  return [...parts, ...added].join(':')
}

/** The new cup's contents. Its clocks are all those of its parents, with their labels' use-by: nothing extends a cup. */
function childOf(d: Pour, parents: readonly Parent[]): CupContents {
  const first = (parents[0] as Parent).cup
  const fresh = activated(d, first)
  const parentsMl = parents.reduce((sum, p) => sum + takenMl(p), 0)
  const addedMl = d.data.add.reduce((sum, a) => sum + a.ml, 0)
  const clocks = [...parents.flatMap((p) => p.cup.clocks), ...fresh.clocks]
  const labels = parents.flatMap(({ cup }) => [cup.untilMs, ...cup.prints.map((p) => p.untilMs)])
  const keeps = earliest(parents.map((p) => p.cup.keepUntilMs))
  const reducerIn = d.data.add.find((a) => a.role === 'reducer')?.name ?? null
  const whole = {
    activator: fresh.activator ?? named(parents, (cup) => cup.activator),
    reducer: reducerIn ?? named(parents, (cup) => cup.reducer),
  }
  const added = { activator: fresh.activator, reducer: reducerIn }
  const mixes = joinedMixes(
    parents.map((p) => p.cup),
    added,
    whole,
  )
  return {
    sheet: first.sheet,
    sheetVersion: first.sheetVersion,
    stage: first.stage,
    name: first.name,
    totalMl: parentsMl + addedMl,
    ratio: ratioWith(first, parentsMl, d.data.add),
    by: first.by,
    zone: first.zone,
    colour: first.colour,
    ...whole,
    ...(mixes.length > 1 ? { mixes } : {}),
    clocks,
    keepUntilMs: clocks.length > 0 ? null : keeps,
    induction: latestOf([...parents.map((p) => p.cup.induction), fresh.induction]),
    untilMs: earliest(clocks.length > 0 ? [...labels, keeps] : labels),
  }
}

/**
 * Decanted, joined, topped up, activated: a pour always makes a new cup. One fact for each parent
 * and one for the child.
 */
export function pourCup(d: Pour): Decision {
  const { cup: childId, from, add, override } = d.data
  if (isTaken(d, childId)) return refused(taken(childId))
  const parents: Parent[] = []
  const problems: Problem[] = []
  for (const { cup: id, ml } of from) {
    const cup = findCup(d, id)
    problems.push(...cupProblems(d, id, cup, d.at).filter((p) => p.code !== 'inductionNotOver'))
    // A child of a cup that the log does not know has no contents: that makes no sense at any time.
    if (!cup) return refused({ code: 'cupUnknown', limit: null, value: id })
    parents.push({ id, cup, ml })
  }
  problems.push(...mixProblems(parents), ...addProblems(d, (parents[0] as Parent).cup))
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
