import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { readCode, shopTag } from '../../../labels/code.ts'
import { labels } from '../../../server/labelThread.ts'
import type { Post } from '../../../server/printing/ippPrinter.ts'
import { type EvePrinter, evePrinter, hasEvePrinter } from '../../support/eveprinter.ts'
import { readGrey } from '../../support/labelReader.ts'
import { pdfPages } from '../../support/pdfReader.ts'
import { BENCH, CUP, mixClear, openPrintShop, type PrintShop } from '../../support/printShop.ts'
import { pwgPages } from '../../support/pwgDecode.ts'
import { freePort } from '../../support/serverProcess.ts'

/** Over the network, as main.ts sends it. */
const post: Post = async (url, body, timeoutMs) => {
  const answer = await fetch(url, {
    method: 'POST',
    headers: { 'Content-Type': 'application/ipp' },
    body: new Uint8Array(body),
    signal: AbortSignal.timeout(timeoutMs),
  })
  if (answer.status !== 200) throw new Error(`${url} answered ${answer.status}`)
  return new Uint8Array(await answer.arrayBuffer())
}

// Of Debian's package cups-ipp-utils. Without it this file alone is skipped, and CI fails.
describe.skipIf(!hasEvePrinter())(
  'a printer in software that we did not write',
  { timeout: 60_000 },
  () => {
    let printer: EvePrinter
    let shop: PrintShop
    beforeAll(async () => {
      await labels.warm()
      printer = await evePrinter(await freePort())
      shop = await openPrintShop(post)
      await mixClear(shop)
      await shop.setUp({ printers: [{ ...BENCH, address: printer.address }] })
    }, 60_000)
    afterAll(async () => {
      await shop?.printing.stop()
      await printer?.remove()
    })

    const print = (id: string, more: object = {}) =>
      shop.post('/api/print', { id, kind: 'cup', thing: CUP, ...more })
    /** Lets the shop's time go on while the printer works in its own. */
    async function until(is: () => boolean, what: string): Promise<void> {
      for (let tries = 0; tries < 400; tries += 1) {
        if (is()) return
        shop.clock.advance(250)
        await Bun.sleep(25)
      }
      throw new Error(`${what}: ${JSON.stringify(shop.answer())}`)
    }
    const stepOf = (id: string) => shop.answer().jobs.find((job) => job.id === id)?.step
    const saysCup = (text: string | null) =>
      readCode(text ?? '', { nowMs: shop.clock.now(), shopTag: shopTag(shop.shops.own) })

    test('says its paper and resolutions', async () => {
      const { body } = await shop.post('/api/printing/ask', { address: printer.address })
      expect(body).toMatchObject({
        name: 'Labels',
        media: expect.arrayContaining([
          { media: 'om_label_57x32mm', widthMm: 57, heightMm: 32, isReady: true },
        ]),
        ways: expect.arrayContaining([
          { dpi: 203, document: 'raster' },
          { dpi: 300, document: 'raster' },
          { dpi: 300, document: 'pdf' },
        ]),
        trouble: null,
      })
    })

    test('gets a label as PWG raster, whose code reads as the cup', async () => {
      await print('raster-1')
      await until(() => stepOf('raster-1') === 'done', 'not printed')
      const [document] = printer.spooled('pwg')
      const [page] = pwgPages(document ?? new Uint8Array())
      if (!page) throw new Error('nothing came out')
      expect(page).toMatchObject({
        dpi: 203,
        width: 455,
        height: 255,
        mediaName: 'om_label_57x32mm',
      })
      const data = Uint8ClampedArray.from(page.black, (dot) => 255 - 255 * dot)
      const text = await readGrey({ width: page.width, height: page.height, data })
      expect(saysCup(text)).toMatchObject({ kind: 'cup', cup: CUP, ratio: '2:1' })
    })

    test('gets it as PDF where it was set up so', async () => {
      await shop.setUp({ printers: [{ ...BENCH, address: printer.address, document: 'pdf' }] })
      await print('pdf-1', { why: 'another form' })
      await until(() => stepOf('pdf-1') === 'done', 'not printed')
      const [document] = printer.spooled('pdf')
      const [page] = await pdfPages(document ?? new Uint8Array(), 203)
      expect(saysCup(page ? await readGrey(page.grey) : null)).toMatchObject({ cup: CUP })
      await shop.setUp({ printers: [{ ...BENCH, address: printer.address }] })
    })

    test('takes one job at a time; three labels asked for at once all come out, each once', async () => {
      printer.set('slow', true)
      const before = printer.spooled('pwg').length
      await Promise.all(['a', 'b', 'c'].map((id) => print(`many-${id}`)))
      await until(() => ['a', 'b', 'c'].every((id) => stepOf(`many-${id}`) === 'done'), 'not all')
      printer.set('slow', false)
      expect(printer.spooled('pwg').length - before).toBe(3)
    })

    test('does not take a paper that it does not have, and that is said', async () => {
      const [first] = shop.answer().printers
      await shop.setUp({ printers: [{ ...first, media: 'om_label_100x50mm' }] })
      await print('paper-1')
      await until(() => stepOf('paper-1') === 'failed', 'not failed')
      expect(shop.answer().jobs.find((job) => job.id === 'paper-1')?.trouble).toMatchObject({
        code: 'refused',
        params: { reason: expect.stringContaining('media') },
      })
      await shop.setUp({ printers: [{ ...BENCH, address: printer.address }] })
    })

    test('out of labels is said; loaded again, what waited comes out', async () => {
      printer.set('empty', true)
      const before = printer.spooled('pwg').length
      await print('empty-1')
      await until(
        () => shop.printing.standing()?.printers[0]?.trouble.code === 'outOfMedia',
        'not said',
      )
      expect(shop.printing.standing()?.cups).toContain(CUP)
      printer.set('empty', false)
      // A roll is changed: off, and on again.
      await printer.stop()
      await until(() => shop.printing.standing()?.printers[0]?.trouble.code === 'away', 'not away')
      await printer.start()
      await until(() => stepOf('empty-1') === 'done', 'not printed')
      expect(printer.spooled('pwg').length).toBeGreaterThan(before)
      expect(shop.printing.standing()?.printers ?? []).toEqual([])
    })
  },
)
