import { signal } from '@preact/signals'
import * as v from 'valibot'
import { COMMANDS, type CommandInput } from '../../machines/commands.ts'
import type { State } from '../../machines/state.ts'
import { type Lane, lanesOf } from './lanes.ts'

/**
 * A start that the painter gets ready in the last two minutes of flash: its key stands on every screen
 * when flash ends, and one touch sends it. Nothing is sent by time alone: a coat that nobody sprays
 * must not be in the log.
 */

export const ARM_WITHIN_MS = 120_000
/** An armed start that nobody confirms is forgotten after this time: the painter is at something else. */
const FORGOTTEN_MS = 60_000
/** The server's clock may be a moment behind the kiosk's. */
const AFTER_MS = 500

const armedSchema = v.array(
  v.object({
    panels: v.array(v.string()),
    label: v.string(),
    data: v.custom<CommandInput<'StartCoat'>>((kept) => v.is(COMMANDS.StartCoat, kept)),
    untilMs: v.number(),
  }),
)

/** `untilMs`: when it may be sent, as last calculated. */
export type Armed = {
  readonly panels: readonly string[]
  readonly label: string
  readonly data: CommandInput<'StartCoat'>
  readonly untilMs: number
}

export const armed = signal<readonly Armed[]>([])

export function arm(start: Armed): void {
  armed.value = [...without(start.panels), start]
}

export function disarm(panels: readonly string[]): void {
  armed.value = without(panels)
}

const without = (panels: readonly string[]): Armed[] =>
  armed.peek().filter((a) => !a.panels.some((panel) => panels.includes(panel)))

/**
 * When the start of these lanes may be held back until, if it may: all of them wait for flash that
 * is over within two minutes, or for nothing.
 * @returns null where there is nothing to wait for, or too long a wait
 */
export function armUntil(lanes: readonly Lane[], now: number): number | null {
  const ends = lanes.map(({ waits }) =>
    waits.for === 'flash' ? waits.until : waits.for === 'coat' ? now : Number.POSITIVE_INFINITY,
  )
  const until = Math.max(...ends)
  return until > now && until - now <= ARM_WITHIN_MS ? until : null
}

/** What is to become of an armed start now: climate may have moved the end of flash. */
type Next =
  | { readonly kind: 'waits'; readonly untilMs: number }
  | { readonly kind: 'due' }
  /** Nobody confirmed it. */
  | { readonly kind: 'forgotten' }
  /** A coat runs there already, or the panel is at something else. */
  | { readonly kind: 'over' }

export function nextOf(state: State, start: Armed, now: number): Next {
  const lanes = lanesOf(state, now).filter((lane) => start.panels.includes(lane.panel))
  if (lanes.length < start.panels.length) return { kind: 'over' }
  const untils = lanes.map(({ waits }) => {
    if (waits.for === 'flash') return waits.until
    return waits.for === 'coat' ? (waits.since ?? 0) : null
  })
  if (untils.some((until) => until === null)) return { kind: 'over' }
  const untilMs = Math.max(start.untilMs, ...untils.filter((u) => u !== null)) + AFTER_MS
  if (now < untilMs) return { kind: 'waits', untilMs }
  return { kind: now < untilMs + FORGOTTEN_MS ? 'due' : 'forgotten' }
}

/**
 * An armed start as the shop calculates it now: colder air may have moved the end of flash away, and
 * what is said of it, and kept through a reload, moves along. It is never sent earlier than promised.
 */
export function retimed(state: State, start: Armed, now: number): Armed {
  const next = nextOf(state, start, now)
  if (next.kind !== 'waits' || next.untilMs <= start.untilMs + AFTER_MS) return start
  return { ...start, untilMs: next.untilMs - AFTER_MS }
}

/** Armed starts as kept through a reload, also those that nobody has confirmed in time: it is still to be said. */
export function readArmed(text: string | null): Armed[] {
  try {
    const parsed = v.safeParse(armedSchema, JSON.parse(text ?? '[]'))
    return parsed.success ? parsed.output : []
  } catch {
    return []
  }
}
