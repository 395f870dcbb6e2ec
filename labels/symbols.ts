import bwipjs from 'bwip-js/node'
import type { BarsItem, SymbolItem } from './layout.ts'
import type { QrItem } from './page.ts'
import { clearestMask } from './qrMask.ts'

/** The codes of a layout as dark and light, whatever paints them. */

/** A grid on a page: each cell is a whole number of the printer's dots. */
export type DotMask = {
  readonly x: number
  readonly y: number
  readonly columns: number
  readonly rows: number
  readonly columnDots: number
  readonly rowDots: number
  readonly isDark: (column: number, row: number) => boolean
}

/** @throws Error where the library made it of another size than the layout has room for */
export const symbolMask = (item: SymbolItem): DotMask =>
  item.kind === 'bars' ? barsMask(item) : squareMask(item)

/** Bar, space, bar ... in modules, as one row of cells. */
function barsMask(item: BarsItem): DotMask {
  const [symbol] = bwipjs.raw('code128', item.payload, '')
  const widths = symbol && 'sbs' in symbol ? symbol.sbs : []
  const dark = widths.flatMap((width, n) => new Array<boolean>(width).fill(n % 2 === 0))
  if (dark.length === 0 || dark.length > item.modules) {
    throw new Error(`the bars came out ${dark.length} modules wide; the layout has ${item.modules}`)
  }
  return {
    x: item.x,
    y: item.y,
    columns: dark.length,
    rows: 1,
    columnDots: item.moduleDots,
    rowDots: item.heightDots,
    isDark: (column) => dark[column] === true,
  }
}

function squareMask(item: QrItem): DotMask {
  const { modules } = item
  const pixels = item.symbology ? squarePixels(item, `${modules}x${modules}`) : qrPixels(item)
  return {
    x: item.x,
    y: item.y,
    columns: modules,
    rows: modules,
    columnDots: item.moduleDots,
    rowDots: item.moduleDots,
    isDark: (column, row) => pixels[row * modules + column] === 1,
  }
}

/** With the mask under which a drop of paint does least harm; version 1 has no alignment pattern to be missed. */
function qrPixels(item: QrItem): readonly number[] {
  const { version, level = 'M', modules } = item
  const asked = `${version} eclevel=${level}`
  if (version === 1) return squarePixels(item, asked)
  // The library numbers masks from one.
  const masked = (mask: number) => squarePixels(item, `${asked} mask=${mask + 1}`)
  const first = masked(0)
  return masked(clearestMask(modules, (column, row) => first[row * modules + column] === 1))
}

/**
 * Row by row, 1 where it is dark. The version is the layout's, so that the symbol has its size.
 * @throws Error where the library made it of another size than the layout has room for
 */
function squarePixels(item: QrItem, version: string): readonly number[] {
  const { modules, payload, symbology = 'qrcode' } = item
  const [symbol] = bwipjs.raw(symbology, payload, `version=${version}`)
  if (!symbol || !('pixs' in symbol) || symbol.pixx !== modules) {
    throw new Error(`the code came out at another size than the layout's ${modules} modules`)
  }
  return symbol.pixs
}

/** Dark cells, one run of them in a row as one rectangle of dots: no seams between modules. */
export function darkRuns(mask: DotMask): { x: number; y: number; width: number; height: number }[] {
  const runs = []
  for (let row = 0; row < mask.rows; row += 1) {
    for (let column = 0; column < mask.columns; column += 1) {
      if (!mask.isDark(column, row)) continue
      const from = column
      while (column + 1 < mask.columns && mask.isDark(column + 1, row)) column += 1
      runs.push({
        x: mask.x + from * mask.columnDots,
        y: mask.y + row * mask.rowDots,
        width: (column + 1 - from) * mask.columnDots,
        height: mask.rowDots,
      })
    }
  }
  return runs
}
