import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import {
  encodeCommandCode,
  encodePanelCode,
  encodeThingCode,
  PRINTED_COMMANDS,
  readCode,
  shopTag,
} from '../../../labels/code.ts'
import { labels } from '../../../server/labelThread.ts'
import { netPost } from '../../../server/printing/netPost.ts'
import { type EvePrinter, evePrinter, hasEvePrinter } from '../../support/eveprinter.ts'
import { readAll, readGrey } from '../../support/labelReader.ts'
import { pdfPages } from '../../support/pdfReader.ts'
import { BENCH, CUP, mixClear, openPrintShop, type PrintShop } from '../../support/printShop.ts'
import { pwgPages } from '../../support/pwgDecode.ts'
import { freePort } from '../../support/serverProcess.ts'
import { CLEAR } from '../../support/sheets.ts'

// Of Debian's package cups-ipp-utils. Without it this file alone is skipped, and CI fails.
describe.skipIf(!hasEvePrinter())('a printer in software that we did not write', () => {
  let printer: EvePrinter
  let shop: PrintShop
  beforeAll(async () => {
    await labels.warm()
    printer = await evePrinter(await freePort())
    shop = await openPrintShop(netPost)
    await mixClear(shop)
    await shop.setUp({ printers: [{ ...BENCH, address: printer.address }] })
  })
  afterAll(async () => {
    await shop?.printing.stop()
    await printer?.remove()
  })

  const print = (id: string, more: object = {}) =>
    shop.post('/api/print', { id, kind: 'cup', thing: CUP, ...more })
  /** Lets the shop's time go on while the printer works in its own. */
  async function until(is: () => boolean, what: string): Promise<void> {
    for (let tries = 0; tries < 2_000; tries += 1) {
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

  test('gets every other kind, and what came out reads as what was sent', async () => {
    await shop.send('AddPerson', { person: 'ana', name: 'Ana Example', role: 'painter' })
    await shop.send('SaveGun', { gun: 'gun-1', name: 'Clear gun', needleMm: 1.3 })
    await shop.send('OpenJob', { job: 'J7K3MABC', title: 'Delivery van, rear corner' })
    await shop.send('AddPanel', {
      ...{ panel: 'PANE2345', job: 'J7K3MABC', name: 'Rear door', operation: 'clear-only' },
      route: [{ stage: 'prep' }, { stage: 'clear', sheet: CLEAR.sheet }],
    })
    const sheets = { printer: 'sheets', name: 'Sheets', media: 'na_index-4x6_4x6in' }
    const paper = { widthMm: 101.6, heightMm: 152.4 }
    const { address } = printer
    await shop.setUp({
      printers: [
        { ...BENCH, address },
        { ...BENCH, ...sheets, ...paper, address },
      ],
    })
    const tag = shopTag(shop.shops.own)
    const code = (
      kind: 'job' | 'person' | 'gun' | 'product',
      id: string,
      lot: string | null = null,
    ) => encodeThingCode({ kind, shopTag: tag, id, lot })
    const panel = encodePanelCode({ shopTag: tag, panel: 'PANE2345' })
    const commands = PRINTED_COMMANDS.map(encodeCommandCode)
    const wanted = [
      [{ kind: 'panel', thing: 'PANE2345' }, [panel]],
      [{ kind: 'person', thing: 'ana' }, [code('person', 'ana')]],
      [{ kind: 'gun', thing: 'gun-1' }, [code('gun', 'gun-1')]],
      [{ kind: 'shelf', thing: CLEAR.sheet, lot: 'B 22' }, [code('product', CLEAR.sheet, 'B 22')]],
      [{ kind: 'job', thing: 'J7K3MABC' }, [code('job', 'J7K3MABC'), panel, ...commands]],
      [{ kind: 'commands', thing: 'all' }, commands],
    ] as const
    for (const [ask, codes] of wanted) {
      const before = printer.spooled('pwg').length
      const id = `kind-${ask.kind}`
      const { status } = await shop.post('/api/print', { id, ...ask })
      expect([ask.kind, status]).toEqual([ask.kind, 200])
      await until(() => stepOf(id) === 'done', `${ask.kind} not printed`)
      const [document] = printer.spooled('pwg').slice(before)
      const found = new Set<string>()
      for (const { width, height, black } of pwgPages(document ?? new Uint8Array())) {
        const data = Uint8ClampedArray.from(black, (dot) => 255 - 255 * dot)
        for (const text of await readAll({ width, height, data })) found.add(text)
      }
      expect([ask.kind, [...found].toSorted()]).toEqual([ask.kind, [...new Set(codes)].toSorted()])
    }
    await shop.setUp({ printers: [{ ...BENCH, address }] })
  })

  test('with a certificate of its own is trusted by its fingerprint, and then prints', async () => {
    const address = printer.address.replace('ipp:', 'ipps:')
    const first = await shop.post('/api/printing/ask', { address })
    expect(first).toMatchObject({ status: 409, body: { error: { code: 'unknownCertificate' } } })
    const { fingerprint } = (first.body as { error: { params: { fingerprint: string } } }).error
      .params
    await shop.setUp({ printers: [{ ...BENCH, address, fingerprint }] })
    expect(shop.printing.standing()?.printers ?? []).toEqual([])
    const before = printer.spooled('pwg').length
    await print('secret-1', { why: 'another copy' })
    await until(() => stepOf('secret-1') === 'done', 'not printed')
    expect(printer.spooled('pwg').length - before).toBe(1)
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
})
