import type { FieldError } from '../../machines/accept.ts'
import type { CommandType } from '../../machines/commands.ts'
import type { Entry } from '../../machines/envelope.ts'
import type { Refusal } from '../../machines/refusals.ts'
import { commandId } from './ids.ts'

/** What became of a command. `away`: nobody answered; it was not kept. */
export type Sent =
  | { readonly is: 'kept'; readonly id: string; readonly entries: readonly Entry[] }
  /** Nobody answered; it waits on this kiosk and will be sent, with the time when it was pressed. */
  | { readonly is: 'queued'; readonly id: string }
  | { readonly is: 'refused'; readonly refusal: Refusal }
  | { readonly is: 'wrong'; readonly error: FieldError }
  | { readonly is: 'away'; readonly message: string }

/** Whether a press is done with, as far as the painter is concerned. */
export const isTaken = (sent: Sent): sent is Extract<Sent, { is: 'kept' | 'queued' }> =>
  sent.is === 'kept' || sent.is === 'queued'

export type Send = (type: CommandType, data: object, extra?: SendExtra) => Promise<Sent>
type SendExtra = {
  readonly at?: number
  readonly enteredAt?: number
  readonly source?: string
  readonly reason?: string
}

const ANSWER_WITHIN_MS = 10_000

type Body = {
  readonly entries?: readonly Entry[]
  readonly refusal?: Refusal
  readonly error?: FieldError & { readonly code?: string }
}

/** What an answer means. A 503 and the like are the server's trouble, not the command's. */
export function meant(id: string, status: number, body: Body): Sent {
  if (status === 200 && body.entries) return { is: 'kept', id, entries: body.entries }
  if (body.refusal) return { is: 'refused', refusal: body.refusal }
  if (body.error && status < 500) return { is: 'wrong', error: body.error }
  return { is: 'away', message: body.error?.message ?? `The server answered ${status}.` }
}

/** Sends commands to the server that this page came from. */
export function sender(fetcher: typeof fetch): Send {
  return async (type, data, extra = {}) => {
    const id = commandId()
    try {
      const response = await fetcher('/api/commands', {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ id, type, data, source: 'touch', ...extra }),
        signal: AbortSignal.timeout(ANSWER_WITHIN_MS),
      })
      return meant(id, response.status, (await response.json()) as Body)
    } catch (trouble) {
      return { is: 'away', message: String(trouble) }
    }
  }
}
