import type { StoreFault } from '../machines/contract/damage.ts'
import type {
  CommandResult,
  ServerError,
  ServerErrorCode,
  ServerErrorParams,
  ServerRefusal,
  ServerRefusalParams,
  WrongFields,
} from '../machines/contract.ts'
import { wrongAt } from '../machines/contract.ts'
import { distinct } from '../machines/distinct.ts'
import type { Entry } from '../machines/envelope.ts'
import type { Refusal } from '../machines/refusals.ts'
import { LogError } from './log/log.ts'

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
  photoMissing: 409,
  tooLarge: 413,
  fault: 500,
  noBackup: 409,
  noSchedule: 409,
  notStarted: 503,
  notStored: 503,
  photoNotStored: 503,
  stopping: 503,
  unreadable: 503,
} as const

type Status = typeof STATUS

export type ProblemAnswer<C extends ServerErrorCode = ServerErrorCode> = {
  readonly status: Status[C]
  readonly body: { readonly error: ServerError }
}

/** An answer to one command; a fault of the program is one too, so that no caller waits forever. */
export type Answer = CommandResult

export const problem = <C extends ServerErrorCode>(
  code: C,
  params: ServerErrorParams[C],
): ProblemAnswer<C> => ({
  status: STATUS[code],
  body: { error: { code, params } as ServerError },
})

/** What is recorded of a thing that is not known yet waits for it. */
const WAITS: readonly string[] = ['cupUnknown', 'panelUnknown', 'jobUnknown']

export function accepted(position: number, entries: readonly Entry[]): Answer {
  const unknown = entries.flatMap(({ outside = [] }) =>
    outside.flatMap(({ code, value }) =>
      WAITS.includes(code) && typeof value === 'string' ? [value] : [],
    ),
  )
  const waiting = unknown.length === 0 ? {} : { waiting: distinct(unknown) }
  return { status: 200, body: { position, entries, ...waiting } }
}

/** @param found the fields; of what came with them only these cross HTTP */
export const wrong = ({ error, errors }: WrongFields) =>
  ({ status: STATUS.wrongField, body: { error, errors } }) as const

export const tooLarge = (code: 'bodySize' | 'pictureSize', bytes: number) =>
  ({ status: STATUS.tooLarge, body: wrongAt('body', undefined, code, { bytes }) }) as const

type ServerRefused = { readonly status: 409; readonly body: { readonly refusal: ServerRefusal } }

const ofServer = <C extends ServerRefusal['code']>(
  code: C,
  params: ServerRefusalParams[C],
): ServerRefused => ({
  status: STATUS[code],
  body: { refusal: { code, params, also: [], overridable: false } as ServerRefusal },
})

export const refusedBy = (refusal: Refusal): Answer => ({ status: 409, body: { refusal } })

export const idReused = (id: string): ServerRefused => ofServer('commandIdReused', { id })

/** Nothing is decided until the server is updated. */
export const newerLog = (): ServerRefused => ofServer('newerLog', {})

/** A log never names a picture that was not kept. */
export const photoMissing = (photo: string): ServerRefused => ofServer('photoMissing', { photo })

/** The answer to a shop whose commit failed. Nothing of the group was written. */
export const notStored = (error: unknown): ProblemAnswer<'notStored'> =>
  problem('notStored', { reason: reasonOf(error) })

/** Whether a command was neither kept nor refused: it is to be sent again, and before what was pressed after it. */
export const isUnstored = ({ body }: Answer): boolean =>
  'error' in body && (body.error.code === 'notStored' || body.error.code === 'stopping')

export const unreadable = (error: unknown): ProblemAnswer<'unreadable'> =>
  problem('unreadable', { reason: reasonOf(error) })

export const fault = (isNothingRecorded = false): ProblemAnswer<'fault'> =>
  problem('fault', { isNothingRecorded })

/** Only a store's own errors are codes; others may carry private details. */
const reasonOf = (error: unknown): StoreFault | null =>
  error instanceof LogError ? error.code : null
