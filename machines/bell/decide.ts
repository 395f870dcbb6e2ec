import type { CommandData } from '../commands.ts'
import { deadlineOf } from '../deadlines.ts'
import { type Deciding, type Decision, refused } from '../deciding.ts'
import { THING_KEYS, type ThingKeys } from '../envelope.ts'
import type { NotDue } from '../refusalParams.ts'
import { openHours } from '../shop/hours.ts'
import { settingsOf } from '../shop/settings.ts'
import { thingOf } from '../state.ts'
import type { BellContext } from './context.ts'
import type { Deadline } from './deadline.ts'
import { bellOf, hasRung } from './fold.ts'
import * as kinds from './kinds.ts'

// Kiosk and server agree on time to about this; a bell rung within it rang at its moment.
const CLOSE_MS = 2_000
const MINUTE_MS = 60_000

const notDue = (key: string, why: NotDue): Decision =>
  refused({ code: 'bellNotDue', limit: why, value: key })

function keysOf(deadline: Deadline): ThingKeys {
  const job = deadline.job === undefined ? {} : { job: deadline.job }
  return { [deadline.thing.kind]: deadline.thing.id, ...job }
}

/** A bell is recorded once, however many kiosks ring it. */
export function ringBell(d: Deciding<'RingBell', CommandData<'RingBell'>>): Decision {
  const { key, wasHeard } = d.data
  const deadline = deadlineOf(d.state, key)
  if (!deadline) return notDue(key, 'gone')
  if (hasRung(d.state, deadline)) return { facts: [] }
  if (deadline.dueAt > d.at + CLOSE_MS) return notDue(key, 'early')
  const data = { key, bell: deadline.bell, dueAt: deadline.dueAt, wasHeard }
  return { facts: [{ type: 'BellRang', keys: keysOf(deadline), data }] }
}

const kindOf = (key: string) => key.slice(0, key.indexOf(':')) as kinds.BellKind

/** What a bell is about, also when its deadline is gone: its ring said so. */
function keysOfBell(d: Deciding, key: string): ThingKeys {
  const deadline = deadlineOf(d.state, key)
  if (deadline) return keysOf(deadline)
  const entries = thingOf(d.state, { kind: 'bell', id: key })?.entries ?? []
  const rang = entries.findLast(({ type }) => type === 'BellRang')
  const named = THING_KEYS.flatMap((thing) => {
    const id = rang?.[thing]
    return id === undefined ? [] : [[thing, id] as const]
  })
  return Object.fromEntries(named)
}

/** The bell as the log knows it; null while it has not rung. */
function rungBell(d: Deciding, key: string): BellContext | null {
  const bell = bellOf(d.state, key)
  return bell && bell.rangAt !== null ? bell : null
}

/** Acknowledging stops the sound. It moves no deadline and hides nothing. */
export function acknowledgeBell(
  d: Deciding<'AcknowledgeBell', CommandData<'AcknowledgeBell'>>,
): Decision {
  const { key } = d.data
  if (!rungBell(d, key)) return notDue(key, 'notRung')
  return { facts: [{ type: 'BellAcknowledged', keys: keysOfBell(d, key), data: { key } }] }
}

/** Snoozing a bell: prompts for up to 10 min, alarms for up to 5, twice each; pot life past never. */
export function snoozeBell(d: Deciding<'SnoozeBell', CommandData<'SnoozeBell'>>): Decision {
  const { key, minutes } = d.data
  const bell = rungBell(d, key)
  if (!bell) return notDue(key, 'notRung')
  const kind = kindOf(key)
  const snoozes = bell.snoozes.length
  if (!kinds.maySnooze(kind, snoozes, minutes * MINUTE_MS)) {
    const most = kinds.MAX_SNOOZE_MS[kinds.BELLS[kind].class] / MINUTE_MS
    const isTwice = snoozes >= kinds.MAX_SNOOZES
    const limit = isTwice ? null : most
    return refused({ code: 'snoozeNotAllowed', limit, value: minutes })
  }
  return { facts: [{ type: 'BellSnoozed', keys: keysOfBell(d, key), data: { key, minutes } }] }
}

/**
 * A bell that nobody acknowledged reaches further: recorded once for each reach, however many kiosks report
 * it. Outside the shop's hours it does so in the log only, and once more when that is made good.
 */
export function escalateBell(d: Deciding<'EscalateBell', CommandData<'EscalateBell'>>): Decision {
  const { key, to } = d.data
  const bell = rungBell(d, key)
  if (!bell) return notDue(key, 'notRung')
  // A kiosk without a server tells late what was so before somebody answered.
  if (bell.acknowledged.some(({ at }) => at <= d.at)) return notDue(key, 'acknowledged')
  const kind = kindOf(key)
  if (kinds.reachesOf(kind).indexOf(to) < 1) return notDue(key, 'notThatFar')
  const shown = openHours(settingsOf(d.state))?.(d.at) ?? true
  if (bell.reached.some((one) => one.to === to && (one.shown || !shown))) return { facts: [] }
  const data = { key, bell: kind, to, shown }
  return { facts: [{ type: 'BellEscalated', keys: keysOfBell(d, key), data }] }
}

/** A nuisance bell is recorded once while it is held, however many kiosks hold it. */
export function holdBell(d: Deciding<'HoldBell', CommandData<'HoldBell'>>): Decision {
  const { key } = d.data
  const bell = rungBell(d, key)
  if (!bell) return notDue(key, 'notRung')
  if ((bell.heldUntilMs ?? 0) > d.at) return { facts: [] }
  const data = { key, bell: kindOf(key), untilMs: d.at + kinds.HOLD_MS }
  return { facts: [{ type: 'BellHeld', keys: keysOfBell(d, key), data }] }
}
