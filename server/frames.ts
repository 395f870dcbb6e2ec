import type { Entry } from '../machines/envelope.ts'
import { tailId } from './tailId.ts'

/** Messages of a server-sent event stream (WHATWG HTML, "Server-sent events"). JSON has no raw line breaks. */

const utf8 = new TextEncoder()

/** A message with a name of its own. Only one with an id moves the place where a client goes on. */
export const eventFrame = (event: string, data: object, id?: string): Uint8Array =>
  utf8.encode(
    `event: ${event}\n${id === undefined ? '' : `id: ${id}\n`}data: ${JSON.stringify(data)}\n\n`,
  )

/** How long a client waits before it comes again, ms. It belongs to the message behind it. */
export const retryField = (ms: number): Uint8Array => utf8.encode(`retry: ${ms}\n`)

// Every connection sends the same bytes: they are made once.
const made = new WeakMap<Entry, Uint8Array>()

/** An entry: a message without a name, under its tail id. */
export function entryFrame(entry: Entry): Uint8Array {
  const known = made.get(entry)
  if (known) return known
  const frame = utf8.encode(`id: ${tailId(entry)}\ndata: ${JSON.stringify(entry)}\n\n`)
  made.set(entry, frame)
  return frame
}
