import { type LabelLayout, printerFor } from '../../labels/layout.ts'
import { legible } from '../../labels/legible.ts'
import { layoutRuler } from '../../labels/ruler.ts'
import {
  NO_PRINTING,
  type PrintAsk,
  type Printer,
  type PrinterAbout,
  type PrintingAnswer,
  type PrintingSettings,
  type PrintingStanding,
  type PrintJob,
  type PrintTrouble,
} from '../../machines/contract/printing.ts'
import { PROTOCOL } from '../../machines/contract.ts'
import type { Entry } from '../../machines/envelope.ts'
import type { Clock } from '../clock.ts'
import type { Writer } from '../handle.ts'
import { keptText, readKept } from '../log/keptJson.ts'
import type { SideStore } from '../log/log.ts'
import { aboutOf } from './about.ts'
import { ippPrinter, type Post, PrinterError, troubleIn } from './ippPrinter.ts'
import { isOpen, openJobs } from './jobs.ts'
import { makeLabels } from './makeLabel.ts'
import { openQueue } from './queue.ts'

/** The printers of a server's own shop. */
export type Printing = {
  readonly answer: () => PrintingAnswer
  readonly set: (settings: PrintingSettings) => Promise<void>
  /** What a printer says of itself. @throws PrinterError */
  readonly ask: (at: Pick<Printer, 'address' | 'fingerprint'>) => Promise<PrinterAbout>
  /** @returns the print, or why there is none; the same id again is the same print */
  readonly print: (ask: PrintAsk) => Promise<PrintJob | PrintTrouble>
  readonly tryNow: () => void
  /** For every kiosk; null where nothing is wrong. */
  readonly standing: () => PrintingStanding | null
  readonly stop: () => Promise<void>
}

export type PrintingDeps = {
  readonly store: Pick<SideStore, 'getMeta' | 'putMeta'>
  readonly clock: Clock
  readonly writer: Writer
  readonly post: Post
  readonly report: (error: unknown) => void
}

const KEY = 'printing'
/** How often printers that nothing is sent to are asked how they are. */
const ASK_EVERY_MS = 30_000
/** A label that is wanted longer than this is written by hand meanwhile. */
const PATIENCE_MS = 5_000
/** A press may be dated back so far without a reason. */
const NO_REASON_MS = 9 * 60_000
/** MIXED that reaches the server later than this found its label by hand. */
const AUTO_LATE_MS = 2 * 60_000

/** @throws LogError where the store cannot be read */
export async function openPrinting(deps: PrintingDeps): Promise<Printing> {
  const { store, clock, writer, post, report } = deps
  let settings = await keptSettings(deps)
  const jobs = await openJobs(store, report)
  const labels = makeLabels(writer, clock)
  const troubles = new Map<string, PrintTrouble | null>()
  const printerOf = (id: string) => settings.printers.find((one) => one.printer === id)
  const ippOf = ({ address, fingerprint }: Pick<Printer, 'address' | 'fingerprint'>) =>
    ippPrinter(address, post, fingerprint ?? null)
  const queue = openQueue({
    ...{ jobs, clock, report, printerOf, draw, printed },
    ippOf,
    heard: (printer, trouble) => troubles.set(printer, trouble),
  })

  async function draw(
    ask: PrintAsk,
    printer: Printer,
    nowMs: number,
  ): Promise<readonly LabelLayout[] | PrintTrouble> {
    const { widthMm, heightMm, dpi, symbology } = printer
    const paper = { stock: { widthMm, heightMm }, dpi, ...(symbology ? { symbology } : {}) }
    const { kind, thing, lot } = ask
    if (kind === 'ruler') return [layoutRuler(legible(printer.name), { stock: paper.stock, dpi })]
    try {
      const drawn = await labels.pages({ kind, thing, lot }, paper, nowMs)
      return drawn ?? { code: 'unknownThing', params: { kind, id: thing } }
    } catch (error) {
      if (!(error instanceof RangeError)) throw error
      return { code: 'tooSmall', params: { widthMm, heightMm, missing: error.message } }
    }
  }

  /** A label on paper binds: its use-by is one that somebody can read. */
  async function printed(job: PrintJob, atMs: number): Promise<void> {
    if (job.kind !== 'cup') return
    const isLate = clock.now() - atMs > NO_REASON_MS
    const reason = job.why ?? (isLate ? 'printed late' : undefined)
    const answer = await writer.handle({
      ...{ id: commandOf(job.id), protocol: PROTOCOL, type: 'PrintLabel', at: atMs },
      ...{ source: 'printer', device: job.device ?? null, by: job.by ?? null },
      ...(reason === undefined ? {} : { reason }),
      data: { cup: job.thing },
    })
    if (answer.status !== 200)
      report(`A printed label was not recorded: ${JSON.stringify(answer.body)}`)
  }

  function chosenFor({ printer, device, kind, thing }: PrintAsk): Printer | PrintTrouble {
    const wanted = printer ?? (kind === 'ruler' ? thing : undefined)
    if (wanted !== undefined) {
      return printerOf(wanted) ?? { code: 'unknownPrinter', params: { printer: wanted } }
    }
    return printerFor(kind, settings, device ?? null) ?? { code: 'noPrinter', params: {} }
  }

  async function print(ask: PrintAsk): Promise<PrintJob | PrintTrouble> {
    const known = jobs.find(ask.id)
    if (known) return known
    const chosen = chosenFor(ask)
    if ('code' in chosen) return chosen
    const drawn = await draw(ask, chosen, clock.now())
    if ('code' in drawn) return drawn
    return await queue.add({ ...ask, printer: chosen.printer })
  }

  const unfollow = writer.follow((news) => {
    if (news.kind !== 'committed') return
    for (const entry of news.entries) void heed(entry).catch(report)
  })

  /** MIXED asks for a label; a label by hand and an empty cup need none any more. */
  async function heed(entry: Entry): Promise<void> {
    const { type, cup, command, device, source } = entry
    if (!cup) return
    if (type === 'CupMixed' && settings.auto && clock.now() - entry.at < AUTO_LATE_MS) {
      const asked = await print({
        id: `mixed-${cup}`,
        kind: 'cup',
        thing: cup,
        device,
        by: entry.by,
      })
      if ('code' in asked) lacking.set(cup, asked)
      return
    }
    if (type !== 'CupLabelPrinted' && type !== 'CupEmptied') return
    lacking.delete(cup)
    const by = jobs.all().find((job) => commandOf(job.id) === command)
    await queue.drop((job) => {
      if (job.kind !== 'cup' || job.thing !== cup || job === by || job.step === 'done') return false
      // Copies that were asked for one after another on one printer all come out.
      return source !== 'printer' || job.step === 'failed' || job.printer !== by?.printer
    })
  }
  /** Cups whose label could not even be asked for. */
  const lacking = new Map<string, PrintTrouble>()

  const stopAsking = clock.every(ASK_EVERY_MS, () => {
    const busy = new Set(jobs.open().map((job) => job.printer))
    for (const one of settings.printers.filter(({ printer }) => !busy.has(printer)))
      void look(one).catch(report)
  })

  async function look(one: Printer): Promise<void> {
    const { printer } = one
    try {
      troubles.set(printer, troubleIn(await ippOf(one).about()))
    } catch (error) {
      if (!(error instanceof PrinterError)) throw error
      troubles.set(printer, error.trouble)
    }
  }

  const cupsWithout = (): string[] => {
    const now = clock.now()
    const isLate = (job: PrintJob) =>
      job.step === 'failed'
        ? job.trouble?.code !== 'overtaken'
        : isOpen(job) && (job.trouble !== null || now - job.askedMs > PATIENCE_MS)
    const late = jobs.all().filter((job) => job.kind === 'cup' && isLate(job))
    return [...new Set([...late.map((job) => job.thing), ...lacking.keys()])]
  }

  return {
    answer: () => ({
      ...settings,
      standing: settings.printers.map(({ printer }) => ({
        printer,
        trouble: troubles.get(printer) ?? null,
      })),
      jobs: jobs.all().toReversed(),
    }),
    async set(next) {
      settings = next
      await store.putMeta(KEY, keptText(next))
      for (const id of [...troubles.keys()]) if (!printerOf(id)) troubles.delete(id)
      await Promise.all(next.printers.map(look))
      queue.hurry()
    },
    async ask(at) {
      return aboutOf(await ippOf(at).about())
    },
    print,
    tryNow: queue.hurry,
    standing() {
      const printers = settings.printers.flatMap(({ printer, name }) => {
        const trouble = troubles.get(printer)
        const waiting = jobs.open().filter((job) => job.printer === printer).length
        return trouble && trouble.code !== 'busy' ? [{ name, trouble, waiting }] : []
      })
      const cups = cupsWithout()
      return printers.length === 0 && cups.length === 0 ? null : { printers, cups }
    },
    async stop() {
      unfollow()
      stopAsking()
      await queue.stop()
    },
  }
}

/** The command that records a print: the same each time that it is sent. */
const commandOf = (id: string): string => `print-${id}`.slice(0, 40)

async function keptSettings({ store, report }: PrintingDeps): Promise<PrintingSettings> {
  const text = await store.getMeta(KEY)
  if (text === null) return NO_PRINTING
  const kept = readKept<PrintingSettings>(text)
  if (!kept) report('The printers that were set up were damaged on the disk. Set them up again.')
  return kept?.value ?? NO_PRINTING
}
