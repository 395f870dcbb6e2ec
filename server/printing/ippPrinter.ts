import type { PrintTrouble } from '../../machines/contract/printing.ts'
import {
  type Attribute,
  attribute,
  decodeIpp,
  encodeIpp,
  type Group,
  type IppMessage,
  NotIpp,
  numberIn,
  OPERATIONS,
  type Operation,
  textsIn,
} from './ippMessage.ts'
import { statusTrouble, stoppedBy } from './ippTroubles.ts'

/** A printer asked over the network (RFC 8011). The socket comes from outside. */

/**
 * Sends a body by HTTP POST and gives back that of the answer.
 * @param fingerprint of the only certificate that it may go to; null where any that is vouched for will do
 * @throws where nothing answers in time, or with another status than 200; PrinterError of a certificate
 */
export type Post = (
  url: string,
  body: Uint8Array,
  timeoutMs: number,
  fingerprint: string | null,
) => Promise<Uint8Array>

/** A printer could not be used. `isUnsure`: it may have taken what was sent all the same. */
export class PrinterError extends Error {
  override readonly name = 'PrinterError'
  readonly trouble: PrintTrouble
  readonly isUnsure: boolean
  /** The status code of its answer, where it gave one. */
  readonly status: number | null
  constructor(trouble: PrintTrouble, isUnsure = false, status: number | null = null) {
    super(trouble.code)
    this.trouble = trouble
    this.isUnsure = isUnsure
    this.status = status
  }
}

export type Document = {
  readonly format: string
  readonly bytes: Uint8Array
}
export type JobAsk = {
  /** What the printer's own list shows; by it a job that nobody heard of again is found. */
  readonly name: string
  readonly user: string
  readonly attributes: readonly Attribute[]
}
/**
 * `ended`: null while the printer has it; `aborted`: by the printer itself, `canceled`: by somebody;
 * `forgotten`: it knows no such job (any more), or has given its number to another since it was off.
 */
export type JobState = {
  readonly number: number
  readonly ended: 'printed' | 'aborted' | 'canceled' | 'forgotten' | null
  readonly reasons: readonly string[]
}

export type IppPrinter = {
  readonly about: () => Promise<IppMessage>
  readonly validate: (ask: JobAsk, format: string) => Promise<void>
  /** @returns the printer's number for the job */
  readonly print: (ask: JobAsk, document: Document) => Promise<number>
  /** @param name that the job was sent with */
  readonly job: (number: number, name: string) => Promise<JobState>
  /** The newest job of a name that the printer knows of; null where it knows none. */
  readonly find: (name: string) => Promise<number | null>
  readonly cancel: (number: number) => Promise<void>
}

const ASK_MS = 4_000
const SEND_MS = 20_000
/** RFC 8011 section 4.2.6.1. */
const GET_JOBS = 0x0a
/** client-error-not-found and -gone (RFC 8011 appendix B.1.4). */
const FORGOTTEN: readonly number[] = [0x0406, 0x0407]
/** RFC 8011 section 5.3.7. */
const ENDED = new Map<number, JobState['ended']>([
  [7, 'canceled'],
  [8, 'aborted'],
  [9, 'printed'],
])

/** What is asked of a printer; the rest of its some hundred attributes is of no use here. */
const WANTED = [
  'printer-name',
  'printer-info',
  'printer-make-and-model',
  'printer-state',
  'printer-state-reasons',
  'printer-is-accepting-jobs',
  'document-format-supported',
  'media-supported',
  'media-ready',
  'media-size-supported',
  'printer-resolution-supported',
  'pwg-raster-document-resolution-supported',
  'pwg-raster-document-type-supported',
  'print-scaling-supported',
  'ipp-versions-supported',
]

/**
 * @param address such as "ipp://192.168.1.20/ipp/print"
 * @param fingerprint of the certificate that was trusted; null for none
 * @returns nothing is sent until it is asked; every call throws PrinterError
 */
export function ippPrinter(
  address: string,
  post: Post,
  fingerprint: string | null = null,
): IppPrinter {
  const url = httpUrl(address)
  let requests = 0

  async function ask(
    code: number,
    operation: readonly Attribute[],
    job: readonly Attribute[] = [],
    data: Uint8Array = new Uint8Array(),
  ): Promise<IppMessage> {
    requests += 1
    // Charset, language and printer come first and in this order (RFC 8011 section 4.1.4.1).
    const attributes = [
      attribute('attributes-charset', 'charset', 'utf-8'),
      attribute('attributes-natural-language', 'language', 'en'),
      attribute('printer-uri', 'uri', address),
      ...operation,
    ]
    const groups: Group[] = [{ group: 'operation', attributes }]
    if (job.length > 0) groups.push({ group: 'job', attributes: job })
    const version = { major: 1, minor: 1 }
    const body = encodeIpp({ ...version, code, requestId: requests, groups, data })
    return await answered(body, data.length > 0)
  }

  async function answered(body: Uint8Array, isDocument: boolean): Promise<IppMessage> {
    let bytes: Uint8Array
    try {
      bytes = await post(url, body, isDocument ? SEND_MS : ASK_MS, fingerprint)
    } catch (error) {
      if (error instanceof PrinterError) throw error
      throw new PrinterError({ code: 'away', params: { address } }, isDocument)
    }
    try {
      const message = decodeIpp(bytes)
      const trouble = statusTrouble(message)
      if (trouble) throw new PrinterError(trouble, false, message.code)
      return message
    } catch (error) {
      if (!(error instanceof NotIpp)) throw error
      throw new PrinterError({ code: 'notPrinter', params: { address } }, isDocument)
    }
  }

  const call = (
    operation: Operation,
    attributes: readonly Attribute[],
    job?: readonly Attribute[],
    data?: Uint8Array,
  ) => ask(OPERATIONS[operation], attributes, job, data)
  const jobOf = (number: number) => attribute('job-id', 'integer', number)
  const asUser = (user: string) => attribute('requesting-user-name', 'name', user)

  return {
    about: () =>
      call('getPrinterAttributes', [attribute('requested-attributes', 'keyword', ...WANTED)]),
    async validate({ name, user, attributes }, format) {
      await call('validateJob', jobHead(name, user, format), attributes)
    },
    async print({ name, user, attributes }, { format, bytes }) {
      const answer = await call('printJob', jobHead(name, user, format), attributes, bytes)
      const number = numberIn(answer, 'job', 'job-id')
      if (number === null) throw new PrinterError({ code: 'notPrinter', params: { address } }, true)
      return number
    },
    async job(number, name) {
      const wanted = ['job-id', 'job-name', 'job-state', 'job-state-reasons']
      const forgotten = { number, ended: 'forgotten', reasons: [] } as const
      let answer: IppMessage
      try {
        answer = await call('getJobAttributes', [
          jobOf(number),
          attribute('requested-attributes', 'keyword', ...wanted),
        ])
      } catch (error) {
        if (error instanceof PrinterError && FORGOTTEN.includes(error.status ?? 0)) return forgotten
        throw error
      }
      const [known = name] = textsIn(answer, 'job', 'job-name')
      if (known !== name) return forgotten
      const state = numberIn(answer, 'job', 'job-state') ?? 0
      const reasons = textsIn(answer, 'job', 'job-state-reasons').filter((one) => one !== 'none')
      return { number, ended: ENDED.get(state) ?? null, reasons }
    },
    async find(name) {
      const found: number[] = []
      for (const which of ['not-completed', 'completed']) {
        const answer = await ask(GET_JOBS, [
          attribute('which-jobs', 'keyword', which),
          attribute('requested-attributes', 'keyword', 'job-id', 'job-name'),
        ])
        for (const { group, attributes } of answer.groups) {
          const is = (key: string) => attributes.find((one) => one.name === key)?.values[0]
          const number = is('job-id')
          if (group === 'job' && is('job-name') === name && typeof number === 'number')
            found.push(number)
        }
      }
      return found.length === 0 ? null : Math.max(...found)
    },
    async cancel(number) {
      await call('cancelJob', [jobOf(number), asUser('flashbell')])
    },
  }

  function jobHead(name: string, user: string, format: string): Attribute[] {
    return [
      asUser(user),
      attribute('job-name', 'name', name),
      attribute('document-format', 'mimeType', format),
    ]
  }
}

const IPP_PORT = 631

/** IPP goes over HTTP on its own port (RFC 8010 section 4, RFC 7472 for the secure one). */
export function httpUrl(address: string): string {
  const [, secure, host, rest = ''] = /^ipp(s?):\/\/([^/]+)(\/.*)?$/.exec(address) ?? []
  if (host === undefined)
    throw new RangeError(`address: ${address} won't work. Use ipp://host/path.`)
  const hasPort = /:\d+$/.test(host)
  return `http${secure}://${host}${hasPort ? '' : `:${IPP_PORT}`}${rest || '/'}`
}

/** What keeps the printer from printing, by its own word; null where nothing does. */
export const troubleIn = (about: IppMessage): PrintTrouble | null =>
  stoppedBy(
    textsIn(about, 'printer', 'printer-state-reasons'),
    numberIn(about, 'printer', 'printer-state'),
  )
