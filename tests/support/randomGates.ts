import type { Opens } from '../../machines/sheet/intervals.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { type Figure, usedUp, type Wait, type World } from './randomIntervals.ts'

/** Flash and window by steps through time. Within a step and a second of the end nobody can say. */

export type Answer3 = 'yes' | 'no' | 'close'

const FINEST_MS = 1_000
const STEPS = 1_500
const SECOND = 1_000

const isNothing = (wait: Wait) => wait.points.every((p) => p.minutes === 0)

/** Whether a wait that began has ended: lengths are whole seconds, rounded up. */
export function waitOver(wait: Wait, from: number, at: number, world: World): Answer3 {
  if (isNothing(wait)) return at >= from ? 'yes' : 'no'
  const stepMs = Math.max(FINEST_MS, (at - from) / STEPS)
  const now = usedUp(wait, world, from, at, stepMs)
  const slack = (u: typeof now) => u.error + 2 * u.fastest + 1e-9
  if (now.used < 1 - slack(now)) return 'no'
  const before = usedUp(wait, world, from, at - SECOND, stepMs)
  return before.used >= 1 + slack(before) ? 'yes' : 'close'
}

/** Whether a permission has ended: rounded down. */
export function permissionOver(
  points: readonly Figure[],
  from: number,
  at: number,
  world: World,
): Answer3 {
  const wait: Wait = { kind: 'notAfter', points, nearWhenBlind: true }
  const stepMs = Math.max(FINEST_MS, (at - from) / STEPS)
  const now = usedUp(wait, world, from, at, stepMs)
  const slack = (u: typeof now) => u.error + 2 * u.fastest + 1e-9
  if (now.used >= 1 + slack(now)) return 'yes'
  const after = usedUp(wait, world, from, at + SECOND, stepMs)
  return after.used < 1 - slack(after) ? 'no' : 'close'
}

type Over = Sheet['over'][number] | undefined
type Between = {
  readonly opens: Opens
  readonly isSame: boolean
  /** The later sheet's own word on what it goes over. */
  readonly over: Over
  readonly from: number
  readonly at: number
  readonly world: World
}

const all = (answers: readonly Answer3[]): Answer3 =>
  answers.includes('no') ? 'no' : answers.includes('close') ? 'close' : 'yes'
const any = (answers: readonly Answer3[]): Answer3 =>
  answers.includes('yes') ? 'yes' : answers.includes('close') ? 'close' : 'no'

export function flashOver({ opens, isSame, over, from, at, world }: Between): Answer3 {
  const own: readonly Wait[] = isSame ? opens.flashBetween : opens.flashBeforeNext
  // The film that flashes is the earlier one: it dries as its own sheet says.
  const rhRef = own[0]?.waterborneRhRef
  const dries =
    rhRef === undefined
      ? {}
      : { waterborneRhRef: rhRef, ...(own[0]?.isTable ? { isTable: true as const } : {}) }
  const later: Wait[] = over?.flashBeforeNext
    ? [{ kind: 'notBefore', points: over.flashBeforeNext, nearWhenBlind: true, ...dries }]
    : []
  const byTime = all([...own, ...later].map((wait) => waitOver(wait, from, at, world)))
  if (opens.flashBy === 'time') return byTime
  const floor: Answer3 = at >= from + opens.floorMin * 60_000 ? 'yes' : 'no'
  // Matte is enough for the same product; another one waits for the time as well.
  return isSame || opens.countsTime !== true ? floor : all([floor, byTime])
}

type Window = Between & { readonly abradedAt: number | null; readonly curedAt: number | null }

/** Whether abrading has opened again what its shutting says is shut. */
function isHelped(w: Window, shutWhenAbraded: Answer3): Answer3 {
  if (w.abradedAt === null) return 'no'
  if (w.opens.afterWindow === 'abrade') return 'yes'
  if (w.opens.afterWindow === 'abradeAndRecoat' && w.isSame) return 'yes'
  return shutWhenAbraded === 'no' ? 'yes' : shutWhenAbraded === 'yes' ? 'no' : 'close'
}

function shutBy(
  w: Window,
  within: Opens['recoatWithin'] | 'never' | undefined,
  isOwn: boolean,
): Answer3 {
  if (within === 'never') return 'yes'
  if (within === undefined || within === 'unlimited') return 'no'
  if (within === 'mustSand') return w.isSame || w.abradedAt !== null ? 'no' : 'yes'
  if (w.isSame && w.opens.afterWindow === 'reapply') return 'no'
  const shut = permissionOver(within, w.from, w.at, w.world)
  if (shut === 'no') return 'no'
  const again = isOwn ? w.opens.recoatAgainAfter : null
  const opened: Answer3 = again
    ? waitOver({ kind: 'notBefore', points: again, nearWhenBlind: true }, w.from, w.at, w.world)
    : 'no'
  const then = w.abradedAt === null ? 'no' : permissionOver(within, w.from, w.abradedAt, w.world)
  const helped = any([opened, isHelped(w, then)])
  return helped === 'yes' ? 'no' : helped === 'close' ? 'close' : shut
}

export function windowShut(w: Window): Answer3 {
  const isCured = w.curedAt !== null && (w.abradedAt === null || w.abradedAt < w.curedAt)
  return any([
    shutBy(w, w.opens.recoatWithin, true),
    shutBy(w, w.over?.recoatWithin, false),
    isCured ? 'yes' : 'no',
  ])
}
