import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { Resvg } from '@resvg/resvg-js'
import fc from 'fast-check'
import { decode } from 'fast-png'
import { type Font, parse } from 'opentype.js'
import { describe, expect, test } from 'vitest'
import { advanceDots, CAP_UNITS, inkDots, isDrawable, PLAIN_SIGNS } from '../../labels/glyphs.ts'
import { type DrawItem, type LabelLayout, layoutCupLabel } from '../../labels/layout.ts'
import { type Bitmap, labelBitmap, labelPng, labelSvg } from '../../labels/render.ts'
import { type Box, boxOf, qrOf, textsOf } from '../support/labelBoxes.ts'
import { isBlack } from '../support/labelImage.ts'
import {
  anyLabel,
  anyPaper,
  anyStyle,
  BASE,
  CHICAGO,
  CLEAR,
  MADRID,
  paper,
} from '../support/labelSamples.ts'

const require = createRequire(import.meta.url)
const fonts: Font[] = ['latin', 'latin-ext'].map((part) => {
  const path = `@fontsource/roboto-condensed/files/roboto-condensed-${part}-700-normal.woff`
  const bytes = readFileSync(require.resolve(path))
  return parse(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength))
})
function glyphOf(sign: string) {
  const font = fonts.find((one) => one.charToGlyphIndex(sign) > 0)
  if (!font) throw new Error(`the font has no ${sign}`)
  const toUnits = 2048 / font.unitsPerEm
  const glyph = font.charToGlyph(sign)
  const { y1, y2 } = glyph.getBoundingBox()
  return { advance: (glyph.advanceWidth ?? 0) * toUnits, low: y1 * toUnits, high: y2 * toUnits }
}

/** The dots that are black: their bounds, or null where none is. */
function inkOf(bitmap: Bitmap): Box | null {
  let ink: Box | null = null
  for (let y = 0; y < bitmap.heightDots; y += 1) {
    for (let x = 0; x < bitmap.widthDots; x += 1) {
      if (!isBlack(bitmap, x, y)) continue
      ink ??= { left: x, top: y, right: x + 1, bottom: y + 1 }
      ink = {
        ...ink,
        left: Math.min(ink.left, x),
        right: Math.max(ink.right, x + 1),
        bottom: y + 1,
      }
    }
  }
  return ink
}
const drawnAlone = (layout: LabelLayout, item: DrawItem) =>
  labelBitmap({ ...layout, items: [item] })

describe('the figures of the label font', () => {
  test('are those of the font itself', () => {
    expect(glyphOf('H')).toMatchObject({ high: CAP_UNITS, low: 0 })
    const wrong = PLAIN_SIGNS.filter(
      (sign) => advanceDots(sign, CAP_UNITS) !== glyphOf(sign).advance,
    )
    expect(wrong.map((sign) => [sign, glyphOf(sign).advance])).toEqual([])
  })

  test('hold for every accented capital that is let through', () => {
    const range = Array.from({ length: 0x220 - 0xc0 }, (_, n) => String.fromCodePoint(0xc0 + n))
    const accented = range.filter((sign) => isDrawable(sign) && !PLAIN_SIGNS.includes(sign))
    expect(accented.length).toBeGreaterThan(80)
    expect(accented).toEqual(expect.arrayContaining([...'ÁÉÍÓÚÑÜÇŠŽŐĘȚ']))
    for (const sign of accented.filter((one) => one === one.toUpperCase())) {
      expect(Math.abs(advanceDots(sign, CAP_UNITS) - glyphOf(sign).advance)).toBeLessThan(8)
    }
  })

  test('give every sign room above and below its line', () => {
    for (const sign of [...PLAIN_SIGNS, ...'ÁÀÂÃÄÅÇÉÑŐŰŠĄĘȘȚĢŅ']) {
      const { low, high } = glyphOf(sign)
      const room = inkDots(sign, CAP_UNITS)
      expect([sign, high <= room.above]).toEqual([sign, true])
      expect([sign, -low <= room.below]).toEqual([sign, true])
    }
  })
})

describe('heights measured in the printed dots', () => {
  const samples = [
    layoutCupLabel(CLEAR, paper(203), MADRID),
    layoutCupLabel(CLEAR, paper(300), CHICAGO),
    layoutCupLabel(BASE, paper(203), { ...MADRID, language: 'es' }),
    layoutCupLabel({ ...CLEAR, copy: 1 }, paper(203, 62, 40), MADRID),
  ]

  /** Height in mm of one letter or digit of a text, drawn alone. */
  function heightMm(layout: LabelLayout, sign: string, capDots: number): number {
    const item = { kind: 'text' as const, text: sign, capDots, widthDots: 0, x: 60, baseline: 150 }
    const ink = inkOf(drawnAlone(layout, item))
    return ink ? ((ink.bottom - ink.top) * 25.4) / layout.dpi : 0
  }
  const lowest = (layout: LabelLayout, text: string, capDots: number) =>
    Math.min(
      ...[...new Set(text)]
        .filter((s) => /[\p{L}\d]/u.test(s))
        .map((s) => heightMm(layout, s, capDots)),
    )

  test.each(samples.map((layout, n) => [n, layout] as const))('sample %i', (_, layout) => {
    for (const { text, capDots } of textsOf(layout)) {
      const height = lowest(layout, text, capDots)
      const isExpiry = /^\d\d?:\d\d$/.test(text) || /^\d\d? [A-Z]{3}$/.test(text)
      const isIdOrRatio = text === 'K7F3QABC' || text === '2:1:0.5' || text === '2:1'
      const isHazard = /DANGER|PELIGRO|ISOCYANATE|FLAMMABLE|SENSITIZER|WARNING|ATENCI/.test(text)
      const least = isExpiry ? 5 : isIdOrRatio ? 3 : isHazard ? 2 : 1.75
      expect([text, height >= least]).toEqual([text, true])
    }
  })
})

describe('the picture', () => {
  test('is a PNG of one bit a dot, with its resolution, dot for dot the bitmap', () => {
    for (const dpi of [203, 300] as const) {
      const layout = layoutCupLabel(CLEAR, paper(dpi), MADRID)
      const bitmap = labelBitmap(layout)
      // Read by a general library.
      const png = decode(labelPng(layout), { checkCrc: true })
      expect(png).toMatchObject({
        width: Math.floor((57 * dpi) / 25.4),
        height: Math.floor((32 * dpi) / 25.4),
        depth: 1,
        channels: 1,
        resolution: { x: Math.round(dpi / 0.0254), y: Math.round(dpi / 0.0254), unit: 1 },
      })
      const white = [...bitmap.bits].map((byte) => ~byte & 0xff)
      expect([...png.data]).toEqual(white)
    }
  })

  /** Drawn whole by a general renderer from the SVG, one dot a pixel: 0 black to 255 white. */
  function drawnWhole(layout: LabelLayout) {
    const { widthDots, heightDots } = layout
    const size = `width="${widthDots}" height="${heightDots}"`
    const svg = labelSvg(layout).replace(/width="[^"]*mm" height="[^"]*mm"/, size)
    const { pixels } = new Resvg(svg, { font: { loadSystemFonts: false } }).render()
    return (x: number, y: number) => pixels[(y * widthDots + x) * 4] ?? 0
  }
  /** Where an edge leaves about half of a dot white, it may fall either way. */
  const isAboutHalf = (gray: number) => Math.abs(gray - 127.5) < 40

  test('put together from what was drawn once is, dot for dot, the picture drawn whole', () => {
    fc.assert(
      fc.property(anyLabel, anyPaper, anyStyle, (label, on, style) => {
        const layout = layoutCupLabel(label, on, style)
        const whole = drawnWhole(layout)
        const bitmap = labelBitmap(layout)
        const wrong: string[] = []
        for (let y = 0; y < bitmap.heightDots; y += 1)
          for (let x = 0; x < bitmap.widthDots; x += 1) {
            const gray = whole(x, y)
            if (gray < 128 !== isBlack(bitmap, x, y) && !isAboutHalf(gray))
              wrong.push(`${x} ${y}: ${gray}`)
          }
        expect(wrong).toEqual([])
      }),
      { numRuns: 20 },
    )
  })

  test('draws each module of the code as a whole square of dots', () => {
    for (const dpi of [203, 300] as const) {
      const layout = layoutCupLabel(CLEAR, paper(dpi), MADRID)
      const qr = qrOf(layout)
      const bitmap = drawnAlone(layout, qr)
      for (let module = 0; module < qr.modules ** 2; module += 1) {
        const left = qr.x + (module % qr.modules) * qr.moduleDots
        const top = qr.y + Math.floor(module / qr.modules) * qr.moduleDots
        const dots = Array.from({ length: qr.moduleDots ** 2 }, (_, n) =>
          isBlack(bitmap, left + (n % qr.moduleDots), top + Math.floor(n / qr.moduleDots)),
        )
        expect(new Set(dots).size).toBe(1)
      }
    }
  })

  test('puts ink only where the layout says, and never on another item', () => {
    fc.assert(
      fc.property(anyLabel, anyPaper, anyStyle, (label, on, style) => {
        const layout = layoutCupLabel(label, on, style)
        const bitmaps = layout.items.map((item) => drawnAlone(layout, item))
        for (const [i, item] of layout.items.entries()) {
          const ink = inkOf(bitmaps[i] ?? labelBitmap(layout))
          const box = boxOf(item)
          if (ink === null) continue
          expect(ink.left).toBeGreaterThanOrEqual(box.left)
          expect(ink.top).toBeGreaterThanOrEqual(box.top)
          expect(ink.right).toBeLessThanOrEqual(box.right)
          expect(ink.bottom).toBeLessThanOrEqual(box.bottom)
        }
        const together = bitmaps.reduce((sum, bitmap) => sum + countBlack(bitmap), 0)
        expect(countBlack(labelBitmap(layout))).toBe(together)
      }),
      { numRuns: 10 },
    )
  })

  test('as SVG it has its true size in mm and needs no font and nothing from outside', () => {
    const svg = labelSvg(layoutCupLabel({ ...CLEAR, product: 'a "<b>" & c' }, paper(203), MADRID))
    expect(Number(/width="([\d.]+)mm"/.exec(svg)?.[1])).toBeCloseTo(57, 0)
    expect(svg).toContain('viewBox="0 0 455 255"')
    expect(svg).toContain('aria-label="A &#34;&#60;B&#62;&#34; &#38; C"')
    expect(svg).not.toMatch(/<text|font|href|url\(|<script|<style/)
  })
})

const countBlack = (bitmap: Bitmap): number =>
  bitmap.bits.reduce((sum, byte) => sum + byte.toString(2).replaceAll('0', '').length, 0)
