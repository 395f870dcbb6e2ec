import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { crc32, deflateSync } from 'node:zlib'
import { Resvg } from '@resvg/resvg-js'
import bwipjs from 'bwip-js/node'
import { type Font, type PathCommand, parse } from 'opentype.js'
import { advanceDots, CAP_UNITS } from './glyphs.ts'
import type { DrawItem, LabelLayout, PictogramItem, QrItem, TextItem } from './layout.ts'
import { PICTOGRAM_PATHS, PICTOGRAM_UNITS } from './pictograms.ts'
import { QR_LEVEL } from './qrSize.ts'
import { mmOf } from './stock.ts'

/**
 * Draws a layout. The only file that knows the barcode and font libraries. Text is drawn as outlines
 * of the font that is shipped with us, so that SVG and PNG are the same on every machine.
 */

const require = createRequire(import.meta.url)
/** Latin first; the other file has the rest of Latin Extended-A. SIL Open Font License. */
const FONT_FILES = ['latin', 'latin-ext'].map(
  (part) => `@fontsource/roboto-condensed/files/roboto-condensed-${part}-700-normal.woff`,
)
let fonts: readonly Font[] | undefined

function labelFonts(): readonly Font[] {
  fonts ??= FONT_FILES.map((name) => {
    const bytes = readFileSync(require.resolve(name))
    return parse(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength))
  })
  return fonts
}

const outlines = new Map<string, string>()

/** A glyph's outline from its own origin: drawing a label again costs no font work. */
function outlineOf(sign: string, capDots: number): string {
  const key = `${capDots} ${sign}`
  const kept = outlines.get(key)
  if (kept !== undefined) return kept
  const font = labelFonts().find((one) => one.charToGlyphIndex(sign) > 0) ?? labelFonts()[0]
  const size = font ? (capDots / CAP_UNITS) * font.unitsPerEm : 0
  const path = pathData(font?.charToGlyph(sign).getPath(0, 0, size).commands ?? [])
  outlines.set(key, path)
  return path
}

/** Written here: the library's own text (opentype.js 2.0.0) drops parts of some outlines, such as a small 2. */
const pathData = (commands: readonly PathCommand[]): string => commands.map(commandData).join('')

const at = (...numbers: readonly number[]) => numbers.map((n) => n.toFixed(3)).join(' ')

function commandData(command: PathCommand): string {
  switch (command.type) {
    case 'M':
    case 'L':
      return command.type + at(command.x, command.y)
    case 'Q':
      return `Q${at(command.x1, command.y1, command.x, command.y)}`
    case 'C':
      return `C${at(command.x1, command.y1, command.x2, command.y2, command.x, command.y)}`
    case 'Z':
      return 'Z'
  }
}

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

/** One run of dark modules in a row is one rectangle: no seams between modules. */
function qrSvg(item: QrItem): string {
  const modules = qrModules(item)
  let d = ''
  for (let row = 0; row < item.modules; row += 1) {
    const dark = modules.slice(row * item.modules, (row + 1) * item.modules).join('')
    for (const run of dark.matchAll(/1+/g)) {
      const width = run[0].length * item.moduleDots
      d += `M${item.x + run.index * item.moduleDots} ${item.y + row * item.moduleDots}h${width}v${item.moduleDots}h${-width}z`
    }
  }
  return `<path shape-rendering="crispEdges" d="${d}"/>`
}

/** Dark modules as 1, row by row. The version is the layout's, so that the symbol has its size. */
function qrModules(item: QrItem): readonly number[] {
  const options = `eclevel=${QR_LEVEL} version=${item.version}`
  const [symbol] = bwipjs.raw('qrcode', item.payload, options)
  if (!symbol || !('pixs' in symbol) || symbol.pixx !== item.modules) {
    throw new Error(`the QR came out at another size than the layout's ${item.modules} modules`)
  }
  return symbol.pixs
}

function itemSvg(item: DrawItem): string {
  switch (item.kind) {
    case 'text':
      return textSvg(item)
    case 'pictogram':
      return pictogramSvg(item)
    case 'qr':
      return qrSvg(item)
  }
}

/**
 * A label as SVG, in its true size in mm; one user unit is one dot of the printer.
 * @returns text of one svg element, black on white, without fonts or other outside parts
 */
export function labelSvg(layout: LabelLayout): string {
  const { widthDots, heightDots, dpi } = layout
  const size = `width="${mmOf(widthDots, dpi)}mm" height="${mmOf(heightDots, dpi)}mm"`
  return `<svg xmlns="http://www.w3.org/2000/svg" ${size} viewBox="0 0 ${widthDots} ${heightDots}"><rect width="${widthDots}" height="${heightDots}" fill="#fff"/>${layout.items.map(itemSvg).join('')}</svg>`
}

/** A label as a printer takes it: one bit a dot, eight in a byte, rows padded, 1 is black. */
export type Bitmap = {
  readonly widthDots: number
  readonly heightDots: number
  readonly dpi: number
  readonly rowBytes: number
  readonly bits: Uint8Array
}

const RGBA = 4
const HALF = 128

/**
 * A label as dots: one is black where half of it or more is covered. The QR lies on whole dots and
 * comes out exactly.
 */
export function labelBitmap(layout: LabelLayout): Bitmap {
  const { widthDots, heightDots, dpi } = layout
  const options = {
    fitTo: { mode: 'width', value: widthDots },
    font: { loadSystemFonts: false },
  } as const
  const { pixels } = new Resvg(labelSvg(layout), options).render()
  const rowBytes = Math.ceil(widthDots / 8)
  const bits = new Uint8Array(rowBytes * heightDots)
  for (let dot = 0; dot < widthDots * heightDots; dot += 1) {
    if ((pixels[dot * RGBA] ?? 0) >= HALF) continue
    const x = dot % widthDots
    const byte = Math.floor(dot / widthDots) * rowBytes + (x >> 3)
    bits[byte] = (bits[byte] ?? 0) | (0x80 >> (x & 7))
  }
  return { widthDots, heightDots, dpi, rowBytes, bits }
}

/** A label as a grayscale PNG of one bit, with its resolution in it (pHYs). */
export const labelPng = (layout: LabelLayout): Uint8Array => bitmapPng(labelBitmap(layout))

const SIGNATURE = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]
const METRE = 1

/** Written here because encoders on npm keep neither one bit a dot nor the resolution (W3C PNG, 11.2, 11.3). */
function bitmapPng({ widthDots, heightDots, dpi, rowBytes, bits }: Bitmap): Uint8Array {
  const header = Buffer.alloc(13)
  header.writeUInt32BE(widthDots, 0)
  header.writeUInt32BE(heightDots, 4)
  header[8] = 1
  const resolution = Buffer.alloc(9)
  const dotsPerMetre = Math.round(dpi / 0.0254)
  resolution.writeUInt32BE(dotsPerMetre, 0)
  resolution.writeUInt32BE(dotsPerMetre, 4)
  resolution[8] = METRE
  const rows = Buffer.alloc((rowBytes + 1) * heightDots)
  for (let y = 0; y < heightDots; y += 1) {
    for (let i = 0; i < rowBytes; i += 1) {
      // In a grayscale PNG 1 is white.
      rows[y * (rowBytes + 1) + 1 + i] = ~(bits[y * rowBytes + i] ?? 0) & 0xff
    }
  }
  return Buffer.concat([
    Buffer.from(SIGNATURE),
    chunk('IHDR', header),
    chunk('pHYs', resolution),
    chunk('IDAT', deflateSync(rows)),
    chunk('IEND', Buffer.alloc(0)),
  ])
}

function chunk(type: string, data: Buffer): Buffer {
  const named = Buffer.concat([Buffer.from(type, 'latin1'), data])
  const length = Buffer.alloc(4)
  length.writeUInt32BE(data.length)
  const crc = Buffer.alloc(4)
  crc.writeUInt32BE(crc32(named))
  return Buffer.concat([length, named, crc])
}
