import type { CommandData } from '../commands.ts'
import { deadlines } from '../deadlines.ts'
import { type Deciding, type Decision, refused } from '../deciding.ts'
import type { ThingKeys } from '../envelope.ts'
import type { Deadline } from './deadline.ts'
import { bellOf, hasRung } from './fold.ts'
import { BELLS, type BellKind, MAX_SNOOZE_MS, MAX_SNOOZES, maySnooze } from './kinds.ts'

// Kiosk and server agree on time to about this; a bell rung within it rang at its moment.
const CLOSE_MS = 2_000
const MINUTE_MS = 60_000

const deadlineOf = (d: Deciding, key: string): Deadline | undefined =>
  deadlines(d.state).find((deadline) => deadline.key === key)

const notDue = (d: Deciding, key: string, why: string): Decision =>
  refused(d, { code: 'bellNotDue', limit: why, value: key })

function keysOf(deadline: Deadline): ThingKeys {
  const job = deadline.job === undefined ? {} : { job: deadline.job }
  return { [deadline.thing.kind]: deadline.thing.id, ...job }
}

/** A bell is recorded once, however many kiosks ring it. */
export function ringBell(d: Deciding<'RingBell', CommandData<'RingBell'>>): Decision {
  const { key, wasHeard } = d.data
  const deadline = deadlineOf(d, key)
  if (!deadline) return notDue(d, key, 'Nothing waits for it any more.')
  if (hasRung(d.state, deadline)) return { facts: [] }
  if (deadline.dueAt > d.at + CLOSE_MS) return notDue(d, key, 'Its moment has not come.')
  const data = { key, bell: deadline.bell, dueAt: deadline.dueAt, wasHeard }
  return { facts: [{ type: 'BellRang', keys: keysOf(deadline), data }] }
}

const kindOf = (key: string): BellKind => key.slice(0, key.indexOf(':')) as BellKind

/** Acknowledging stops the sound. It moves no deadline and hides nothing. */
export function acknowledgeBell(
  d: Deciding<'AcknowledgeBell', CommandData<'AcknowledgeBell'>>,
): Decision {
  const { key } = d.data
  if ((bellOf(d.state, key)?.rangAt ?? null) === null) return notDue(d, key, 'It has not rung.')
  const deadline = deadlineOf(d, key)
  return {
    facts: [{ type: 'BellAcknowledged', keys: deadline ? keysOf(deadline) : {}, data: { key } }],
  }
}

/** Putting a bell off: prompts up to 10 min, alarms up to 5, twice; pot life past never (AL-24). */
export function snoozeBell(d: Deciding<'SnoozeBell', CommandData<'SnoozeBell'>>): Decision {
  const { key, minutes } = d.data
  const bell = bellOf(d.state, key)
  if ((bell?.rangAt ?? null) === null) return notDue(d, key, 'It has not rung.')
  const kind = kindOf(key)
  const snoozes = bell?.snoozes.length ?? 0
  if (!maySnooze(kind, snoozes, minutes * MINUTE_MS)) {
    const most = `${MAX_SNOOZE_MS[BELLS[kind].class] / MINUTE_MS} min is the most`
    const limit = snoozes >= MAX_SNOOZES ? 'it was put off twice already' : most
    return refused(d, { code: 'snoozeNotAllowed', limit, value: `${minutes} min` })
  }
  const deadline = deadlineOf(d, key)
  return {
    facts: [
      { type: 'BellSnoozed', keys: deadline ? keysOf(deadline) : {}, data: { key, minutes } },
    ],
  }
}
