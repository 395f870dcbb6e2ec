import { isJobClosed } from '../../machines/panel/find.ts'
import { routeState } from '../../machines/panel/where.ts'
import { contextOf, type State } from '../../machines/state.ts'

/** What panels and jobs are called where several vehicles are in sight. Pure. */

/** So many letters of a job are read beside a panel; what comes after them may be cut off. */
const READ = 24

const read = (text: string): string => text.trim().slice(0, READ).toLowerCase()

/** A job by what tells it from every other open one, that first: its title, else its vehicle, else its number. */
export function jobName(state: State, id: string): string {
  const job = contextOf(state, 'job', id)
  if (!job) return id
  const others = Object.entries(state.things.job).flatMap(([other, { context }]) =>
    other === id || isJobClosed(state, other) ? [] : [context],
  )
  const isOwn = (of: 'title' | 'vehicle') =>
    Boolean(job[of]) && others.every((other) => read(other[of] ?? '') !== read(job[of] ?? ''))
  if (isOwn('title')) return job.title
  return `${isOwn('vehicle') ? job.vehicle : id.slice(0, 4)} · ${job.title}`
}

/** A name as no other of a job is read: "Bracket", "Bracket 2". Of a long one the number stands where it is read. */
export function ownName(name: string, taken: readonly string[]): string {
  const isTaken = (one: string) => taken.some((other) => read(other) === read(one))
  const start = name.length > READ ? `${name.slice(0, READ - 5).trimEnd()}…` : name
  let own = name
  for (let n = 2; isTaken(own); n += 1) own = `${start} ${n}`
  return own
}

/** Names of panels of one job, with as much of the job as is read beside them. */
export function withJob(state: State, job: string, names: string): string {
  const name = jobName(state, job)
  return `${names} (${name.length > READ ? `${name.slice(0, READ - 1)}…` : name})`
}

/**
 * A panel in a list, a bell or a bar: with its job where a panel of another open job has the same name.
 * @param unknown what it is called where this kiosk does not hold it
 */
export function panelName(state: State | null, id: string, unknown = id): string {
  if (state === null) return unknown
  const panel = contextOf(state, 'panel', id)
  if (!panel?.name) return unknown
  const isShared = Object.values(state.things.panel).some(
    ({ context, value }) =>
      context.job !== panel.job &&
      read(context.name) === read(panel.name) &&
      routeState(value) !== 'removed' &&
      !isJobClosed(state, context.job),
  )
  return isShared ? withJob(state, panel.job, panel.name) : panel.name
}
