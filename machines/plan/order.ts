import type { PanelContext } from '../panel/context.ts'
import { LATEST } from '../panel/gate.ts'
import { sheetAt } from '../sheet/fold.ts'
import { isSprayed } from '../sheet/schema.ts'
import type { Patience, Plan, Way } from './choice.ts'
import type { Start } from './estimate.ts'
import type { Means } from './forecastTypes.ts'
import { type Asking, handMs } from './nextAct.ts'
import { scheduled } from './schedule.ts'

/**
 * In which order of priority panels are planned: so that the sum over the jobs of when each is done is
 * least, then the last of them. Few panels are tried in many orders, many by a rule: the job with the least
 * left first, of its panels the one with the longest way.
 */

/** What a panel still takes as its sheets say it, ms, with its waits: a measure for the order and no forecast. */
function leftMs(asking: Asking, { route, status, areaM2 }: PanelContext): number {
  let sum = 0
  for (const [i, { stage, sheet, coats, work }] of route.entries()) {
    if (status[i] !== 'open') continue
    const saved = sheetAt(asking.state, sheet, LATEST)?.sheet
    if (isSprayed(stage)) {
      const flashMin = saved?.flashBetween[0]?.minutes ?? 0
      sum += (coats?.planned ?? 1) * 60_000 * (Math.max(1, 2 * (areaM2 ?? 0)) + flashMin)
    } else if (stage === 'cure') sum += 60_000 * (saved?.cure.bake?.[0]?.minutes ?? 0)
    else sum += handMs(asking.lengths, work ?? stage)
  }
  return sum
}

/** The order of the rule first; then the panels alone, those with the longest and with the shortest way first. */
function ordersOf(asking: Asking, starts: readonly Start[]): [string[], string[], string[]] {
  const left = new Map(starts.map(({ id, panel }) => [id, leftMs(asking, panel)]))
  const ofJob = new Map<string, number>()
  for (const { id, panel } of starts)
    ofJob.set(panel.job, (ofJob.get(panel.job) ?? 0) + (left.get(id) ?? 0))
  const longest = (a: Start, b: Start) => (left.get(b.id) ?? 0) - (left.get(a.id) ?? 0)
  const shortestJob = (a: Start, b: Start) =>
    (ofJob.get(a.panel.job) ?? 0) - (ofJob.get(b.panel.job) ?? 0)
  const ids = (sorted: readonly Start[]) => sorted.map(({ id }) => id)
  const alone = ids(starts.toSorted(longest))
  return [
    ids(starts.toSorted((a, b) => shortestJob(a, b) || longest(a, b))),
    alone,
    alone.toReversed(),
  ]
}

/** What cannot be planned counts as if it were done in a year. */
const NEVER_MS = 365 * 86_400_000

/** The sum over jobs of when each is done, then the last of them. @returns ms from now on; less is better */
export function costOf(starts: readonly Start[], { doneAt }: Plan, now: number): number {
  const jobs = new Map<string, number>()
  for (const { id, panel } of starts)
    jobs.set(panel.job, Math.max(jobs.get(panel.job) ?? now, doneAt.get(id) ?? now + NEVER_MS))
  const ends = [...jobs.values()].map((end) => end - now)
  return ends.reduce((sum, end) => sum + end, 0) + 1e-6 * Math.max(0, ...ends)
}

export type Ordered = { readonly plan: Plan; readonly way: Way }
type Tried = Ordered & { readonly cost: number }

/** So many panels are tried in many orders, and so many acts each at another place. */
const PANELS_MOST = 6
const ACTS_MOST = 14
const PATIENCES: readonly Patience[] = [0, 1]

/** A plan that is better by less than this is no better: it would only begin otherwise than the rule says. */
const LEAST_MS = 1

/** A list with the item at one place put at another. */
function moved<T>(list: readonly T[], from: number, to: number): T[] {
  const others = list.toSpliced(from, 1)
  return others.toSpliced(to, 0, ...list.slice(from, from + 1))
}

/** The best that moving one item at a time leads to. */
function climbed(list: readonly string[], first: Tried, tried: (list: string[]) => Tried): Tried {
  let best = first
  let here = list
  for (let isBetter = true; isBetter; ) {
    isBetter = false
    for (let from = 0; from < here.length; from += 1)
      for (let to = 0; to < here.length; to += 1) {
        if (here[from] === here[to]) continue
        const list = moved(here, from, to)
        const other = tried(list)
        if (other.cost >= best.cost - LEAST_MS) continue
        best = other
        here = list
        isBetter = true
      }
  }
  return best
}

/** The best plan that is found. The same shop gives the same plan. */
export function ordered(asking: Asking, means: Means, starts: readonly Start[]): Ordered {
  // Moves lead to the same order again and again, and from other beginnings too.
  const known = new Map<string, Tried>()
  const tried = (way: Way): Tried => {
    const name = 'order' in way ? `${way.patience} ${way.order}` : `${way.sequence}`
    const before = known.get(name)
    if (before) return before
    const plan = scheduled(asking, means, starts, way)
    const now = { plan, way, cost: costOf(starts, plan, asking.now) }
    known.set(name, now)
    return now
  }
  const [first, ...others] = ordersOf(asking, starts)
  const ruled = tried({ order: first, patience: 0 })
  if (starts.length < 2 || starts.length > PANELS_MOST) return ruled
  let best = ruled
  const climb = (from: string[]) => {
    for (const patience of PATIENCES) {
      const at = (order: string[]) => tried({ order, patience })
      const found = climbed(from, at(from), at)
      if (found.cost < best.cost) best = found
    }
  }
  climb(first)
  const acts = best.plan.acts.filter(({ kind, mode }) => kind !== 'cure' || mode !== 'air')
  if (acts.length > ACTS_MOST) {
    // So many are not put elsewhere one by one: their orders are tried from other beginnings.
    for (const order of others) climb(order)
    return best
  }
  const bySequence = (sequence: string[]) => tried({ sequence })
  const sequence = acts.map(({ panel }) => panel)
  const moves = climbed(sequence, best, bySequence)
  // Moving one act at a time does not lead to every plan: also from one panel wholly after another.
  const inTurn = first.flatMap((id) => sequence.filter((panel) => panel === id))
  const turns = climbed(inTurn, bySequence(inTurn), bySequence)
  return turns.cost < moves.cost - LEAST_MS ? turns : moves
}
