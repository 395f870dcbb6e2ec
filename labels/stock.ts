import { fields, number } from '../machines/accept.ts'

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

export type Dpi = 203 | 300
export const MARGIN_MM = 2

/** The dots that a length needs at the least. */
export const dotsFor = (mm: number, dpi: Dpi): number => Math.ceil((mm * dpi) / 25.4)
export const mmOf = (dots: number, dpi: Dpi): number => (dots * 25.4) / dpi
