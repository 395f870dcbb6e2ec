import { advanceDots } from './glyphs.ts'
import { type Ink, inkOfPictogram, inkOfSign } from './ink.ts'
import type {
  DrawItem,
  LabelLayout,
  PictogramItem,
  RuleItem,
  SymbolItem,
  TextItem,
} from './layout.ts'
import { outlineOf } from './outlines.ts'
import { PICTOGRAM_PATHS, PICTOGRAM_UNITS } from './pictograms.ts'
import { type Bitmap, bitmapPng } from './png.ts'
import { mmOf } from './stock.ts'
import { darkRuns, symbolMask } from './symbols.ts'

/** Draws a layout. Text is drawn as outlines of the font that is shipped with us, so that SVG and PNG are the same on every machine. */

export type { Bitmap } from './png.ts'

const escaped = (text: string) => text.replace(/[&<>"]/g, (sign) => `&#${sign.charCodeAt(0)};`)

function textSvg(item: TextItem): string {
  let x = item.x
  const glyphs = [...item.text].map((sign) => {
    const d = outlineOf(sign, item.capDots)
    const glyph = d && `<path transform="translate(${x} ${item.baseline})" d="${d}"/>`
    x += advanceDots(sign, item.capDots)
    return glyph
  })
  return `<g role="img" aria-label="${escaped(item.text)}">${glyphs.join('')}</g>`
}

const pictogramSvg = ({ picture, x, y, sizeDots }: PictogramItem): string =>
  `<path fill-rule="evenodd" transform="translate(${x} ${y}) scale(${sizeDots / PICTOGRAM_UNITS})" d="${PICTOGRAM_PATHS[picture]}"/>`

const symbolSvg = (item: SymbolItem): string => {
  const runs = darkRuns(symbolMask(item))
  const d = runs.map(({ x, y, width, height }) => `M${x} ${y}h${width}v${height}h${-width}z`)
  return `<path shape-rendering="crispEdges" d="${d.join('')}"/>`
}

const ruleSvg = ({ x, y, widthDots, heightDots }: RuleItem): string =>
  `<path shape-rendering="crispEdges" d="M${x} ${y}h${widthDots}v${heightDots}h${-widthDots}z"/>`

function itemSvg(item: DrawItem): string {
  switch (item.kind) {
    case 'text':
      return textSvg(item)
    case 'pictogram':
      return pictogramSvg(item)
    case 'rule':
      return ruleSvg(item)
    case 'qr':
    case 'bars':
      return symbolSvg(item)
  }
}

/**
 * A label as SVG, in its true size in mm; one user unit is one dot of the printer.
 * @returns text of one svg element, black on white, without fonts or other outside parts
 */
export function labelSvg(layout: LabelLayout): string {
  const { widthDots, heightDots, dpi } = layout
  // On a screen it is read, however its printer takes it.
  const size = `width="${mmOf(widthDots, dpi)}mm" height="${mmOf(heightDots, dpi)}mm"`
  return `<svg xmlns="http://www.w3.org/2000/svg" ${size} viewBox="0 0 ${widthDots} ${heightDots}"><rect width="${widthDots}" height="${heightDots}" fill="#fff"/>${layout.items.map(itemSvg).join('')}</svg>`
}

/**
 * A label as dots: one is black where half of it or more is covered. Letters and pictures are put where they
 * belong as they were once drawn, the modules of the QR as whole squares of dots.
 * @returns as its printer takes it
 */
export function labelBitmap(layout: LabelLayout): Bitmap {
  const upright = uprightBitmap(layout)
  return layout.isTurned ? turnedBitmap(upright) : upright
}

/** A quarter turn clockwise: what was on the left comes out on top. */
function turnedBitmap({ widthDots, heightDots, dpi, rowBytes, bits }: Bitmap): Bitmap {
  const turnedBytes = Math.ceil(heightDots / 8)
  const turned = new Uint8Array(turnedBytes * widthDots)
  for (let y = 0; y < heightDots; y += 1) {
    const column = heightDots - 1 - y
    const mask = 0x80 >> (column & 7)
    for (let x = 0; x < widthDots; x += 1) {
      if (((bits[y * rowBytes + (x >> 3)] ?? 0) & (0x80 >> (x & 7))) === 0) continue
      const byte = x * turnedBytes + (column >> 3)
      turned[byte] = (turned[byte] ?? 0) | mask
    }
  }
  return { widthDots: heightDots, heightDots: widthDots, dpi, rowBytes: turnedBytes, bits: turned }
}

function uprightBitmap(layout: LabelLayout): Bitmap {
  const { widthDots, heightDots, dpi } = layout
  const gray = new Uint8Array(widthDots * heightDots).fill(WHITE)
  const sheet = { widthDots, heightDots, gray }
  for (const item of layout.items) putItem(sheet, item)
  const rowBytes = Math.ceil(widthDots / 8)
  const bits = new Uint8Array(rowBytes * heightDots)
  for (let y = 0, dot = 0; y < heightDots; y += 1) {
    for (let x = 0; x < widthDots; x += 1, dot += 1) {
      if ((gray[dot] ?? WHITE) >= HALF) continue
      const byte = y * rowBytes + (x >> 3)
      bits[byte] = (bits[byte] ?? 0) | (0x80 >> (x & 7))
    }
  }
  return { widthDots, heightDots, dpi, rowBytes, bits }
}

const WHITE = 255
const HALF = 128

type Sheet = Pick<LabelLayout, 'widthDots' | 'heightDots'> & { readonly gray: Uint8Array }

function putItem(sheet: Sheet, item: DrawItem): void {
  switch (item.kind) {
    case 'text': {
      let x = item.x
      for (const sign of item.text) {
        putInk(sheet, inkOfSign(sign, item.capDots), x, item.baseline)
        x += advanceDots(sign, item.capDots)
      }
      break
    }
    case 'pictogram':
      putInk(sheet, inkOfPictogram(item), item.x, item.y)
      break
    case 'rule':
      putBox(sheet, item.x, item.y, item.widthDots, item.heightDots)
      break
    case 'qr':
    case 'bars':
      for (const { x, y, width, height } of darkRuns(symbolMask(item)))
        putBox(sheet, x, y, width, height)
  }
}

function putBox(sheet: Sheet, x: number, y: number, width: number, height: number): void {
  for (let row = y; row < y + height; row += 1) {
    const start = row * sheet.widthDots + x
    sheet.gray.fill(0, start, start + width)
  }
}

/** Where two letters share a dot, each covers its part of what the other left white. */
function putInk(sheet: Sheet, ink: Ink | null, atX: number, atY: number): void {
  if (ink === null) return
  const [left, top] = [atX - ink.originX, atY - ink.originY]
  const [fromX, fromY] = [Math.max(0, -left), Math.max(0, -top)]
  const toX = Math.min(ink.widthDots, sheet.widthDots - left)
  const toY = Math.min(ink.heightDots, sheet.heightDots - top)
  for (let y = fromY; y < toY; y += 1) {
    const from = y * ink.widthDots
    const to = (top + y) * sheet.widthDots + left
    for (let x = fromX; x < toX; x += 1) {
      const gray = ink.gray[from + x] ?? WHITE
      if (gray === WHITE) continue
      sheet.gray[to + x] = Math.round(((sheet.gray[to + x] ?? WHITE) * gray) / WHITE)
    }
  }
}

/** A label as a grayscale PNG of one bit, with its resolution in it (pHYs). */
export const labelPng = (layout: LabelLayout): Uint8Array => bitmapPng(labelBitmap(layout))
