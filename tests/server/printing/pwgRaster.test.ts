import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { layoutCupLabel } from '../../../labels/layout.ts'
import type { Bitmap } from '../../../labels/png.ts'
import { labelBitmap } from '../../../labels/render.ts'
import { layoutRuler } from '../../../labels/ruler.ts'
import { pwgRaster } from '../../../server/printing/pwgRaster.ts'
import { isBlack } from '../../support/labelImage.ts'
import { CLEAR, MADRID, paper } from '../../support/labelSamples.ts'
import { pwgPages } from '../../support/pwgDecode.ts'

const bitmap = labelBitmap(layoutCupLabel(CLEAR, paper(203), MADRID))

function sameDots(page: ReturnType<typeof pwgPages>[number], of: Bitmap, times: number): boolean {
  for (let y = 0; y < page.height; y += 1)
    for (let x = 0; x < page.width; x += 1) {
      const dark = page.black[y * page.width + x] === 1
      if (dark !== isBlack(of, Math.floor(x / times), Math.floor(y / times))) return false
    }
  return true
}

describe('PWG raster', () => {
  test.each([
    ['black_1', 1, 3],
    ['black_1', 2, 3],
    ['sgray_8', 1, 18],
    ['sgray_8', 3, 18],
  ] as const)('as %s, each dot %i times, is the bitmap dot for dot', (type, times, space) => {
    const document = pwgRaster([{ bitmap, type, times, mediaName: 'om_label_57x32mm' }])
    const [page, ...rest] = pwgPages(document)
    if (!page) throw new Error('no page')
    expect(rest).toEqual([])
    // PWG 5102.4: 3 is black, 18 is gray.
    expect(page).toMatchObject({
      dpi: 203 * times,
      colorSpace: space,
      mediaName: 'om_label_57x32mm',
    })
    expect([page.width, page.height]).toEqual([455 * times, 255 * times])
    expect(sameDots(page, bitmap, times)).toBe(true)
  })

  test('of any dots is read back as they were, also of more lines than a count can say', () => {
    const any = fc
      .record({
        widthDots: fc.integer({ min: 1, max: 400 }),
        heightDots: fc.integer({ min: 1, max: 600 }),
        seed: fc.array(fc.constantFrom(0, 0xff, 0x55, 0x01, 0x80), { minLength: 1, maxLength: 40 }),
        isBlank: fc.boolean(),
      })
      .map(({ widthDots, heightDots, seed, isBlank }): Bitmap => {
        const rowBytes = Math.ceil(widthDots / 8)
        const bits = Uint8Array.from({ length: rowBytes * heightDots }, (_, n) =>
          isBlank ? 0 : (seed[n % seed.length] ?? 0),
        )
        return { widthDots, heightDots, dpi: 300, rowBytes, bits }
      })
    fc.assert(
      fc.property(any, (one) => {
        const [page] = pwgPages(
          pwgRaster([{ bitmap: one, type: 'black_1', times: 1, mediaName: '' }]),
        )
        if (!page) throw new Error('no page')
        expect(sameDots(page, one, 1)).toBe(true)
      }),
      { numRuns: 60 },
    )
  })

  test('of two pages is two pages', () => {
    const pages = [bitmap, labelBitmap(layoutRuler('Bench', paper(203)))].map((one) => ({
      ...{ bitmap: one, type: 'black_1' as const, times: 1, mediaName: '' },
    }))
    const read = pwgPages(pwgRaster(pages))
    expect(read).toHaveLength(2)
    expect(read.every((page, n) => sameDots(page, pages[n]?.bitmap ?? bitmap, 1))).toBe(true)
  })
})

describe('the ruler label', () => {
  test('has a mark every millimeter to within half a dot, whatever the resolution', () => {
    for (const dpi of [203, 300] as const) {
      const rules = layoutRuler('Bench', paper(dpi)).items.filter((item) => item.kind === 'rule')
      const top = Math.min(...rules.map((rule) => rule.y))
      const xs = rules.filter((rule) => rule.y === top && rule.heightDots > 1).map((rule) => rule.x)
      expect(xs.length).toBeGreaterThan(50)
      for (const [mm, x] of xs.entries())
        expect(Math.abs(x - (xs[0] ?? 0) - (mm * dpi) / 25.4)).toBeLessThanOrEqual(0.5)
    }
  })
})
