import {
  decodeIpp,
  encodeIpp,
  type IppMessage,
  OPERATIONS,
} from '../../server/printing/ippMessage.ts'
import type { Post } from '../../server/printing/ippPrinter.ts'
import recorded from '../reference/ipp-printer.json' with { type: 'json' }

/** A printer that answers with what a real one once answered. */

export type RecordedName = keyof typeof recorded.answers

export const hexBytes = (hex: string): Uint8Array => new Uint8Array(Buffer.from(hex, 'hex'))
export const recordedAnswer = (name: RecordedName): Uint8Array => hexBytes(recorded.answers[name])
export const ipptoolRequest = recorded.ipptool

const GET_JOBS = 0x0a
const USUAL: Readonly<Record<number, RecordedName>> = {
  [OPERATIONS.getPrinterAttributes]: 'aboutIdle',
  [OPERATIONS.validateJob]: 'validated',
  [OPERATIONS.printJob]: 'printed',
  [OPERATIONS.getJobAttributes]: 'jobCompleted',
  [OPERATIONS.cancelJob]: 'validated',
  [GET_JOBS]: 'jobsCompleted',
}

export type RecordedPrinter = {
  readonly post: Post
  /** Every request in order, decoded. */
  readonly asked: readonly IppMessage[]
  /** The documents that it took. */
  readonly taken: readonly IppMessage[]
  /** What it answers next to an operation; without a name it is as at first. `away`: it does not answer. */
  readonly answers: (
    operation: keyof typeof OPERATIONS | 'getJobs',
    with_?: RecordedName | 'away' | 'lost',
  ) => void
  /** From now on it says nothing of attributes whose name begins so. */
  readonly saysNothingOf: (beginning: string) => void
}

/** `lost`: it takes the request, and its answer never comes. */
export function recordedPrinter(): RecordedPrinter {
  const asked: IppMessage[] = []
  const taken: IppMessage[] = []
  const now = new Map<number, RecordedName | 'away' | 'lost'>()
  const unsaid: string[] = []
  const said = (answer: IppMessage): IppMessage => ({
    ...answer,
    groups: answer.groups.map((group) => ({
      ...group,
      attributes: group.attributes.filter(
        ({ name }) => !unsaid.some((beginning) => name.startsWith(beginning)),
      ),
    })),
  })
  return {
    asked,
    taken,
    answers(operation, name) {
      const code = operation === 'getJobs' ? GET_JOBS : OPERATIONS[operation]
      if (name) now.set(code, name)
      else now.delete(code)
    },
    saysNothingOf(beginning) {
      unsaid.push(beginning)
    },
    async post(_url, body) {
      const request = decodeIpp(body)
      const name = now.get(request.code) ?? USUAL[request.code] ?? 'validated'
      if (name === 'away') throw new Error('nothing answers')
      asked.push(request)
      const isTaken =
        request.code === OPERATIONS.printJob && (name === 'printed' || name === 'lost')
      if (isTaken) taken.push(request)
      if (name === 'lost') throw new Error('no answer in time')
      return encodeIpp({
        ...said(decodeIpp(recordedAnswer(name))),
        requestId: request.requestId,
      })
    },
  }
}
