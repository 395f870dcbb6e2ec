import * as v from 'valibot'
import { check, fields, number } from '../machines/accept.ts'
import { type WrongFields, wrongFields } from '../machines/contract/wrongField.ts'

/** Minute 0 of a rehearsal. */
export const START_MS = Date.UTC(2026, 0, 5, 8)
const MIN_MS = 60_000

/** UTC ms of a minute; minutes may have fractions. */
export const msOf = (minute: number): number => START_MS + Math.round(minute * MIN_MS)

/** The minute of a UTC ms, without the dust of the division. */
export const minuteOf = (ms: number): number => Math.round(((ms - START_MS) / MIN_MS) * 1e6) / 1e6

// Within the years that a command may speak of.
const minute = number(-3_000_000, 38_000_000, 'min')
/** Looked at where the command is parsed. */
const later = v.optional(v.unknown())

/** A line of the list: when it arrives, and the command with its own times as minutes. */
const lineSchema = fields({
  atMin: minute,
  protocol: later,
  type: later,
  data: later,
  id: later,
  happenedAtMin: v.optional(minute),
  enteredAtMin: v.optional(minute),
  clockOffsetMs: later,
  device: later,
  by: later,
  seq: later,
  source: later,
  reason: later,
})

export type Line = {
  /** As given; null where it is not a number. */
  readonly atMin: number | null
  readonly type: string | null
  /** When it is played: where atMin is wrong, with the line before it. */
  readonly atMs: number
} & ({ readonly command: object } | WrongFields)

/** Every line, also those that are wrong. */
export function linesOf(list: readonly unknown[]): Line[] {
  let atMs = START_MS
  return list.map((given, i) => {
    const line = lineOf(given, i, atMs)
    atMs = line.atMs
    return line
  })
}

/** By arrival; within the same minute in the order of the list. */
export const inTimeOrder = (lines: readonly Line[]): Line[] =>
  lines.toSorted((a, b) => a.atMs - b.atMs)

function lineOf(given: unknown, index: number, before: number): Line {
  const said = saidBy(given)
  const parsed = check(lineSchema, given)
  if (!parsed.ok) {
    const isTimed = said.atMin !== null && check(minute, said.atMin).ok
    const atMs = isTimed ? msOf(said.atMin ?? 0) : before
    return { ...said, atMs, ...wrongFields(parsed.errors) }
  }
  const { atMin, happenedAtMin, enteredAtMin, ...rest } = parsed.value
  const command = {
    id: `rehearse-line-${index + 1}`,
    ...rest,
    ...(happenedAtMin === undefined ? {} : { at: msOf(happenedAtMin) }),
    ...(enteredAtMin === undefined ? {} : { enteredAt: msOf(enteredAtMin) }),
  }
  return { ...said, atMs: msOf(atMin), command }
}

/** What a line says of itself, however wrong it is. */
function saidBy(given: unknown): { atMin: number | null; type: string | null } {
  const { atMin, type } = Object(given) as { atMin?: unknown; type?: unknown }
  return {
    atMin: typeof atMin === 'number' && Number.isFinite(atMin) ? atMin : null,
    type: typeof type === 'string' ? type : null,
  }
}
