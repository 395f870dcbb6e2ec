import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { PrinterAbout } from '../../../machines/contract/printing.ts'
import { labels } from '../../../server/labelThread.ts'
import { netPost } from '../../../server/printing/netPost.ts'
import { type Cups, cupsServer, hasCups } from '../../support/cupsQueue.ts'
import { type EvePrinter, evePrinter, hasEvePrinter } from '../../support/eveprinter.ts'
import { readGrey } from '../../support/labelReader.ts'
import { pdfPages } from '../../support/pdfReader.ts'
import { asked, BENCH, mixClear, openPrintShop, type PrintShop } from '../../support/printShop.ts'
import { pwgPages } from '../../support/pwgDecode.ts'
import { freePort } from '../../support/serverProcess.ts'

/** Queues of CUPS, as a shop has them whose printer hangs on another computer: ipp://host:631/printers/NAME. */

// Of Debian's packages cups-daemon, cups-client and cups-ipp-utils. CI installs them and fails without.
describe.skipIf(!hasCups() || !hasEvePrinter())('a queue of CUPS', () => {
  let printer: EvePrinter
  let cups: Cups
  let shop: PrintShop
  beforeAll(async () => {
    await labels.warm()
    printer = await evePrinter(await freePort())
    cups = await cupsServer(await freePort())
    shop = await openPrintShop(netPost)
    await mixClear(shop)
  })
  afterAll(async () => {
    await shop?.printing.stop()
    await cups?.remove()
    await printer?.remove()
  })

  async function aboutOf(address: string): Promise<PrinterAbout> {
    const { status, body } = await shop.post('/api/printing/ask', { address })
    expect([status, body]).toEqual([200, body])
    return body as PrinterAbout
  }
  async function printed(id: string): Promise<Uint8Array> {
    const before = cups.kept().length
    await asked(shop, id)
    for (let tries = 0; tries < 2_000; tries += 1) {
      shop.clock.advance(250)
      await Bun.sleep(25)
      if (shop.answer().jobs.find((job) => job.id === id)?.step === 'done') break
    }
    expect(shop.answer().jobs.find((job) => job.id === id)).toMatchObject({ step: 'done' })
    const [document] = cups.kept().slice(before)
    return document ?? new Uint8Array()
  }

  test('of a driverless printer says its labels, and takes one as raster whose code reads as the cup', async () => {
    const address = await cups.queue('labels', printer.address)
    const about = await aboutOf(address)
    const paper = about.media.find(({ widthMm, heightMm }) => widthMm === 57 && heightMm === 32)
    const [way] = about.ways
    expect([paper, way]).toMatchObject([{ widthMm: 57 }, { document: 'raster' }])
    if (!paper || !way) return
    const { media, widthMm, heightMm } = paper
    await shop.setUp({ printers: [{ ...BENCH, address, media, widthMm, heightMm, ...way }] })
    const [page] = pwgPages(await printed('queue-1'))
    expect(page).toMatchObject({ dpi: way.dpi, mediaName: media })
    if (!page) return
    const data = Uint8ClampedArray.from(page.black, (dot) => 255 - 255 * dot)
    const { width, height } = page
    expect(await readGrey({ width, height, data })).toMatch(/^C1-/)
  })

  test('without a driver names no paper, and takes a PDF of the size that the shop chose', async () => {
    const address = await cups.queue('plain')
    const about = await aboutOf(address)
    expect(about).toMatchObject({ media: [], ways: [{ document: 'pdf' }] })
    const { media: _, ...bench } = BENCH
    await shop.setUp({ printers: [{ ...bench, address, ...about.ways[0] }] })
    const [page] = await pdfPages(await printed('queue-2'), 300)
    expect(page ? await readGrey(page.grey) : null).toMatch(/^C1-/)
  })
})
