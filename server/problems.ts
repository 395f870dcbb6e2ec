import type { FieldError } from '../machines/accept.ts'
import type { CommandAnswer, ServerRefusal } from '../machines/contract.ts'
import type { Entry } from '../machines/envelope.ts'
import type { Refusal } from '../machines/refusals.ts'

/**
 * The one table from a code to its HTTP status. Every refusal that is not named here is 409: the
 * shop's rules said no. A wrong field is 400, whatever field it is.
 */
const STATUS = {
  wrongField: 400,
  crossSite: 403,
  unknownHost: 403,
  notFound: 404,
  wrongMethod: 405,
  commandIdReused: 409,
  newerLog: 409,
  tooLarge: 413,
  fault: 500,
  notStarted: 503,
  notStored: 503,
  stopping: 503,
  unreadable: 503,
} as const

type Status = typeof STATUS
/** Codes of errors that are about the request or the server, and carry no field. */
export type ProblemCode = Exclude<keyof Status, 'wrongField' | 'tooLarge' | ServerRefusal['code']>

type CodedError = { readonly error: { readonly code: string; readonly message: string } }
export type ProblemAnswer<C extends ProblemCode = ProblemCode> = {
  readonly status: Status[C]
  readonly body: CodedError
}

/** An answer to one command; a fault of the program is one too, so that no caller waits forever. */
export type Answer = CommandAnswer | ProblemAnswer<'fault'>

export const problem = <C extends ProblemCode>(code: C, message: string): ProblemAnswer<C> => ({
  status: STATUS[code],
  body: { error: { code, message } },
})

export const accepted = (position: number, entries: readonly Entry[]): Answer => ({
  status: 200,
  body: { position, entries },
})

export const wrong = (error: FieldError) =>
  ({ status: STATUS.wrongField, body: { error } }) as const

export const tooLarge = (message: string) =>
  ({ status: STATUS.tooLarge, body: { error: { field: 'body', message } } }) as const

type ServerRefused = { readonly status: 409; readonly body: { readonly refusal: ServerRefusal } }

const ofServer = (code: ServerRefusal['code'], message: string): ServerRefused => ({
  status: STATUS[code],
  body: { refusal: { code, message, also: [], overridable: false } },
})

export const refusedBy = (refusal: Refusal): Answer => ({ status: 409, body: { refusal } })

export const idReused = (id: string): ServerRefused =>
  ofServer(
    'commandIdReused',
    `Command id ${id} was used for another command. Accepted is the same command again, or a new id.`,
  )

export const newerLog = (): ServerRefused =>
  ofServer(
    'newerLog',
    'The log holds entries of a newer version of this program. Nothing is decided until the server is updated; everything can still be read.',
  )

/** The answer to a shop whose commit failed. Nothing of the group was written. */
export const notStored = (error: unknown): ProblemAnswer<'notStored'> =>
  problem('notStored', `Nothing was recorded; send it again. ${reasonOf(error)}`)

export const unreadable = (error: unknown): ProblemAnswer<'unreadable'> =>
  problem('unreadable', `The log could not be read. ${reasonOf(error)}`)

export const fault = (what = ''): ProblemAnswer<'fault'> =>
  problem('fault', `The server met a fault of its own. ${what}Report it.`)

/** Only a store's own errors are written for people; others may carry private details. */
function reasonOf(error: unknown): string {
  return error instanceof Error && error.name === 'LogError'
    ? error.message
    : 'The store gave no reason.'
}
