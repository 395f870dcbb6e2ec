import { TAIL_EVENTS, type TailMessage, tailData } from '../machines/contract.ts'
import type { Entry } from '../machines/envelope.ts'
import { tailId } from './tailId.ts'

/** Messages of a server-sent event stream (WHATWG HTML, "Server-sent events"). JSON has no raw line breaks. */

const utf8 = new TextEncoder()

/** A message, as bytes. Only one with an id moves the place where a client goes on. */
export function tailFrame(message: TailMessage, id?: string): Uint8Array {
  const event = TAIL_EVENTS[message.kind]
  const name = event === 'message' ? '' : `event: ${event}\n`
  const at = id === undefined ? '' : `id: ${id}\n`
  return utf8.encode(`${name}${at}data: ${JSON.stringify(tailData(message))}\n\n`)
}

/** How long a client waits before it comes again, ms. It belongs to the message behind it. */
export const retryField = (ms: number): Uint8Array => utf8.encode(`retry: ${ms}\n`)

// Every connection sends the same bytes: they are made once.
const made = new WeakMap<Entry, Uint8Array>()

/** An entry, under its tail id. */
export function entryFrame(entry: Entry): Uint8Array {
  const known = made.get(entry)
  if (known) return known
  const frame = tailFrame({ kind: 'entry', entry }, tailId(entry))
  made.set(entry, frame)
  return frame
}
