import type { LabelLayout } from '../../labels/layout.ts'
import type { PrintAsk, Printer, PrintJob, PrintTrouble } from '../../machines/contract/printing.ts'
import type { Clock } from '../clock.ts'
import { jobAttributes } from './about.ts'
import { documentOf } from './document.ts'
import type { IppMessage } from './ippMessage.ts'
import { type IppPrinter, type JobAsk, PrinterError, troubleIn } from './ippPrinter.ts'
import { isFinal, stoppedBy } from './ippTroubles.ts'
import { isOpen, type Jobs } from './jobs.ts'

/**
 * What waits for the printers: one thing at a time for each, tried again while it cannot be printed,
 * never sent again while it may have been taken.
 */

export type QueueDeps = {
  readonly jobs: Jobs
  readonly clock: Pick<Clock, 'now' | 'every'>
  readonly report: (error: unknown) => void
  readonly printerOf: (id: string) => Printer | undefined
  readonly ippOf: (printer: Printer) => IppPrinter
  /** What is to be printed, as it is now. */
  readonly draw: (
    ask: PrintAsk,
    printer: Printer,
    nowMs: number,
  ) => Promise<readonly LabelLayout[] | PrintTrouble>
  /** It is on paper. Resolves when that is recorded; called again if the server stops before. */
  readonly printed: (job: PrintJob, atMs: number) => Promise<void>
  /** A printer was heard, or was not. */
  readonly heard: (printer: string, trouble: PrintTrouble | null) => void
}

export type Queue = {
  readonly add: (ask: PrintAsk & { readonly printer: string }) => Promise<PrintJob>
  /** Ends those that nobody waits for any more. */
  readonly drop: (is: (job: PrintJob) => boolean) => Promise<void>
  /** Tries now what waits for a next try. */
  readonly hurry: () => void
  readonly stop: () => Promise<void>
}

const LOOK_MS = 250
const FIRST_RETRY_MS = 500
const RETRY_MOST_MS = 30_000
/** How often a printer that has a job is asked whether it is done. */
const FOLLOW_MS = 500
const FOLLOW_MOST_MS = 5_000
/** How often the printer itself may give up a job before it is said to have failed. */
const ABORTS_MOST = 4
const LIFE_MS = 12 * 3_600_000

const backoff = (tries: number): number => Math.min(RETRY_MOST_MS, FIRST_RETRY_MS * 2 ** tries)

export function openQueue(deps: QueueDeps): Queue {
  const { jobs, clock, report, printerOf, ippOf, draw, printed, heard } = deps
  /** Printers that something is being done with. */
  const busy = new Map<string, Promise<void>>()
  let isStopped = false

  async function put(job: PrintJob, change: Partial<PrintJob>): Promise<PrintJob> {
    const next = { ...job, ...change }
    await jobs.put(next)
    return next
  }
  const fail = (job: PrintJob, trouble: PrintTrouble) =>
    put(job, { step: 'failed', trouble, endedMs: clock.now() })
  const later = (job: PrintJob, trouble: PrintTrouble | null, change: Partial<PrintJob> = {}) => {
    const nextMs = clock.now() + backoff(job.tries)
    return put(job, { trouble, tries: job.tries + 1, nextMs, ...change })
  }

  function look(): void {
    if (isStopped) return
    const now = clock.now()
    for (const job of jobs.open()) {
      if (busy.has(job.printer)) continue
      // In the order in which they were asked for; one that must wait lets others of its printer wait.
      const first = jobs.open().find((one) => one.printer === job.printer)
      if (first !== job || job.nextMs > now) continue
      const turn = step(job)
        .catch((error) => {
          report(error)
          return later(job, job.trouble).then(() => {}, report)
        })
        .finally(() => {
          busy.delete(job.printer)
          // The next one does not wait for the clock.
          if (!isStopped) queueMicrotask(look)
        })
      busy.set(job.printer, turn)
    }
  }

  async function step(job: PrintJob): Promise<void> {
    if (clock.now() - job.askedMs > LIFE_MS && job.step === 'waiting') {
      await fail(job, { code: 'tooLate', params: {} })
      return
    }
    const printer = printerOf(job.printer)
    if (!printer) {
      await fail(job, { code: 'unknownPrinter', params: { printer: job.printer } })
      return
    }
    try {
      const ipp = ippOf(printer)
      if (job.step === 'waiting') await send(job, printer, ipp)
      else if (job.step === 'sent') await lookFor(job, ipp)
      else await follow(job, ipp)
    } catch (error) {
      if (!(error instanceof PrinterError)) throw error
      await afterError(job, error)
    }
  }

  async function afterError(job: PrintJob, { trouble, isUnsure }: PrinterError): Promise<void> {
    heard(job.printer, isFinal(trouble) ? null : trouble)
    const now = jobs.find(job.id) ?? job
    if (!isOpen(now)) return
    if (now.step === 'printing') await later(now, trouble)
    else if (now.step === 'sent' && isUnsure) await later(now, trouble)
    else if (isFinal(trouble)) await fail(now, trouble)
    else
      await later(
        now,
        trouble,
        now.step === 'sent' && job.step === 'sent' ? {} : { step: 'waiting' },
      )
  }

  async function ready(job: PrintJob, ipp: IppPrinter): Promise<IppMessage> {
    const about = await ipp.about()
    const trouble = troubleIn(about)
    if (trouble) throw new PrinterError(trouble)
    heard(job.printer, null)
    return about
  }

  async function send(job: PrintJob, printer: Printer, ipp: IppPrinter): Promise<void> {
    const drawnMs = clock.now()
    const layouts = await draw(job, printer, drawnMs)
    if ('code' in layouts) {
      await fail(job, layouts)
      return
    }
    const about = await ready(job, ipp)
    const document = await documentOf(layouts, printer, about)
    const ask: JobAsk = {
      name: nameOf(job),
      user: job.by ?? 'flashbell',
      attributes: jobAttributes(printer, about),
    }
    // Before it leaves: after a kill the printer is asked whether it has it.
    if (!stillOpen(job)) return
    const sent = await put(job, { step: 'sent', drawnMs, trouble: null })
    const number = await ipp.print(ask, document)
    await put(sent, { step: 'printing', number, nextMs: clock.now() + FOLLOW_MS })
  }

  const stillOpen = ({ id }: PrintJob): boolean => {
    const now = jobs.find(id)
    return now !== undefined && isOpen(now)
  }

  /** It was sent, and no answer came: it is printed once if the printer has it, again only if it has not. */
  async function lookFor(job: PrintJob, ipp: IppPrinter): Promise<void> {
    const number = await ipp.find(nameOf(job))
    heard(job.printer, null)
    const at = { nextMs: clock.now(), trouble: null }
    await put(
      job,
      number === null ? { step: 'waiting', ...at } : { step: 'printing', number, ...at },
    )
  }

  async function follow(job: PrintJob, ipp: IppPrinter): Promise<void> {
    const { ended, reasons } = await ipp.job(job.number ?? 0, nameOf(job))
    // A printer need not remember what it is done with. What last stood still, or was off, did not come out.
    const isDropped = ended === 'forgotten' && job.trouble !== null
    if (isDropped) {
      await put(job, { step: 'waiting', number: null, nextMs: clock.now() })
      return
    }
    if (ended === 'printed' || ended === 'forgotten') {
      heard(job.printer, null)
      await printed(job, job.drawnMs ?? job.askedMs)
      await put(job, { step: 'done', trouble: null, endedMs: clock.now() })
      return
    }
    if (ended === 'canceled') {
      await fail(job, { code: 'refused', params: { reason: reasons.join(', ') || 'canceled' } })
      return
    }
    const trouble = stoppedBy(reasons, null) ?? troubleIn(await ipp.about())
    heard(job.printer, trouble)
    if (ended === null) {
      const wait = Math.min(FOLLOW_MOST_MS, FOLLOW_MS * 2 ** Math.min(job.tries, 4))
      await put(job, { trouble, tries: job.tries + 1, nextMs: clock.now() + wait })
      return
    }
    const reason = reasons.join(', ') || 'aborted'
    if (trouble === null && job.tries >= ABORTS_MOST)
      await fail(job, { code: 'refused', params: { reason } })
    else await later(job, trouble ?? { code: 'stopped', params: { reason } }, { step: 'waiting' })
  }

  const stopLooking = clock.every(LOOK_MS, look)
  look()
  return {
    async add(ask) {
      const known = jobs.find(ask.id)
      if (known) return known
      const now = clock.now()
      const job: PrintJob = {
        ...ask,
        ...{ askedMs: now, step: 'waiting', tries: 0, nextMs: now },
        ...{ drawnMs: null, number: null, trouble: null, endedMs: null },
      }
      await jobs.put(job)
      look()
      return job
    },
    async drop(is) {
      for (const job of jobs.all().filter(is)) {
        const { trouble } = job
        if (job.step === 'failed' && trouble?.code === 'overtaken') continue
        if (job.step === 'waiting' || job.step === 'failed')
          await fail(job, { code: 'overtaken', params: {} })
        else if (job.step === 'printing' && trouble !== null) await cancel(job)
      }
    },
    hurry() {
      const now = clock.now()
      for (const job of jobs.open())
        if (job.step === 'waiting') void put(job, { nextMs: now }).then(look, report)
    },
    async stop() {
      isStopped = true
      stopLooking()
      await Promise.allSettled(busy.values())
    },
  }

  async function cancel(job: PrintJob): Promise<void> {
    const printer = printerOf(job.printer)
    if (printer && job.number !== null) await ippOf(printer).cancel(job.number).catch(report)
    await fail(job, { code: 'overtaken', params: {} })
  }
}

const nameOf = ({ id, kind, thing }: PrintJob): string => `${kind} ${thing} (${id})`
