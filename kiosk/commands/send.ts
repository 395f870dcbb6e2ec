import { customAlphabet } from 'nanoid'
import { ID_ALPHABET } from '../../machines/accept.ts'
import type { CommandInput, CommandType } from '../../machines/commands.ts'
import type { Entry } from '../../machines/envelope.ts'
import type { ToldError, ToldRefusal, Trouble } from './refusalText.ts'

/**
 * What became of a command. `away`: nobody answered, and it could not be kept here either; `isFull`
 * where this device has no room for it.
 */
export type Sent =
  | { readonly kind: 'kept'; readonly id: string; readonly entries: readonly Entry[] }
  /** Nobody answered; it waits on this kiosk and will be sent, with the time when it was pressed. */
  | { readonly kind: 'queued'; readonly id: string }
  | Trouble
  | { readonly kind: 'away'; readonly isFull?: boolean }

/** Whether a press is done with, as far as the painter is concerned. */
export const isTaken = (sent: Sent): sent is Extract<Sent, { kind: 'kept' | 'queued' }> =>
  sent.kind === 'kept' || sent.kind === 'queued'

/** Sends a command: at once, or as soon as the server answers again. It never rejects. */
export type Send = <T extends CommandType>(
  type: T,
  data: CommandInput<T>,
  extra?: SendExtra,
) => Promise<Sent>
export type SendExtra = {
  readonly at?: number
  readonly enteredAt?: number
  readonly source?: string
  readonly reason?: string
}

export type AnswerBody = {
  readonly position?: number
  readonly entries?: readonly Entry[]
  readonly refusal?: ToldRefusal
  readonly error?: ToldError
  readonly errors?: readonly ToldError[]
}

/** About the server's log and not about the command: it is answered otherwise another time. */
const OF_THE_SERVER: readonly string[] = ['newerLog']
/** A fault of the program in this one command. It would come again, and hold up all behind it. */
const FAULT = 'fault'

/** Of what no program of this shop sends by mistake: a protocol, a type or a field that the server has not. */
const isNotKnown = ({ code, field }: ToldError): boolean =>
  code === 'newestProtocol' || code === 'onlyFields' || (code === 'oneOf' && field === 'type')

/** What an answer means. A 503 and the like are the server's trouble, not the command's. */
export function meant(id: string, status: number, body: AnswerBody): Sent {
  const { entries, refusal, error, errors = [] } = body
  const unknown = [error, ...errors].find((one) => one && isNotKnown(one))
  if (status === 200 && entries) return { kind: 'kept', id, entries }
  if (refusal && !OF_THE_SERVER.includes(refusal.code)) return { kind: 'refused', refusal }
  if (status === 400 && unknown) return { kind: 'notKnown', error: unknown }
  if (error && (status === 400 || status === 413 || error.code === FAULT))
    return { kind: 'wrong', error, ...(errors.length > 1 ? { errors } : {}) }
  return { kind: 'away' }
}

/**
 * Ids are made by the sender. nanoid takes them from crypto.getRandomValues, which also a page on
 * plain http has.
 */

/** Id of a job, panel or cup, as printed on a label. */
export const thingId = customAlphabet(ID_ALPHABET, 8)

/** Id of a command. */
export const commandId = customAlphabet(`${ID_ALPHABET}abcdefghjkmnpqrstvwxyz`, 16)
