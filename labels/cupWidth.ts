import { type LabelPaper, moduleSizes, onPaper } from './page.ts'
import { matrixModules, qrSize } from './qrSize.ts'
import { mmOf } from './stock.ts'

/** Signs of a cup's code with a ratio of fourteen signs: hardly any has more. */
const LONG_CODE = 'K'.repeat(61)

/**
 * How wide the code of a cup's label comes out on a paper where the rest leaves it its full modules, mm: what
 * a printer and a stock can be judged by before anything is printed.
 */
export function cupCodeWidthMm(paper: Omit<LabelPaper, 'stock'>): number {
  const text = onPaper(LONG_CODE, paper)
  const modules = paper.symbology ? matrixModules(text) : qrSize(text).modules
  return mmOf(modules * (moduleSizes(paper.dpi)[0] ?? 0), paper.dpi)
}

/** A code on a cup may be a quarter of its diameter wide: beyond that its edges bend out of a scanner's view. */
const SHARE = 4

/**
 * @param widthMm of the code
 * @param cupsMm diameters of the shop's cups
 * @returns the smallest cup, where it is too small for that code; null where all are large enough or none is known
 */
export function tooSmallFor(widthMm: number, cupsMm: readonly number[]): number | null {
  const smallest = Math.min(...cupsMm)
  return Number.isFinite(smallest) && widthMm > smallest / SHARE ? smallest : null
}
