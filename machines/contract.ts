import * as v from 'valibot'
import { type Checked, check, fields, id40, text, utcMs, whole } from './accept.ts'
import { COMMANDS, type CommandData, type CommandType, isCommand } from './commands.ts'
import { isRaw, lifted, PROTOCOL } from './contract/lifts.ts'
import { wrongAt } from './contract/wrongField.ts'
import type { Command } from './envelope.ts'

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
  /** The shape that all this is in: what an older kiosk has pressed is lifted. */
  protocol: v.optional(whole(1, PROTOCOL)),
})

/** Drops nulls: a device that is null is a device that is not named. */
function withoutNulls<T extends object>(value: T): T {
  return Object.fromEntries(Object.entries(value).filter(([, given]) => given !== null)) as T
}

/** The input in today's shape, and the protocol that it is of; a number that is none is left to the schema. */
function inTodaysShape(input: unknown): { readonly input: unknown; readonly protocol: number } {
  if (!isRaw(input)) return { input, protocol: PROTOCOL }
  const { protocol = 1 } = input
  if (!Number.isSafeInteger(protocol) || Number(protocol) < 1) return { input, protocol: PROTOCOL }
  return { input: lifted(input, Number(protocol)), protocol: Number(protocol) }
}

/**
 * A command from outside, of this protocol or an earlier one.
 * @param given anything that JSON can be
 * @returns the typed command with defaults filled in, or every field that is wrong
 */
export function parseCommand(given: unknown): Checked<AnyCommand> {
  const { input, protocol } = inTodaysShape(given)
  // Before its fields: of a newer command nothing is known.
  if (protocol > PROTOCOL)
    return { ok: false, ...wrongAt('protocol', protocol, 'newestProtocol', { protocol: PROTOCOL }) }
  const envelope = check(envelopeSchema, input)
  if (!envelope.ok) return envelope
  const { type, data } = envelope.value
  if (!isCommand(type)) {
    return { ok: false, ...wrongAt('type', type, 'oneOf', { words: Object.keys(COMMANDS) }) }
  }
  if (Array.isArray(data)) return { ok: false, ...wrongAt('data', data, 'object', {}) }
  const parsed = check<unknown>(COMMANDS[type], data, 'data')
  if (!parsed.ok) return parsed
  const command = {
    ...withoutNulls(envelope.value),
    protocol: PROTOCOL,
    type,
    data: parsed.value,
  }
  return { ok: true, value: command as AnyCommand }
}

export type * from './contract/answers.ts'
export type { LogLoss } from './contract/damage.ts'
export type { LabelProblem, LabelProblemCode } from './contract/labelProblem.ts'
export { PROTOCOL } from './contract/lifts.ts'
export type { PackedState } from './contract/packedState.ts'
export { packed, STATE_PATH, unpacked } from './contract/packedState.ts'
export type {
  ClockDoubt,
  ClockStanding,
  DiskTrouble,
  KiosksHeard,
  ServerStanding,
} from './contract/serverStanding.ts'
export { lossIn } from './contract/serverStanding.ts'
export type { TailKind, TailMessage, TailReset } from './contract/tail.ts'
export { TAIL_EVENTS, TAIL_KINDS, tailData, tailMessage } from './contract/tail.ts'
export type { Rule, RuleCode, RuleParams, WrongField, WrongFields } from './contract/wrongField.ts'
export { isNestedAtMost, wrongAt } from './contract/wrongField.ts'
