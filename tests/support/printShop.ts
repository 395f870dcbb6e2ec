import { layoutCodeTile } from '../../labels/codeTile.ts'
import type { Printer, PrintingAnswer } from '../../machines/contract/printing.ts'
import { contextOf } from '../../machines/state.ts'
import { createApp } from '../../server/app.ts'
import { labels } from '../../server/labelThread.ts'
import type { Store } from '../../server/log/log.ts'
import type { Post } from '../../server/printing/ippPrinter.ts'
import { openPrinting, type Printing } from '../../server/printing/printing.ts'
import { labelRoutes } from '../../server/routes/labels.ts'
import { recordedPrinter } from './ippAnswers.ts'
import { openTestShop, TestClock, type TestShop, wholeLog } from './serverShop.ts'
import { BASE, CLEAR } from './sheets.ts'

export const CUP = 'K7QDM2XV'
export const BENCH: Printer = {
  ...{ printer: 'bench', name: 'Bench', address: 'ipp://localhost:18631/ipp/print' },
  ...{ media: 'om_label_57x32mm', widthMm: 57, heightMm: 32, dpi: 203, document: 'raster' },
}

export type PrintShop = TestShop & {
  readonly printing: Printing
  readonly send: (type: string, data: object, more?: object) => Promise<void>
  /** Sets the bench's printer up, and others. */
  readonly setUp: (change?: object) => Promise<void>
  readonly answer: () => PrintingAnswer
  /** Moves the clock in small steps, so that what answers in between is heard. */
  readonly wait: (ms: number) => Promise<void>
}

const TILE = layoutCodeTile('K1-COATSTART-9', 203)

/** A shop with a clear that is ready to be mixed, and printers behind `post`. */
export async function openPrintShop(
  post: Post,
  given: { store?: Store; clock?: TestClock } = {},
): Promise<PrintShop> {
  const clock = given.clock ?? new TestClock()
  const shop = await openTestShop({ ...given, clock })
  const { shops, reports, store } = shop
  const report = (error: unknown) => reports.push(error)
  const { ownWriter: writer } = shops
  const printing = await openPrinting({ store, clock, writer, post, report })
  const app = createApp({
    ...{ shops, clock, log: wholeLog, build: 'test-build', report, printing },
    more: [labelRoutes],
  })
  const told = async (asked: Response | Promise<Response>) => {
    const response = await asked
    return { status: response.status, body: (await response.json()) as unknown }
  }
  const request = (path: string, body: unknown) =>
    told(app.request(path, { method: 'POST', body: JSON.stringify(body) }))
  let count = 0
  const send = async (type: string, data: object, more: object = {}) => {
    count += 1
    const id = `c${clock.now()}-${count}`
    const answer = await request('/api/commands', { id, type, data, ...more })
    if (answer.status !== 200) throw new Error(JSON.stringify(answer.body))
  }
  if (!given.store) {
    await send('SaveSheet', { sheet: CLEAR })
    await send('SaveSheet', { sheet: BASE })
    await send('ReadClimate', { zone: 'bench', airC: 20, rh: 0.5 })
  }
  return {
    ...shop,
    app,
    printing,
    send,
    post: request,
    get: (path) => told(app.request(path)),
    answer: () => printing.answer(),
    setUp: (change = {}) =>
      printing.set({ printers: [BENCH], auto: false, byKiosk: [], ...change }),
    async wait(ms) {
      for (let gone = 0; gone < ms; gone += 250) {
        clock.advance(250)
        for (let turn = 0; turn < 4; turn += 1) await new Promise((done) => setTimeout(done, 1))
        // The clock is not the machine's: a label that is being drawn comes before this one.
        await labels.svg(TILE)
        for (let turn = 0; turn < 4; turn += 1) await new Promise((done) => setTimeout(done, 1))
      }
    },
  }
}

export const mixClear = (shop: PrintShop, cup = CUP, more: object = {}): Promise<void> =>
  shop.send('MixCup', { cup, sheet: CLEAR.sheet, totalMl: 450, activator: 'standard' }, more)

export async function shopWithPrinter(change: object = {}) {
  const printer = recordedPrinter()
  const shop = await openPrintShop(printer.post)
  await shop.setUp(change)
  await mixClear(shop)
  return { printer, shop }
}
export const asked = (shop: PrintShop, id = 'p1', more: object = {}) =>
  shop.post('/api/print', { id, kind: 'cup', thing: CUP, ...more })
export const stepOf = (shop: PrintShop, id = 'p1') =>
  shop.answer().jobs.find((job) => job.id === id)?.step
export const printsOf = (shop: PrintShop) =>
  contextOf(shop.shops.ownWriter.state(), 'cup', CUP)?.prints ?? []
