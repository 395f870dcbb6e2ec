import type { Entry } from '../envelope.ts'
import type { ServerStanding } from './serverStanding.ts'

/**
 * What a follower of a shop hears: committed entries as they come, and between them how the server
 * stands. Each message is an event of a server-sent event stream (WHATWG HTML, "Server-sent events").
 */

/** The id that a follower goes on from is not in this log: what it has folded is of another one. */
export type TailReset = {
  readonly code: 'unknownTail'
  readonly params: { readonly unknown: string; readonly head: number }
  /** From here on the stream goes on. */
  readonly tail: string
}

export type TailMessage =
  /** The first one: which server this is. */
  | ({
      readonly kind: 'hello'
      readonly build: string
      readonly foldVersion: number
      readonly head: number
    } & ServerStanding)
  | ({ readonly kind: 'beat' } & ServerStanding)
  | ({ readonly kind: 'reset' } & TailReset)
  | { readonly kind: 'entry'; readonly entry: Entry }

export type TailKind = TailMessage['kind']

/** The name of each kind's event. An entry's has none: what has no name is a `message`. */
export const TAIL_EVENTS = {
  hello: 'hello',
  beat: 'beat',
  reset: 'reset',
  entry: 'message',
} as const satisfies Readonly<Record<TailKind, string>>

export const TAIL_KINDS = Object.keys(TAIL_EVENTS) as readonly TailKind[]

/** The data of a message's event: all but its kind, which is the event's name; of an entry itself. */
export function tailData(message: TailMessage): object {
  if (message.kind === 'entry') return message.entry
  const { kind: _, ...data } = message
  return data
}

/**
 * The message that an event brings.
 * @param data of an event of that kind, as `tailData` made it
 * @throws SyntaxError for what is not JSON
 */
export function tailMessage(kind: TailKind, data: string): TailMessage {
  const said: object = JSON.parse(data)
  return (kind === 'entry' ? { kind, entry: said } : { kind, ...said }) as TailMessage
}
