import { signal } from '@preact/signals'
import type { CommandType } from '../../machines/commands.ts'
import { PROTOCOL } from '../../machines/contract.ts'
import type { Command } from '../../machines/envelope.ts'
import { contextOf, type State } from '../../machines/state.ts'
import type { ClockReading } from '../device/clock.ts'
import { panelName } from './panelName.ts'
import type { ToldError, ToldRefusal, Trouble } from './refusalText.ts'
import type { SendExtra } from './send.ts'

/** A command as it was pressed; the device and its count are put to it when it is sent. */
export type Pressed = Omit<Command<CommandType, object>, 'device' | 'seq'> & {
  readonly enteredAt: number
  readonly clockOffsetMs: number
}

/** A command that this kiosk keeps until the server has answered it. */
export type QueuedCommand = {
  /** The device's count of its commands: the order in which they are sent. */
  readonly seq: number
  readonly command: Pressed
  /** Pressed while the time was in doubt: its times may still be put right, once. */
  readonly inDoubt: boolean
  /** Null while it waits to be sent. */
  readonly trouble: Trouble | null
}

/** As kiosks kept it before `kind`. */
type StoredTrouble =
  | Trouble
  | { readonly is: 'refused'; readonly refusal: ToldRefusal }
  | { readonly is: 'wrong'; readonly error: ToldError }
export type StoredCommand = Omit<QueuedCommand, 'trouble'> & {
  readonly trouble: StoredTrouble | null
}

/** A command as this device keeps it, also where an earlier build put it there. */
export const queuedIn = ({ trouble, ...stored }: StoredCommand): QueuedCommand => ({
  ...stored,
  trouble: trouble === null || 'kind' in trouble ? trouble : troubleOfBefore(trouble),
})

function troubleOfBefore(trouble: Exclude<StoredTrouble, Trouble>): Trouble {
  return trouble.is === 'refused'
    ? { kind: 'refused', refusal: trouble.refusal }
    : { kind: 'wrong', error: trouble.error }
}

/** A command pressed at a moment, in kiosk time. */
export function press(
  id: string,
  type: CommandType,
  data: object,
  { nowMs, deviceOffsetMs }: ClockReading,
  extra: SendExtra = {},
): Pressed {
  const times = { enteredAt: nowMs, clockOffsetMs: deviceOffsetMs }
  // Through JSON, so that what is stored and what is sent are the same text.
  return JSON.parse(
    JSON.stringify({
      id,
      protocol: PROTOCOL,
      type,
      data,
      source: 'touch',
      ...pressedBy(type),
      ...times,
      ...extra,
    }),
  )
}

/**
 * What goes to the server. It is the same each time, so that a resend is answered as the first was.
 * @param device the id of this device
 */
export const bodyOf = ({ seq, command }: QueuedCommand, device: string) => ({
  ...command,
  device,
  seq,
})

/** Those that the server does not know, as it would get them. */
export const notKnownIn = (queue: readonly QueuedCommand[], device: string): readonly object[] =>
  queue
    .filter(({ trouble }) => trouble?.kind === 'notKnown')
    .map((queued) => bodyOf(queued, device))

/**
 * A command that was pressed while the time was in doubt, now that the time is known. It is dated by
 * the device's own clock, which kept running through a sleep, with that clock's correction of now.
 */
export function redated({ command, ...kept }: QueuedCommand, known: ClockReading): QueuedCommand {
  const { enteredAt, clockOffsetMs, at } = command
  const right = enteredAt - clockOffsetMs + known.deviceOffsetMs
  const entered = Math.min(right, known.nowMs)
  const times = at === undefined ? {} : { at: at + entered - enteredAt }
  return {
    ...kept,
    inDoubt: false,
    command: { ...command, enteredAt: entered, clockOffsetMs: known.deviceOffsetMs, ...times },
  }
}

/**
 * Nobody has to settle a bell that nothing waits for any more, nor what a device said by itself of a time that is yet
 * to come: the shop's clock was set back since, and by that the bell rings again.
 */
export function isObsolete({ type }: Pressed, trouble: Trouble): boolean {
  if (trouble.kind === 'refused') return trouble.refusal.code === 'bellNotDue'
  return BY_ITSELF.includes(type) && trouble.kind === 'wrong' && trouble.error.code === 'notAhead'
}

/** What a waiting command is about. Pure. */

type Named = {
  readonly panel?: string
  readonly panels?: readonly string[]
  readonly job?: string
  readonly cup?: string
  readonly gun?: string
  readonly zone?: string
  readonly title?: string
  readonly name?: string
}

const SHORT = 4

/** Panels by name, then cup, gun, job and zone, as far as a command names them. */
export function subjectOf(state: State | null, { command }: QueuedCommand): string {
  const { panel, panels, job, cup, gun, zone, title, name } = command.data as Named
  const named = [...(panels ?? []), ...(panel === undefined ? [] : [panel])].map((id) =>
    panelName(state, id, name),
  )
  const jobTitle = title ?? (state && job !== undefined && contextOf(state, 'job', job)?.title)
  return [...named, cup?.slice(0, SHORT), gun, named.length === 0 && (jobTitle || job), zone]
    .filter((text) => typeof text === 'string' && text !== '')
    .join(' · ')
}

/** The panels that something waits for here: what the Wall shows of them is not in the log yet. */
export function panelsIn(queue: readonly QueuedCommand[]): ReadonlySet<string> {
  return new Set(
    queue.flatMap(({ command }) => {
      const { panel, panels } = command.data as Named
      return [...(panels ?? []), ...(panel === undefined ? [] : [panel])]
    }),
  )
}

/**
 * Who presses on this kiosk: a person's id, null for nobody in particular. The frame's chooser sets
 * it; send.ts puts it on every command that a person presses.
 */
export const who = signal<string | null>(null)
/** Under this name a device keeps who presses on it. */
export const WHO_KEPT = 'who'

/** Whether the chooser is open: a touch opens it, and so does a refusal that needs a name. */
export const isChoosing = signal(false)

/** A bell rings by itself, and a display goes dark by itself: nobody pressed it. */
const BY_ITSELF: readonly CommandType[] = [
  'RingBell',
  'EscalateBell',
  'HoldBell',
  'ReportFlood',
  'ReportSleep',
]

export const pressedBy = (type: CommandType): { by?: string } =>
  who.value === null || BY_ITSELF.includes(type) ? {} : { by: who.value }
