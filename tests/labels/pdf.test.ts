import { describe, expect, test } from 'vitest'
import { layoutCupLabel, layoutPanelTag } from '../../labels/layout.ts'
import { labelPdf } from '../../labels/pdf.ts'
import { labelBitmap } from '../../labels/render.ts'
import { layoutRuler } from '../../labels/ruler.ts'
import { boxOf, qrOf } from '../support/labelBoxes.ts'
import { isBlack } from '../support/labelImage.ts'
import { readGrey } from '../support/labelReader.ts'
import { BASE, CLEAR, MADRID, paper } from '../support/labelSamples.ts'
import { pdfPages } from '../support/pdfReader.ts'

const tag = { shopTag: 'K7F', panel: 'R4TPDXYZ', name: 'Rear quarter, left', job: 'J7K3MABC' }

describe('a label as PDF, drawn by a renderer that we did not write', () => {
  const layouts = [203, 300].flatMap((dpi) => [
    layoutCupLabel(CLEAR, paper(dpi as 203 | 300), MADRID),
    layoutCupLabel(BASE, paper(dpi as 203 | 300), { ...MADRID, language: 'es' }),
    layoutPanelTag(tag, paper(dpi as 203 | 300), 'en'),
  ])

  test('has its true size, and its code is read', async () => {
    for (const layout of layouts) {
      const [page] = await pdfPages(labelPdf([layout]), layout.dpi)
      if (!page) throw new Error('no page')
      // 57 by 32 mm are 161.6 by 90.7 points.
      expect(Math.abs(page.widthPt - (57 / 25.4) * 72)).toBeLessThan(0.4)
      expect(Math.abs(page.heightPt - (32 / 25.4) * 72)).toBeLessThan(0.4)
      expect(await readGrey(page.grey)).toBe(layout.payload)
    }
  })

  test('at the printer’s own dots has the dots of the raster, edges of letters apart', async () => {
    for (const layout of layouts) {
      const [page] = await pdfPages(labelPdf([layout]), layout.dpi)
      const bitmap = labelBitmap(layout)
      if (!page) throw new Error('no page')
      const { width, height, data } = page.grey
      expect([width, height]).toEqual([bitmap.widthDots, bitmap.heightDots])
      const qr = boxOf(qrOf(layout))
      let wrong = 0
      let wrongInCode = 0
      let black = 0
      for (let y = 0; y < height; y += 1)
        for (let x = 0; x < width; x += 1) {
          const gray = data[y * width + x] ?? 255
          const isInk = isBlack(bitmap, x, y)
          if (isInk) black += 1
          // A dot that an edge crosses may fall either way.
          if (isInk ? gray <= 200 : gray >= 55) continue
          wrong += 1
          if (x >= qr.left && x < qr.right && y >= qr.top && y < qr.bottom) wrongInCode += 1
        }
      expect(wrongInCode).toBe(0)
      expect(wrong / black).toBeLessThan(0.03)
    }
  })

  test('of three things is three pages', async () => {
    const pages = await pdfPages(
      labelPdf([...layouts.slice(0, 2), layoutRuler('Bench', paper(203))]),
      203,
    )
    expect(pages).toHaveLength(3)
    expect(
      await readGrey(pages[1]?.grey ?? { width: 1, height: 1, data: new Uint8ClampedArray(1) }),
    ).toBe(layouts[1]?.payload)
  })
})
