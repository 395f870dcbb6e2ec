import type { Deadline } from '../../machines/bell/deadline.ts'
import { fitsColour } from '../../machines/cup/colours.ts'
import { cupEndsAt, inductionEndsAt, integralEndsAt } from '../../machines/cup/ends.ts'
import { keepEndsAt } from '../../machines/cup/keep.ts'
import type { CupContext } from '../../machines/cup/machine.ts'
import { mixesIn } from '../../machines/cup/mixes.ts'
import { deadlines } from '../../machines/deadlines.ts'
import { distinct } from '../../machines/distinct.ts'
import { gunEndsAt } from '../../machines/gun/find.ts'
import type { State } from '../../machines/state.ts'
import type { Lane } from './lanes.ts'
import { type Moment, momentOf, type Now } from './moment.ts'

/** What the Wall and Scan show of cups and guns. Pure. Instants are UTC ms. */

/** A label whose use-by is this much later than the clock's is marked as too late. */
const READS_LATE_MS = 300_000

/** Whole minutes to an end, or since it. */
export type TimeLeft = { readonly isOver: boolean; readonly minutes: number }

export type CupView = {
  readonly id: string
  readonly cup: CupContext
  readonly isEmptied: boolean
  /** Null for a mix without pot life. */
  readonly endsAt: number | null
  readonly time: TimeLeft | null
  /** For a mix without pot life: until when it keeps; null where that is not known. */
  readonly keepsUntil: number | null
  readonly standsUntil: number | null
  /** Whether its induction runs. */
  readonly stands: boolean
  /** What is left of the pot life, 1 to 0; null without one. */
  readonly left: number | null
  readonly labelReadsLate: boolean
  /** Poured outside its ratio's tolerance: no coat starts from it. */
  readonly isOff: boolean
  readonly bell: Deadline | null
}

export type GunView = {
  readonly id: string
  readonly name: string
  readonly holds: string
  readonly colour: string | null
  readonly endsAt: number | null
  readonly time: TimeLeft | null
  readonly isDirty: boolean
  readonly bell: Deadline | null
}

const dueFor = (
  state: State,
  kind: Deadline['thing']['kind'],
  id: string,
  moment: Moment,
): Deadline | null =>
  deadlines(state).findLast(
    (d) => d.thing.kind === kind && d.thing.id === id && moment.isPast(d.dueAt),
  ) ?? null

const timeOf = (endsAt: number | null, moment: Moment): TimeLeft | null =>
  endsAt === null ? null : { isOver: moment.isPast(endsAt), minutes: moment.minutesFrom(endsAt) }

/** A ring's width of the screen, and no step of it is shorter. */
const RING_STEPS = 240
const RING_LEAST_MS = 15_000

/** What is left of a stretch of time, 1 to 0, in steps that a ring can show. */
function shareLeft(endsAt: number, whole: number, moment: Moment): number {
  const stepMs = Math.max(RING_LEAST_MS, whole / RING_STEPS)
  const steps = Math.ceil((endsAt - moment.ms) / stepMs)
  for (const n of [steps, steps - 1]) moment.isPast(endsAt - n * stepMs)
  return Math.max(0, Math.min(1, (steps * stepMs) / Math.max(1, whole)))
}

/** One cup, whatever became of it. */
export function cupView(state: State, id: string, cup: CupContext, now: Now): CupView {
  const moment = momentOf(now)
  const endsAt = cupEndsAt(state, cup)
  const startMs = Math.min(cup.mixedAt, ...cup.clocks.map((c) => c.startMs))
  const whole = endsAt === null ? 0 : endsAt - startMs
  const printed = cup.prints.at(-1)?.untilMs ?? null
  const byClock = integralEndsAt(state, cup)
  const standsUntil = inductionEndsAt(state, cup)
  return {
    id,
    cup,
    isEmptied: state.things.cup[id]?.value === 'emptied',
    endsAt,
    time: timeOf(endsAt, moment),
    stands: standsUntil !== null && !moment.isPast(standsUntil),
    keepsUntil: keepEndsAt(state, cup),
    standsUntil,
    left: endsAt === null ? null : shareLeft(endsAt, whole, moment),
    labelReadsLate: printed !== null && byClock !== null && byClock <= printed - READS_LATE_MS,
    isOff: (cup.off ?? []).length > 0,
    bell: dueFor(state, 'cup', id, moment),
  }
}

/** Cups that are not empty, the one that ends first before the others. */
export function cupsOf(state: State, now: Now): CupView[] {
  return Object.entries(state.things.cup)
    .filter(([, thing]) => thing.value === 'live' || thing.value === 'stored')
    .map(([id, thing]) => cupView(state, id, thing.context, now))
    .sort((a, b) => endOf(a) - endOf(b))
}

const endOf = (view: CupView): number => view.endsAt ?? view.keepsUntil ?? Number.MAX_SAFE_INTEGER

/** Guns with material in them. */
export function loadedGunsOf(state: State, now: Now): GunView[] {
  const moment = momentOf(now)
  return Object.entries(state.things.gun).flatMap(([id, thing]) => {
    const gun = thing.context
    const load = gun.loads.at(-1)
    if (!load) return []
    const endsAt = gunEndsAt(state, gun)
    return [
      {
        id,
        name: gun.spec?.name ?? id,
        holds: load.name,
        colour: load.colour,
        endsAt,
        time: timeOf(endsAt, moment),
        isDirty: thing.value === 'dirty',
        bell: dueFor(state, 'gun', id, moment),
      },
    ]
  })
}

/**
 * Lanes whose next coat uses a cup's material and is not ready before the cup ends.
 * @param endsAt when the cup ends, UTC ms
 */
export const outlivedBy = (
  state: State,
  lanes: readonly Lane[],
  cup: CupContext,
  endsAt: number,
): { lane: Lane; from: number }[] =>
  lanes.flatMap((lane) => {
    const isOfIt =
      lane.sheet === cup.sheet && fitsColour(state, lane.job, lane.colour ?? undefined, cup)
    if (!isOfIt || lane.waits.for !== 'flash' || lane.waits.until < endsAt) return []
    return [{ lane, from: lane.waits.until }]
  })

/** Its activator and its reducer; all of them, where the cup was joined of different mixes. */
export function mixNames(cup: CupContext): string[] {
  const mixes = mixesIn(cup)
  return [mixes.map((mix) => mix.activator), mixes.map((mix) => mix.reducer)]
    .map((names) => distinct(names.filter((name) => name !== null)).join(' + '))
    .filter((names) => names !== '')
}
