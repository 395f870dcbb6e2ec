import { check, fields, number } from '../machines/accept.ts'

export type Stock = { readonly widthMm: number; readonly heightMm: number }

/** Label stock kept by name. Continuous tape is cut at the height given. */
export const STOCKS = {
  '57x32': { widthMm: 57, heightMm: 32 },
  '62x40': { widthMm: 62, heightMm: 40 },
} as const satisfies { readonly [name: string]: Stock }

/** Any other stock: large enough for everything that a label must say, up to a printer's width. */
export const stockSchema = fields({
  widthMm: number(57, 110, 'mm'),
  heightMm: number(32, 160, 'mm'),
})

/** A paper the other way round. */
export const turnedStock = ({ widthMm, heightMm }: Stock): Stock => ({
  widthMm: heightMm,
  heightMm: widthMm,
})

/**
 * How a thing lies on a paper: as it is, or turned where it fits only so, as on a narrow roll that comes out end first.
 * @param fits whether a stock can carry the thing
 */
export const laidOn = (stock: Stock, fits: (stock: Stock) => boolean) =>
  !fits(stock) && fits(turnedStock(stock))
    ? { stock: turnedStock(stock), isTurned: true }
    : { stock, isTurned: false }

/** Whether everything that a label must say has room on a stock. */
export const isLabelSize = ({ widthMm, heightMm }: Stock): boolean =>
  check(stockSchema, { widthMm, heightMm }).ok

/** A little less than 4 by 6 inches: printers round it. */
const LEAST_SHEET = { widthMm: 100, heightMm: 145 }
export const isSheetSize = ({ widthMm, heightMm }: Stock): boolean =>
  widthMm >= LEAST_SHEET.widthMm && heightMm >= LEAST_SHEET.heightMm

export type Dpi = 203 | 300
export const MARGIN_MM = 2

/** The dots that a length needs at the least. */
export const dotsFor = (mm: number, dpi: Dpi): number => Math.ceil((mm * dpi) / 25.4)
export const mmOf = (dots: number, dpi: Dpi): number => (dots * 25.4) / dpi
