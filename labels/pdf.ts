import { advanceDots } from './glyphs.ts'
import { inkOfPictogram } from './ink.ts'
import type { DrawItem, LabelLayout, PictogramItem, TextItem } from './layout.ts'
import { outlineOf } from './outlines.ts'
import { pdfFile, pdfStream } from './pdfFile.ts'
import { type DotMask, darkRuns, symbolMask } from './symbols.ts'

/**
 * Layouts as a PDF, a page each (ISO 32000-1). Letters are outlines, so that no font has to be there; codes
 * are boxes on the printer's own dots, sharp in every renderer; pictograms are images of one bit.
 */

const POINTS_PER_INCH = 72

/** @returns a document whose pages have the layouts' true size */
export function labelPdf(layouts: readonly LabelLayout[]): Uint8Array {
  const parts: Buffer[] = []
  const add = (part: Buffer | string): number => {
    parts.push(typeof part === 'string' ? Buffer.from(part, 'latin1') : part)
    return parts.length
  }
  // The catalog and the list of pages come first; what they name is known at the end.
  add('')
  add('')
  const pages = layouts.map((layout) => addPage(layout, add))
  parts[0] = Buffer.from('<< /Type /Catalog /Pages 2 0 R >>', 'latin1')
  const kids = pages.map((page) => `${page} 0 R`).join(' ')
  parts[1] = Buffer.from(`<< /Type /Pages /Kids [${kids}] /Count ${pages.length} >>`, 'latin1')
  return pdfFile(parts)
}

function addPage(layout: LabelLayout, add: (part: Buffer | string) => number): number {
  const scale = POINTS_PER_INCH / layout.dpi
  const { isTurned } = layout
  const [wide, high] = [layout.widthDots * scale, layout.heightDots * scale]
  const [width, height] = isTurned ? [high, wide] : [wide, high]
  const images: string[] = []
  const imageOf = (mask: DotMask): string => {
    const name = `I${images.length}`
    images.push(`/${name} ${add(maskObject(mask))} 0 R`)
    return name
  }
  // Dots with y downwards, as the layout counts them; turned, with x downwards and y to the left.
  const matrix = isTurned ? [0, -scale, -scale, 0, width, height] : [scale, 0, 0, -scale, 0, height]
  const drawn = layout.items.map((item) => itemOps(item, imageOf)).join('\n')
  const content = add(pdfStream('', `${matrix.map(num).join(' ')} cm\n0 g\n${drawn}`))
  const resources = images.length > 0 ? `<< /XObject << ${images.join(' ')} >> >>` : '<< >>'
  return add(
    `<< /Type /Page /Parent 2 0 R /MediaBox [0 0 ${num(width)} ${num(height)}] /Resources ${resources} /Contents ${content} 0 R >>`,
  )
}

const num = (n: number): string => String(Math.round(n * 1e6) / 1e6)

function itemOps(item: DrawItem, imageOf: (mask: DotMask) => string): string {
  switch (item.kind) {
    case 'text':
      return textOps(item)
    case 'rule':
      return boxOps({ ...item, width: item.widthDots, height: item.heightDots })
    case 'pictogram':
      return maskOps(pictogramMask(item), imageOf)
    case 'qr':
    case 'bars':
      return darkRuns(symbolMask(item)).map(boxOps).join(' ')
  }
}

/**
 * A hair inside its dots: a renderer that darkens every dot a box touches (Adobe's rule) would else darken one
 * more where the edge, in points, falls a rounding beyond it.
 */
const HAIR_DOTS = 0.01

function boxOps({ x, y, width, height }: ReturnType<typeof darkRuns>[number]): string {
  const edges = [x + HAIR_DOTS, y + HAIR_DOTS, width - 2 * HAIR_DOTS, height - 2 * HAIR_DOTS]
  return `${edges.map(num).join(' ')} re f`
}

function textOps(item: TextItem): string {
  let x = item.x
  return [...item.text]
    .map((sign) => {
      const path = pathOps(outlineOf(sign, item.capDots))
      const drawn = path && `q 1 0 0 1 ${x} ${item.baseline} cm ${path} f Q`
      x += advanceDots(sign, item.capDots)
      return drawn
    })
    .join('\n')
}

const STEP = /([MLQCZ])([^MLQCZ]*)/g

/** The data of an SVG path with M, L, Q, C and Z as operators of a PDF, which knows no quadratic curve. */
function pathOps(d: string): string {
  let [x, y] = [0, 0]
  const ops: string[] = []
  for (const [, kind, text = ''] of d.matchAll(STEP)) {
    const n = text.trim().split(' ').map(Number)
    const [a = 0, b = 0, c = 0, e = 0, f = 0, g = 0] = n
    if (kind === 'M') ops.push(`${a} ${b} m`)
    else if (kind === 'L') ops.push(`${a} ${b} l`)
    else if (kind === 'C') ops.push(`${a} ${b} ${c} ${e} ${f} ${g} c`)
    else if (kind === 'Q') {
      const to = (p: number, control: number) => num(p + (2 / 3) * (control - p))
      ops.push(`${to(x, a)} ${to(y, b)} ${to(c, a)} ${to(e, b)} ${c} ${e} c`)
    } else ops.push('h')
    if (kind !== 'Z') [x, y] = [n.at(-2) ?? x, n.at(-1) ?? y]
  }
  return ops.join(' ')
}

/** The unit square of an image stands on its head in a page whose y goes down. */
function maskOps(mask: DotMask, imageOf: (mask: DotMask) => string): string {
  const [width, height] = [mask.columns * mask.columnDots, mask.rows * mask.rowDots]
  return `q ${width} 0 0 ${-height} ${mask.x} ${mask.y + height} cm /${imageOf(mask)} Do Q`
}

const HALF = 128

function pictogramMask(item: PictogramItem): DotMask {
  const gray = inkOfPictogram(item)?.gray ?? new Uint8Array(item.sizeDots ** 2).fill(255)
  const { x, y, sizeDots } = item
  const isDark = (column: number, row: number) => (gray[row * sizeDots + column] ?? 255) < HALF
  return { x, y, columns: sizeDots, rows: sizeDots, columnDots: 1, rowDots: 1, isDark }
}

function maskObject({ columns, rows, isDark }: DotMask): Buffer {
  const rowBytes = Math.ceil(columns / 8)
  const bits = Buffer.alloc(rowBytes * rows)
  for (let row = 0; row < rows; row += 1) {
    for (let column = 0; column < columns; column += 1) {
      if (!isDark(column, row)) continue
      const byte = row * rowBytes + (column >> 3)
      bits[byte] = (bits[byte] ?? 0) | (0x80 >> (column & 7))
    }
  }
  const is = `/Type /XObject /Subtype /Image /Width ${columns} /Height ${rows} /ImageMask true /BitsPerComponent 1 /Decode [1 0] /Interpolate false`
  return pdfStream(is, bits)
}
