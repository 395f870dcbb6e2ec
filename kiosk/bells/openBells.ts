import type { BellContext } from '../../machines/bell/context.ts'
import { type Deadline, isPrompt } from '../../machines/bell/deadline.ts'
import { bellOf, hasRung } from '../../machines/bell/fold.ts'
import type { Reach } from '../../machines/bell/kinds.ts'
import type { BellState, Known } from '../../machines/bell/machine.ts'
import { type BellRules, bellRules } from '../../machines/bell/rules.ts'
import { deadlines } from '../../machines/deadlines.ts'
import { devicesOf } from '../../machines/devices/fold.ts'
import { BLANK_PANEL, zoneOf } from '../../machines/panel/context.ts'
import { contextOf, type State } from '../../machines/state.ts'
import type { ClockReading } from '../device/clock.ts'
import type { Bell, Card, Facts } from './cards.ts'

/** What may ring, according to the folded log: what the ringer is given, and what it gives to screens. Pure. */

/** Everything that decides about the bells at this moment. */
export type Open = {
  readonly bells: readonly Bell[]
  readonly facts: Facts
  /** What the log knows of a bell by its key; undefined when it never rang. */
  readonly known: (key: string) => Known | undefined
  readonly rules: BellRules
  /** Whether the log knows of a kiosk in a flood of bells. */
  readonly isFloodKnown: boolean
}

/** A card as a screen shows it. */
export type Shown = Card & {
  readonly state: BellState
  readonly raisedAtMs: number
  readonly reach: Reach
  readonly snoozes: number
  readonly snoozedUntilMs: number
  /** Until when it is quiet because it called again and again; 0 while it may sound. */
  readonly heldUntilMs: number
}

export type Bells = {
  /** Most urgent first. */
  readonly cards: readonly Shown[]
  readonly inFlood: boolean
  /** Until when this kiosk was asked to be quiet; 0 while it may sound. */
  readonly silencedUntilMs: number
}

function knownOf(bell: BellContext | undefined): Known | undefined {
  if (bell === undefined || bell.rangAt === null) return undefined
  const snoozed = bell.snoozes.at(-1)
  return {
    isAcknowledged: bell.acknowledged.length > 0,
    snoozes: bell.snoozes.length,
    ...(snoozed ? { snoozedUntilMs: snoozed.untilMs } : {}),
  }
}

const idsWhere = <T>(
  things: { readonly [id: string]: T },
  is: (thing: T) => boolean,
): Set<string> => new Set(Object.entries(things).flatMap(([id, thing]) => (is(thing) ? [id] : [])))

/** Where a deadline's thing is. */
function zoneIn(state: State, { thing }: Deadline): { zone?: string } {
  if (thing.kind === 'gun') return {}
  const zone =
    thing.kind === 'panel'
      ? zoneOf(contextOf(state, 'panel', thing.id) ?? BLANK_PANEL)
      : contextOf(state, 'cup', thing.id)?.zone
  return zone ? { zone } : {}
}

/** The bells of a state, for the ringer: all deadlines, and what makes some of them meaningless. */
export const openBells = (state: State): Open => ({
  bells: deadlines(state).map((deadline) => ({
    key: deadline.key,
    kind: deadline.bell,
    dueAt: deadline.dueAt,
    thing: deadline.thing.id,
    ...(deadline.job === undefined ? {} : { job: deadline.job }),
    ...zoneIn(state, deadline),
  })),
  facts: {
    emptied: idsWhere(state.things.cup, ({ value }) => value === 'emptied'),
    baking: idsWhere(state.things.panel, ({ context }) => context.cure?.mode === 'bake'),
  },
  known: (key) => {
    const deadline = deadlines(state).find((one) => one.key === key)
    // A deadline that moved later by more than a minute is a new notice, however the last one was answered.
    if (deadline && !hasRung(state, deadline)) return undefined
    return knownOf(bellOf(state, key))
  },
  rules: bellRules(state),
  isFloodKnown: devicesOf(state).floods.some(({ isOn }) => isOn),
})

/** Whether a coat runs that one of these commands started. */
export function isSpraying(state: State, starts: readonly string[]): boolean {
  return Object.values(state.things.panel).some((thing) => {
    const { open } = thing.context
    if (open === null) return false
    const start = thing.entries.findLast((entry) => entry.type === 'CoatStarted')
    return start !== undefined && starts.includes(start.command)
  })
}

/**
 * What may ring on a kiosk now: while a painter sprays, that painter's prompts wait; alarms do not, nor does
 * the question whether the coat was finished, which is about what seems to be sprayed.
 * @param starts the commands by which this kiosk started coats
 */
export const withoutWaiting = (open: Open, state: State, starts: readonly string[]): Open =>
  isSpraying(state, starts)
    ? {
        ...open,
        bells: open.bells.filter(({ kind }) => !isPrompt(kind) || kind === 'coatOpen'),
      }
    : open

/** Times between which none of the same bells falls due: while nothing rings, no look is needed. */
export type Calm = { readonly open: Open; readonly fromMs: number; readonly untilMs: number }

type Bounds = Pick<ClockReading, 'earliestMs' | 'latestMs'>

/** Null where a bell may be due by one end of what is known of the time, and not by the other. */
export function calmOf(open: Open, { earliestMs, latestMs }: Bounds): Calm | null {
  const coming = open.bells.map(({ dueAt }) => dueAt).filter((dueAt) => dueAt > earliestMs)
  const untilMs = Math.min(...coming)
  return latestMs < untilMs ? { open, fromMs: earliestMs, untilMs } : null
}

/** Whether it still holds: for the same bells, no later, and the clock was not set back. */
export const isStill = (calm: Calm, open: Open, { earliestMs, latestMs }: Bounds): boolean =>
  calm.open === open && earliestMs >= calm.fromMs && latestMs < calm.untilMs
