import * as v from 'valibot'
import {
  type Checked,
  check,
  type FieldError,
  fieldError,
  fields,
  id40,
  text,
  utcMs,
  whole,
} from './accept.ts'
import type { BellFigures } from './bell/figures.ts'
import { COMMANDS, type CommandData, type CommandType, isCommand } from './commands.ts'
import type { Command, Entry } from './envelope.ts'
import type { Refusal } from './refusals.ts'
import type { State } from './state.ts'

/** The schemas and shapes of everything that crosses HTTP: all that kiosk and server share. */

export type AnyCommand = { [T in CommandType]: Command<T, CommandData<T>> }[CommandType]

const DAY_MS = 86_400_000

const envelopeSchema = fields({
  id: id40,
  type: v.optional(v.unknown()),
  at: v.optional(utcMs),
  enteredAt: v.optional(utcMs),
  clockOffsetMs: v.optional(whole(-10_000 * DAY_MS, 10_000 * DAY_MS, 'ms')),
  device: v.optional(v.nullable(id40)),
  by: v.optional(v.nullable(id40)),
  seq: v.optional(v.nullable(whole(0, Number.MAX_SAFE_INTEGER))),
  source: v.optional(text(40)),
  reason: v.optional(text(200)),
  data: v.optional(v.unknown()),
})

/** Drops nulls: a device that is null is a device that is not named. */
function withoutNulls<T extends object>(value: T): T {
  return Object.fromEntries(Object.entries(value).filter(([, given]) => given !== null)) as T
}

/**
 * A command from outside.
 * @param input anything that JSON can be
 * @returns the typed command with defaults filled in, or the first wrong field and its sentence
 */
export function parseCommand(input: unknown): Checked<AnyCommand> {
  const envelope = check(envelopeSchema, input)
  if (!envelope.ok) return envelope
  const { type, data } = envelope.value
  if (!isCommand(type)) {
    return {
      ok: false,
      error: fieldError('type', type, `one of ${Object.keys(COMMANDS).join(', ')}`),
    }
  }
  if (Array.isArray(data)) return { ok: false, error: fieldError('data', data, 'an object') }
  const parsed = check<unknown>(COMMANDS[type], data, 'data')
  if (!parsed.ok) return parsed
  const command = { ...withoutNulls(envelope.value), type, data: parsed.value }
  return { ok: true, value: command as AnyCommand }
}

/** Answer to one command. */
export type CommandAnswer =
  | {
      readonly status: 200
      readonly body: { readonly position: number; readonly entries: readonly Entry[] }
    }
  | { readonly status: 409 | 403; readonly body: { readonly refusal: Refusal | ServerRefusal } }
  | { readonly status: 400 | 413; readonly body: { readonly error: FieldError } }
  | {
      readonly status: 503
      readonly body: { readonly error: { readonly code: string; readonly message: string } }
    }

/** Refusals that only a server can give: they are about the log, not about the shop. */
export type ServerRefusal = {
  readonly code: 'commandIdReused' | 'newerLog'
  readonly message: string
  readonly also: readonly never[]
  readonly overridable: false
}

/** GET /api/bells. */
export type BellsAnswer = {
  /** How many days up to now the figures are of. */
  readonly days: number
  /** Only the shop's open hours count, and what rang; without set hours every hour does. */
  readonly hasHours: boolean
  readonly figures: BellFigures
}

/** GET /api/state. */
export type StateAnswer = {
  readonly state: State
  readonly head: number
  /** `position:hash8`: where the tail goes on from. */
  readonly tail: string
  readonly serverTime: number
  readonly clock: ClockStanding
  readonly loss: LogLoss | null
  readonly build: string
  readonly foldVersion: number
}

/**
 * Why the server's time has to be confirmed by a person. `behindLog`: its computer's clock was behind
 * the last entry when it started; `unset`: the same in a new shop; `longSince`: it started weeks after
 * the last entry; `jumped`: the computer's clock made a step too large to be followed.
 */
export type ClockDoubt = 'behindLog' | 'unset' | 'longSince' | 'jumped'

/** The state of the server's clock, sent with every time that it gives. */
export type ClockStanding = {
  readonly doubt: ClockDoubt | null
  /** What the clock of the server's computer shows, UTC ms: what a person may confirm. */
  readonly wallMs: number
  /** Another number than before: the time was put right, and what was heard before is of no use. */
  readonly era: number
}

/** What a log was found to lack when its server started. */
export type LogLoss = {
  /** `short`: it ends before what was acknowledged; `other`: it holds other entries. */
  readonly is: 'short' | 'other'
  /** How many entries the log had then. */
  readonly head: number
  /** How many it is known to have had before, and when, UTC ms. */
  readonly knownHead: number
  readonly knownHash: string
  readonly knownAtMs: number
}
