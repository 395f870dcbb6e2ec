import { beforeAll, describe, expect, test } from 'vitest'
import { readCode, shopTag } from '../../../labels/code.ts'
import { labels } from '../../../server/labelThread.ts'
import { memoryStore } from '../../../server/log/memory.ts'
import { textsIn } from '../../../server/printing/ippMessage.ts'
import { recordedPrinter } from '../../support/ippAnswers.ts'
import { readGrey } from '../../support/labelReader.ts'
import {
  asked,
  BENCH,
  CUP,
  mixClear,
  openPrintShop,
  printsOf,
  shopWithPrinter,
  stepOf,
} from '../../support/printShop.ts'
import { pwgPages } from '../../support/pwgDecode.ts'
import { MINUTE } from '../../support/serverShop.ts'

// The tests' clock does not wait for libraries that are loaded with the first label.
beforeAll(async () => void (await labels.warm()))

/** What a document's first page says to a reader that we did not write. */
async function codeIn(document: Uint8Array | undefined): Promise<string | null> {
  const [page] = pwgPages(document ?? new Uint8Array())
  if (!page) return null
  const { width, height, black } = page
  return await readGrey({
    width,
    height,
    data: Uint8ClampedArray.from(black, (dot) => 255 - 255 * dot),
  })
}

describe('a label that is printed', () => {
  test('comes out as the cup’s own, is recorded once, and binds', async () => {
    const { printer, shop } = await shopWithPrinter()
    expect(await asked(shop)).toMatchObject({ status: 200, body: { job: { printer: 'bench' } } })
    await shop.wait(2_000)
    expect(stepOf(shop)).toBe('done')
    expect(printer.taken).toHaveLength(1)
    const [sent] = printer.taken
    if (!sent) throw new Error('nothing was sent')
    expect(textsIn(sent, 'job', 'media')).toEqual(['om_label_57x32mm'])
    // The driver must not scale: modules would not be whole dots any more.
    expect(textsIn(sent, 'job', 'print-scaling')).toEqual(['none'])
    const read = readCode((await codeIn(sent.data)) ?? '', {
      nowMs: shop.clock.now(),
      shopTag: shopTag(shop.shops.own),
    })
    expect(read).toMatchObject({ kind: 'cup', cup: CUP, ratio: '2:1' })
    expect(printsOf(shop)).toHaveLength(1)
    expect(shop.printing.standing()).toBeNull()
    expect(shop.reports).toEqual([])
  })

  test('asked for twice under one id is printed once', async () => {
    const { printer, shop } = await shopWithPrinter()
    await Promise.all([asked(shop), asked(shop)])
    await shop.wait(2_000)
    await asked(shop)
    await shop.wait(2_000)
    expect(printer.taken).toHaveLength(1)
    expect(printsOf(shop)).toHaveLength(1)
  })

  test('another copy says COPY 1 and has the first one’s use-by, with why in the log', async () => {
    const { printer, shop } = await shopWithPrinter()
    await asked(shop)
    await shop.wait(2_000)
    await shop.wait(5 * MINUTE)
    await asked(shop, 'p2', { why: 'wiped off' })
    await shop.wait(2_000)
    expect(printer.taken).toHaveLength(2)
    const prints = printsOf(shop)
    expect(prints.map((print) => print.untilMs)).toEqual([prints[0]?.untilMs, prints[0]?.untilMs])
    const { body } = await shop.get('/api/entries?after=0&limit=100')
    const logged = (body as { entries: { type: string; reason?: string }[] }).entries
    expect(
      logged.filter((entry) => entry.type === 'CupLabelPrinted').map((one) => one.reason),
    ).toEqual([undefined, 'wiped off'])
  })
})

describe('a printer that cannot print now', () => {
  test('that is busy is tried again until it takes the label', async () => {
    const { printer, shop } = await shopWithPrinter()
    printer.answers('printJob', 'busy')
    await asked(shop)
    await shop.wait(1_500)
    expect(stepOf(shop)).toBe('waiting')
    expect(printer.taken).toHaveLength(0)
    printer.answers('printJob')
    await shop.wait(10_000)
    expect(stepOf(shop)).toBe('done')
    expect(printer.taken).toHaveLength(1)
  })

  test('that is out of labels is said on every kiosk, and prints once it has some', async () => {
    const { printer, shop } = await shopWithPrinter()
    printer.answers('getPrinterAttributes', 'aboutEmpty')
    await asked(shop)
    await shop.wait(1_000)
    const { body } = await shop.get('/api/state')
    expect((body as { printing: unknown }).printing).toEqual({
      printers: [{ name: 'Bench', trouble: { code: 'outOfMedia', params: {} }, waiting: 1 }],
      cups: [CUP],
    })
    printer.answers('getPrinterAttributes')
    await shop.wait(60_000)
    expect(stepOf(shop)).toBe('done')
    expect(shop.printing.standing()).toBeNull()
  })

  test('that gives a job up prints it again once labels are loaded', async () => {
    const { printer, shop } = await shopWithPrinter()
    printer.answers('getJobAttributes', 'jobAborted')
    await asked(shop)
    await shop.wait(700)
    printer.answers('getPrinterAttributes', 'aboutEmpty')
    await shop.wait(500)
    expect(stepOf(shop)).toBe('waiting')
    expect(printsOf(shop)).toHaveLength(0)
    printer.answers('getPrinterAttributes')
    printer.answers('getJobAttributes')
    await shop.wait(60_000)
    expect(stepOf(shop)).toBe('done')
    expect(printsOf(shop)).toHaveLength(1)
  })

  test('that is off is named, and the label written by hand is not printed afterwards', async () => {
    const { printer, shop } = await shopWithPrinter()
    printer.answers('getPrinterAttributes', 'away')
    await asked(shop)
    await shop.wait(1_000)
    expect(shop.printing.standing()).toMatchObject({
      printers: [{ trouble: { code: 'away' }, waiting: 1 }],
      cups: [CUP],
    })
    await shop.send('PrintLabel', { cup: CUP, byHand: true })
    printer.answers('getPrinterAttributes')
    await shop.wait(120_000)
    expect(printer.taken).toHaveLength(0)
    expect(shop.printing.standing()).toBeNull()
    expect(printsOf(shop)).toHaveLength(1)
  })

  test('that has the job and never answered is asked whether it came, not sent it again', async () => {
    const { printer, shop } = await shopWithPrinter()
    // Its own list names the job by what ours was called.
    printer.answers('printJob', 'lost')
    await shop.post('/api/print', { id: 'x', kind: 'cup', thing: 'K7F3QABC' })
    const sheet = { cup: 'K7F3QABC' }
    await mixClear(shop, sheet.cup)
    await shop.post('/api/print', { id: 'x', kind: 'cup', thing: sheet.cup })
    await shop.wait(500)
    expect(stepOf(shop, 'x')).toBe('sent')
    await shop.wait(10_000)
    expect(stepOf(shop, 'x')).toBe('done')
    expect(printer.taken).toHaveLength(1)
  })

  test('that never got the job is sent it again', async () => {
    const { printer, shop } = await shopWithPrinter()
    printer.answers('printJob', 'away')
    await asked(shop)
    await shop.wait(500)
    printer.answers('printJob')
    // The recorded list has a job of another name.
    await shop.wait(10_000)
    expect(stepOf(shop)).toBe('done')
    expect(printer.taken).toHaveLength(1)
  })

  test('that will not have it is not asked again, and the cup stays without a label', async () => {
    const { printer, shop } = await shopWithPrinter()
    printer.answers('printJob', 'mediaRefused')
    await asked(shop)
    await shop.wait(60_000)
    expect(shop.answer().jobs[0]).toMatchObject({
      step: 'failed',
      tries: 0,
      trouble: {
        code: 'refused',
        params: { reason: expect.stringContaining('Unsupported media') },
      },
    })
    expect(shop.printing.standing()).toMatchObject({ printers: [], cups: [CUP] })
  })
})

describe('a server that stops', () => {
  test('goes on with what waited, and records a print that it had not recorded', async () => {
    const printer = recordedPrinter()
    const store = memoryStore()
    const first = await openPrintShop(printer.post, { store })
    await first.setUp()
    const { CLEAR } = await import('../../support/sheets.ts')
    await first.send('SaveSheet', { sheet: CLEAR })
    await mixClear(first)
    printer.answers('getJobAttributes', 'jobPrinting')
    await asked(first)
    await first.wait(1_000)
    expect(stepOf(first)).toBe('printing')
    await first.printing.stop()
    await first.shops.close()

    printer.answers('getJobAttributes')
    const second = await openPrintShop(printer.post, { store, clock: first.clock })
    await second.wait(6_000)
    expect(stepOf(second)).toBe('done')
    expect(printsOf(second)).toHaveLength(1)
    expect(printer.taken).toHaveLength(1)
    expect(second.answer().printers).toEqual([BENCH])
  })
})

describe('MIXED', () => {
  test('prints by itself where the shop wants it, on the kiosk’s own printer', async () => {
    const printer = recordedPrinter()
    const shop = await openPrintShop(printer.post)
    const other = { ...BENCH, printer: 'booth', name: 'Booth' }
    const byKiosk = [{ device: 'kiosk-2', printer: 'booth' }]
    await shop.setUp({ printers: [BENCH, other], auto: true, byKiosk })
    await mixClear(shop, CUP, { device: 'kiosk-2', seq: 1 })
    await shop.wait(2_000)
    expect(shop.answer().jobs).toMatchObject([{ printer: 'booth', step: 'done', thing: CUP }])
    await mixClear(shop, 'BCDFGH23')
    await shop.wait(2_000)
    expect(shop.answer().jobs[0]).toMatchObject({ printer: 'bench', thing: 'BCDFGH23' })
  })

  test('that comes hours late, from a kiosk that was away, prints nothing', async () => {
    const printer = recordedPrinter()
    const shop = await openPrintShop(printer.post)
    await shop.setUp({ auto: true })
    const enteredAt = shop.clock.now() - 3 * 60 * MINUTE
    await mixClear(shop, CUP, { at: enteredAt, enteredAt, device: 'k', seq: 1 })
    await shop.wait(2_000)
    expect(printer.taken).toHaveLength(0)
  })

  test('without a printer leaves the cup among those without a label', async () => {
    const printer = recordedPrinter()
    const shop = await openPrintShop(printer.post)
    await shop.setUp({ printers: [], auto: true })
    await mixClear(shop)
    await shop.wait(500)
    expect(shop.printing.standing()).toEqual({ printers: [], cups: [CUP] })
  })
})

describe('what is asked for wrongly', () => {
  test('is answered with a sentence', async () => {
    const { shop } = await shopWithPrinter()
    const wrong = await shop.post('/api/printing/ask', { address: 'http://printer' })
    expect(wrong).toMatchObject({
      status: 400,
      body: { error: { field: 'address', message: expect.stringContaining('ipp://192.168.1.20') } },
    })
    const nothing = await asked(shop, 'p9', { thing: 'ZZZZZZZZ' })
    expect(nothing).toMatchObject({ status: 404, body: { error: { code: 'unknownThing' } } })
    const nobody = await asked(shop, 'p9', { printer: 'gone' })
    expect(nobody).toMatchObject({ status: 409, body: { error: { code: 'unknownPrinter' } } })
  })

  test('a paper too small for a cup’s label says what is missing', async () => {
    const { shop } = await shopWithPrinter({ printers: [{ ...BENCH, widthMm: 30, heightMm: 20 }] })
    expect(await asked(shop)).toMatchObject({
      status: 409,
      body: { error: { code: 'tooSmall', message: expect.stringContaining('30 x 20 mm') } },
    })
  })
})

describe('a printer that is asked about itself', () => {
  test('says its paper, and how it prints best', async () => {
    const { shop } = await shopWithPrinter()
    const { status, body } = await shop.post('/api/printing/ask', { address: BENCH.address })
    expect(status).toBe(200)
    expect(body).toMatchObject({
      name: 'Label',
      media: expect.arrayContaining([
        { media: 'om_label_57x32mm', widthMm: 57, heightMm: 32, isReady: true },
        // PWG 5101.1: four by six inches.
        { media: 'na_index-4x6_4x6in', widthMm: 101.6, heightMm: 152.4, isReady: false },
      ]),
      trouble: null,
    })
    expect((body as { ways: unknown[] }).ways[0]).toEqual({ dpi: 203, document: 'raster' })
  })
})
