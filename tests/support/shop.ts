import {
  type AnyCommand,
  parseCommand,
  type Said,
  type WrongField,
} from '../../machines/contract.ts'
import { type Decided, decide } from '../../machines/decide.ts'
import type { Draft, Entry } from '../../machines/envelope.ts'
import { fold } from '../../machines/fold.ts'
import type { Refusal } from '../../machines/refusals.ts'
import { emptyState, type State } from '../../machines/state.ts'
import { saidRefusal, saidWrong } from './said.ts'

export const START_MS = Date.UTC(2026, 0, 5, 8)
export const MINUTE = 60_000
export const minute = (min: number): number => START_MS + Math.round(min * MINUTE)

export type Answer =
  | Extract<Decided, { drafts: unknown }>
  | { refusal: Said<Refusal> }
  | { error: Said<WrongField>; errors: readonly WrongField[] }
type Extra = {
  id?: string
  at?: number
  enteredAt?: number
  device?: string
  seq?: number
  reason?: string
  by?: string
}

/** A decision as an English client gets it. */
export function answerTo(decided: Decided, now: number): Answer {
  if ('refusal' in decided) return { refusal: saidRefusal(decided.refusal, now) }
  return 'errors' in decided ? { ...decided, error: saidWrong(decided.error) } : decided
}

/**
 * A shop without a server: the same parse, decide and fold, with positions given in order. The
 * hash chain is the server's business and stays out of here.
 */
export class Shop {
  state: State = emptyState('TESTSHOP', 'h0')
  readonly entries: Entry[] = []
  now = START_MS
  #count = 0

  /** Moves the time of arrival to a minute after the start. */
  at(min: number): this {
    this.now = minute(min)
    return this
  }

  /** Another shop with the same past, to try what would happen. */
  fork(): Shop {
    const copy = new Shop()
    copy.state = this.state
    copy.entries.push(...this.entries)
    copy.now = this.now
    copy.#count = this.#count
    return copy
  }

  parse(type: string, data: unknown, extra: Extra = {}): AnyCommand {
    this.#count += 1
    const parsed = parseCommand({ id: `c${this.#count}`, type, data, ...extra })
    if (!parsed.ok) throw new Error(saidWrong(parsed.error).message)
    return parsed.value
  }

  /** Sends a command; whatever it answers. */
  send(type: string, data: unknown, extra: Extra = {}): Answer {
    return this.arrive(this.parse(type, data, extra))
  }

  /** Decides a command that arrives now. */
  arrive(command: AnyCommand): Answer {
    const decided = decide(this.state, command, this.now)
    if ('drafts' in decided) for (const draft of decided.drafts) this.keep(draft)
    return answerTo(decided, this.now)
  }

  keep(draft: Draft): Entry {
    const position = this.state.head + 1
    const entry: Entry = {
      ...draft,
      position,
      seq: draft.seq ?? position,
      recordedAt: this.now,
      commandDigest: `d-${draft.command}`,
      hash: `h${position}`,
    }
    this.entries.push(entry)
    this.state = fold(this.state, entry)
    return entry
  }

  /** Sends a command that must be accepted; its drafts. */
  do(type: string, data: unknown, extra: Extra = {}): readonly Draft[] {
    const answer = this.send(type, data, extra)
    if ('drafts' in answer) return answer.drafts
    throw new Error(`${type} was not accepted: ${JSON.stringify(answer)}`)
  }

  /** Sends a command that must be refused; its code. */
  refused(type: string, data: unknown, extra: Extra = {}): string {
    const answer = this.send(type, data, extra)
    if ('refusal' in answer) return answer.refusal.code
    throw new Error(`${type} was not refused: ${JSON.stringify(answer)}`)
  }
}
