import {
  PRINT_KINDS,
  type Printer,
  type PrintingAnswer,
  type PrintJob,
  type PrintKind,
} from '../machines/contract/printing.ts'
import { printTroubleText } from '../machines/words/printing.ts'
import { Usable } from './data.ts'

/** `flashbell print`: what a kiosk's PRINT does, asked of the same queue of the server that runs. */

/** A server that was started before. */
export type AskedServer = {
  readonly port: number
  /** @returns null where nothing answers on its port */
  readonly ask: (path: string, body?: object) => Promise<Answer | null>
  readonly wait: (ms: number) => Promise<void>
  readonly newId: () => string
}
export type Answer = { readonly status: number; readonly body: unknown }

export type PrintWords = {
  readonly kind: string | undefined
  readonly thing: string | undefined
  /** Its name or id; without it the first whose paper fits. */
  readonly printer: string | undefined
  readonly lot: string | undefined
  readonly why: string | undefined
}

/** `wrong`: how it was asked. Codes: 0 on paper, 1 not, 3 it waits for its printer. */
export type PrintEnd =
  | { readonly wrong: string }
  | { readonly code: 0 | 1 | 3; readonly out?: object; readonly err?: string }

const LOOK_MS = 250
const LOOKS = 80
/** Ids of these may be typed in part. */
const TYPED: readonly PrintKind[] = ['cup', 'panel', 'job']
const ALL = 'all'

/** @throws Usable where no server answers, or it has no printer */
export async function printOverServer(asked: PrintWords, server: AskedServer): Promise<PrintEnd> {
  const kind = PRINT_KINDS.find((one) => one === asked.kind)
  if (!kind) {
    const kinds = PRINT_KINDS.join(', ')
    return {
      wrong: `print wants what to print: ${asked.kind ?? 'nothing'} won't work. Use one of ${kinds}.`,
    }
  }
  const isAll = kind === 'commands'
  if (asked.thing === undefined && !isAll)
    return {
      wrong: `print ${kind} wants ${kind === 'ruler' ? 'a printer' : `the id of a ${kind}`}.`,
    }
  if (asked.lot !== undefined && kind !== 'shelf')
    return { wrong: `--lot belongs to print shelf, not to print ${kind}.` }
  const { printers } = await printingOf(server)
  const wanted = kind === 'ruler' ? asked.thing : asked.printer
  const printer = wanted === undefined ? null : printerNamed(printers, wanted)
  if (printer === undefined) {
    const field = kind === 'ruler' ? 'printer' : '--printer'
    const names = printers.map(({ name }) => name).join(', ')
    return { wrong: `${field}: ${wanted} won't work. Use one of ${names}.` }
  }
  const thing = isAll ? ALL : printer && kind === 'ruler' ? printer.printer : (asked.thing ?? '')
  const found = TYPED.includes(kind) ? await idOf(kind, thing, server) : { id: thing }
  if ('err' in found) return { code: 1, err: found.err }
  const id = server.newId()
  const { lot, why } = asked
  const given = { ...(lot === undefined ? {} : { lot }), ...(why === undefined ? {} : { why }) }
  const on = printer ? { printer: printer.printer } : {}
  const answer = await server.ask('/api/print', { id, kind, thing: found.id, ...on, ...given })
  if (answer?.status !== 200) return { code: 1, err: messageOf(answer) }
  return await followed(id, server)
}

async function printingOf(server: AskedServer): Promise<PrintingAnswer> {
  const answer = await server.ask('/api/printing')
  if (answer === null) {
    throw new Usable(
      `No server answers on port ${server.port}. Start one with flashbell serve, or name its port with --port.`,
    )
  }
  if (answer.status !== 200)
    throw new Usable(`The server on port ${server.port} prints nothing: it is a practice shop.`)
  const printing = answer.body as PrintingAnswer
  if (printing.printers.length === 0)
    throw new Usable('This shop has no printer. Add one in Setup, Printers.')
  return printing
}

const printerNamed = (printers: readonly Printer[], wanted: string): Printer | undefined =>
  printers.find(({ printer }) => printer === wanted) ??
  printers.find(({ name }) => name.toUpperCase() === wanted.toUpperCase())

/** Of an id or its beginning. What is not in open work goes to the server as it was typed. */
async function idOf(kind: PrintKind, typed: string, server: AskedServer) {
  const id = typed.toUpperCase()
  const answer = await server.ask(`/api/scan/${encodeURIComponent(id)}`)
  const found = answer?.body as { kind?: string; id?: string } | undefined
  if (answer?.status === 400) return { err: messageOf(answer) }
  if (answer?.status !== 200) return { id }
  return found?.kind === kind
    ? { id: found.id ?? id }
    : { err: `${id} is a ${found?.kind}, not a ${kind}.` }
}

const messageOf = (answer: Answer | null): string =>
  (answer?.body as { error?: { message?: string } } | undefined)?.error?.message ??
  'The server gave no answer.'

/** Until it is on paper, or for so long that a person sees to it. */
async function followed(id: string, server: AskedServer): Promise<PrintEnd> {
  let last: PrintJob | undefined
  let printers: readonly Printer[] = []
  for (let look = 0; look < LOOKS; look += 1) {
    const answer = await server.ask('/api/printing')
    if (answer?.status === 200) {
      const { jobs, ...settings } = answer.body as PrintingAnswer
      last = jobs.find((job) => job.id === id)
      printers = settings.printers
    }
    if (last?.step === 'done') return { code: 0, out: saidOf(last, printers) }
    if (last?.step === 'failed')
      return { code: 1, err: `It was not printed. ${troubleOf(last)}`.trim() }
    await server.wait(LOOK_MS)
  }
  return {
    code: 3,
    ...(last ? { out: saidOf(last, printers) } : {}),
    err: `It waits for its printer and comes out by itself. ${last ? troubleOf(last) : ''}`.trim(),
  }
}

const troubleOf = ({ trouble }: PrintJob): string =>
  trouble ? printTroubleText(trouble, 'en') : ''

const saidOf = ({ id, kind, thing, printer, step }: PrintJob, printers: readonly Printer[]) => ({
  ...{ id, kind, thing, step },
  printer: printers.find((one) => one.printer === printer)?.name ?? printer,
})
