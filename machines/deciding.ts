import type { EventType, Kind, ThingRef } from './catalog.ts'
import type { WrongFields } from './contract/wrongField.ts'
import type { Command, ThingKeys } from './envelope.ts'
import { thingBefore } from './fold.ts'
import { folders } from './folders.ts'
import type { Marks } from './judge.ts'
import type { NamedThing } from './refusalParams.ts'
import { type Problem, type Refusal, refusalOf } from './refusals.ts'
import type { State } from './state.ts'
import type { ContextOf, Thing } from './things.ts'

/** A command at the moment of its decision. */
export type Deciding<T extends string = string, D = unknown> = {
  readonly state: State
  readonly command: Command<T, D>
  readonly data: D
  /** When it happened. */
  readonly at: number
  readonly enteredAt: number
  /** When it arrived. */
  readonly now: number
  /** Live commands may be refused; late facts are kept with what they broke. */
  readonly isLive: boolean
}

/** A fact that a command leads to, before it has an envelope. */
export type NewFact = {
  readonly type: EventType
  readonly keys?: ThingKeys
  readonly data: object
  readonly at?: number
  readonly marks?: Marks
  readonly reason?: string
  readonly corrects?: string
  /** Its number within the command, where another fact may be left out before it; else its place. */
  readonly n?: number
}

/** No facts at all is an answer too: the command adds nothing to what is recorded. */
export type Decision =
  | { readonly facts: readonly NewFact[] }
  | { readonly refusal: Refusal }
  | WrongFields

export const refused = (...problems: readonly Problem[]): Decision => ({
  refusal: refusalOf(problems),
})

/** A thing as it was when the command happened: also a live one may arrive after its neighbors. */
export const thingThen = <K extends Kind>(d: Deciding, ref: ThingRef<K>): Thing<K> | undefined =>
  thingBefore(d.state, ref, d.at)

export const contextThen = <K extends Kind>(
  d: Deciding,
  kind: K,
  id: string,
): ContextOf<K> | undefined => thingThen(d, { kind, id })?.context

/**
 * Something that is named and not there.
 * @param known what could have been named instead, not too much of it
 */
export const unknown = (
  what: NamedThing,
  value: string,
  known: readonly string[] | null,
): Problem => ({ code: 'unknownThing', what, value, limit: known })

/** That a job is not known yet, of a late fact; nothing where it is. */
export const jobNotKnownYet = (isKnown: boolean, id: string): Problem[] =>
  isKnown ? [] : [{ code: 'jobUnknown', limit: null, value: id }]

/** Whether a thing may still be named: not all of it is voided, and it is not retired. */
function isKnown(kind: Kind, { value, context }: Thing): boolean {
  const { blank } = folders[kind]
  const isBlank = JSON.stringify([value, context]) === JSON.stringify([blank.value, blank.context])
  const isRetired = 'retiredAt' in context && context.retiredAt !== null
  return !isBlank && !isRetired
}

const KNOWN_MOST = 12

/** Known ids of a kind to suggest, not too many. */
export const knownIds = (state: State, kind: Kind): readonly string[] =>
  Object.entries(state.things[kind])
    .flatMap(([id, thing]) => (isKnown(kind, thing) ? [id] : []))
    .slice(0, KNOWN_MOST)
