/**
 * The envelope of every command and entry. A command is a request in the imperative; an entry is a
 * fact in the past tense. Machines see entries only.
 */

/** The keys by which an entry names things. Columns of the log, streams of the fold. */
export const THING_KEYS = ['job', 'panel', 'cup', 'gun', 'zone', 'sheet'] as const
export type ThingKey = (typeof THING_KEYS)[number]
export type ThingKeys = { readonly [K in ThingKey]?: string }

export type Json =
  | null
  | boolean
  | number
  | string
  | readonly Json[]
  | { readonly [key: string]: Json }

export type Command<T extends string = string, D = unknown> = {
  readonly id: string
  /** The shape that the rest is in; without it the first. */
  readonly protocol?: number
  readonly type: T
  /** When it happened, UTC ms; without it, when it arrived. */
  readonly at?: number
  /** When it was pressed, UTC ms, corrected to server time. */
  readonly enteredAt?: number
  /** How much enteredAt was corrected by. */
  readonly clockOffsetMs?: number
  readonly device?: string
  readonly by?: string
  /** The device's own count of its commands: it orders what one device pressed in one millisecond. */
  readonly seq?: number
  readonly source?: string
  readonly reason?: string
  readonly data: D
}

/** A limit that a recorded fact broke. Times are UTC ms, everything else in the unit of its code. */
export type Broken = { readonly code: string; readonly limit: Json; readonly value: Json }

/** An override: going on against refusals, with a reason, kept forever. */
export type Override = {
  readonly reason: string
  readonly codes: readonly string[]
  readonly broken: readonly Broken[]
}

/** What decide says happened: an entry that no log has placed yet. */
export type Draft = ThingKeys & {
  readonly shop: string
  /** Command id + "." + n, n counting from 0. */
  readonly id: string
  readonly type: string
  readonly version: number
  readonly at: number
  readonly enteredAt: number
  readonly clockOffsetMs?: number
  readonly device: string | null
  readonly by: string | null
  readonly source?: string
  readonly command: string
  /** Null until the log gives the position, for a command that carries none. */
  readonly seq: number | null
  readonly data: { readonly [key: string]: Json }
  readonly reason?: string
  readonly outside?: readonly Broken[]
  /** Codes that could not be judged because nothing was measured. Not the same as outside. */
  readonly notJudged?: readonly string[]
  readonly override?: Override
  /** The id of the voided entry that this one replaces. */
  readonly corrects?: string
}

/** A draft as the machines see it: of one type, with the data of that type. */
export type Fact<T extends string, D> = Omit<Draft, 'type' | 'data'> & {
  readonly type: T
  readonly data: D
}

/**
 * Reads entries of a type as facts: what is in the log was checked when it came and lifted when it was read, so
 * its type says what its data is.
 */
export const isFact =
  <F extends Fact<string, unknown>>(type: F['type']) =>
  (entry: Draft): entry is Draft & F =>
    entry.type === type

/** A draft with its place in the log. */
export type Entry = Draft & {
  /** 1, 2, 3 ... within a shop. */
  readonly position: number
  readonly recordedAt: number
  /** SHA-256 of the RFC 8785 text of the command that caused it, lower-case hex. */
  readonly commandDigest: string
  readonly seq: number
  /** SHA-256 of previous hash + SHA-256 of the entry's RFC 8785 text without this field. */
  readonly hash: string
}

/** The number at the end of an entry's id. */
export const ordinal = (id: string): number => Number(id.slice(id.lastIndexOf('.') + 1))

/** A draft that has no position yet comes after every one that has. */
const seqOf = (e: Draft): number => e.seq ?? Number.MAX_SAFE_INTEGER

/** The order in which a thing's entries are folded: at, device, seq, command, n. Positions play no part. */
export function byOccurrence(a: Draft, b: Draft): number {
  return (
    a.at - b.at ||
    compareText(a.device ?? '', b.device ?? '') ||
    seqOf(a) - seqOf(b) ||
    compareText(a.command, b.command) ||
    ordinal(a.id) - ordinal(b.id)
  )
}

/** By UTF-16 code unit: the same everywhere, unlike localeCompare. */
export const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0)
