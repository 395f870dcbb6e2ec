/**
 * Schedulers of the tests alone, for shops of one painter with one gun, air that stays as it is and windows
 * that never shut. They know the minutes of each coat and nothing of the rules.
 */

/** A coat: what it is sprayed with, how long it takes, and how long its film then has to stand. */
export type Task = {
  readonly material: string
  readonly isMixed: boolean
  readonly min: number
  readonly standMin: number
}
export type Line = { readonly job: string; readonly tasks: readonly Task[] }

/** Mixing a cup for a job, changing the gun: as the plan takes them. */
const MIX_MIN = 5
const CHANGE_MIN = 5

type Standing = {
  free: number
  gun: string | null
  readonly cups: Set<string>
  readonly ready: number[]
  readonly done: number[]
  readonly next: number[]
}

const begin = (lines: readonly Line[]): Standing => ({
  ...{ free: 0, gun: null, cups: new Set<string>() },
  ready: lines.map(() => 0),
  done: lines.map(() => 0),
  next: lines.map(() => 0),
})

function startOf(s: Standing, lines: readonly Line[], i: number): number {
  const { job, tasks } = lines[i] as Line
  const task = tasks[s.next[i] as number] as Task
  const isFresh = task.isMixed && !s.cups.has(`${job} ${task.material}`)
  const isOther = task.isMixed && s.gun !== null && s.gun !== task.material
  const setUp = (isFresh ? MIX_MIN : 0) + (isOther ? CHANGE_MIN : 0)
  return Math.max(s.free + setUp, s.ready[i] as number)
}

function put(s: Standing, lines: readonly Line[], i: number): void {
  const { job, tasks } = lines[i] as Line
  const task = tasks[s.next[i] as number] as Task
  const start = startOf(s, lines, i)
  s.free = start + task.min
  if (task.isMixed) {
    s.gun = task.material
    s.cups.add(`${job} ${task.material}`)
  }
  s.done[i] = s.free
  s.ready[i] = s.free + task.standMin
  s.next[i] = (s.next[i] as number) + 1
}

/** The sum over jobs of when each is done. */
export function sumOf(lines: readonly Line[], done: readonly number[]): number {
  const jobs = new Map<string, number>()
  for (const [i, { job }] of lines.entries())
    jobs.set(job, Math.max(jobs.get(job) ?? 0, done[i] as number))
  return [...jobs.values()].reduce((sum, end) => sum + end, 0)
}

/** List scheduling: of what could begin first, what comes first in the order. */
export function listed(lines: readonly Line[], order: readonly number[]): number {
  const s = begin(lines)
  for (;;) {
    const open = order.filter((i) => (s.next[i] as number) < (lines[i] as Line).tasks.length)
    if (open.length === 0) return sumOf(lines, s.done)
    const first = Math.min(...open.map((i) => startOf(s, lines, i)))
    put(s, lines, open.find((i) => startOf(s, lines, i) <= first) as number)
  }
}

/** Every order of some numbers. */
export function ordersOf(items: readonly number[]): number[][] {
  if (items.length <= 1) return [[...items]]
  return items.flatMap((one) =>
    ordersOf(items.filter((other) => other !== one)).map((rest) => [one, ...rest]),
  )
}

export const bestOfOrders = (lines: readonly Line[]): number =>
  Math.min(...ordersOf(lines.map((_, i) => i)).map((order) => listed(lines, order)))

const copied = (s: Standing): Standing => ({
  ...s,
  ...{ cups: new Set(s.cups), ready: [...s.ready], done: [...s.done], next: [...s.next] },
})

/** The least sum there is: every sequence in which one painter could spray all of it. */
export function optimumOf(lines: readonly Line[]): number {
  let best = Number.POSITIVE_INFINITY
  const go = (s: Standing): void => {
    const open = lines.flatMap(({ tasks }, i) => ((s.next[i] as number) < tasks.length ? [i] : []))
    if (open.length === 0) best = Math.min(best, sumOf(lines, s.done))
    for (const i of open) {
      const next = copied(s)
      put(next, lines, i)
      go(next)
    }
  }
  go(begin(lines))
  return best
}
