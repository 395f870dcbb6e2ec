import { beforeAll, describe, expect, test } from 'vitest'
import { layoutCupLabel, printerFor } from '../../labels/layout.ts'
import { labelPdf } from '../../labels/pdf.ts'
import { labelBitmap } from '../../labels/render.ts'
import type { Printer } from '../../machines/contract/printing.ts'
import { labels } from '../../server/labelThread.ts'
import { recordedPrinter } from '../support/ippAnswers.ts'
import { greyOf, isBlack } from '../support/labelImage.ts'
import { readGrey } from '../support/labelReader.ts'
import { CLEAR, MADRID, paper } from '../support/labelSamples.ts'
import { pdfPages } from '../support/pdfReader.ts'
import { asked, BENCH, mixClear, openPrintShop, stepOf } from '../support/printShop.ts'
import { pwgPages } from '../support/pwgDecode.ts'

/** A label on a roll that is narrower than the label is wide comes out on its side. */

const ROLL = { ...BENCH, widthMm: 32, heightMm: 57 }

beforeAll(async () => void (await labels.warm()))

describe('a turned label', () => {
  test.each([203, 300] as const)('is the same dots a quarter turn clockwise, at %i dpi', (dpi) => {
    const layout = layoutCupLabel(CLEAR, paper(dpi), MADRID)
    const [flat, turned] = [labelBitmap(layout), labelBitmap({ ...layout, isTurned: true })]
    expect([turned.widthDots, turned.heightDots]).toEqual([flat.heightDots, flat.widthDots])
    for (let y = 0; y < flat.heightDots; y += 1)
      for (let x = 0; x < flat.widthDots; x += 1)
        if (isBlack(flat, x, y) !== isBlack(turned, flat.heightDots - 1 - y, x))
          throw new Error(`dot ${x}, ${y}`)
  })

  test('as PDF has its paper’s size, and every dot where the raster has it, but for edges of letters', async () => {
    const layout = { ...layoutCupLabel(CLEAR, paper(203), MADRID), isTurned: true as const }
    const [page] = await pdfPages(labelPdf([layout]), 203)
    const raster = greyOf(labelBitmap(layout))
    if (!page) throw new Error('no page')
    expect([page.grey.width, page.grey.height]).toEqual([raster.width, raster.height])
    expect(await readGrey(page.grey)).toBe(layout.payload)
    const others = page.grey.data.filter((gray, n) => gray < 128 !== (raster.data[n] ?? 255) < 128)
    expect(others.length / raster.data.length).toBeLessThan(0.02)
  })

  test('goes to a narrow roll, whose label reads as the cup; also a sheet that lies across', async () => {
    const printer = recordedPrinter()
    const shop = await openPrintShop(printer.post)
    const sheet = { ...BENCH, printer: 'sheet', widthMm: 152.4, heightMm: 101.6 }
    await shop.setUp({ printers: [ROLL, sheet] })
    await mixClear(shop)
    await asked(shop)
    await shop.wait(2_000)
    expect(stepOf(shop)).toBe('done')
    await shop.post('/api/print', { id: 'p2', kind: 'commands', thing: 'all' })
    await shop.wait(2_000)
    expect(shop.answer().jobs.find(({ id }) => id === 'p2')).toMatchObject({
      printer: 'sheet',
      step: 'done',
    })
    const [label, codes] = printer.taken.map(({ data }) => pwgPages(data)[0])
    expect([label?.width, label?.height]).toEqual([255, 455])
    expect([codes?.width, codes?.height]).toEqual([1218, 812])
    const data = Uint8ClampedArray.from(label?.black ?? [], (dot) => 255 - 255 * dot)
    expect(await readGrey({ width: 255, height: 455, data })).toMatch(/^C1-/)
  })
})

describe('where a kiosk’s things are printed', () => {
  const roll: Printer = { ...BENCH, printer: 'roll' }
  const office: Printer = { ...BENCH, printer: 'office', widthMm: 210, heightMm: 297 }
  const both = { printers: [roll, office], byKiosk: [{ device: 'k1', printer: 'roll' }] }

  test('labels on its own printer, sheets where they fit', () => {
    expect(printerFor('cup', both, 'k1')?.printer).toBe('roll')
    expect(printerFor('job', both, 'k1')?.printer).toBe('office')
    expect(printerFor('commands', both, null)?.printer).toBe('office')
    expect(printerFor('cup', both, 'k2')?.printer).toBe('roll')
  })

  test('its own where nothing fits, the first where it has none, nowhere without printers', () => {
    const only = { ...both, printers: [{ ...roll, widthMm: 40 }] }
    expect(printerFor('cup', only, 'k1')?.printer).toBe('roll')
    expect(printerFor('job', only, null)?.printer).toBe('roll')
    expect(printerFor('cup', { printers: [], byKiosk: [] }, 'k1')).toBeUndefined()
  })
})
