import type { BarsItem } from './layout.ts'
import type { QrItem } from './page.ts'
import { MATRIX_QUIET_MODULES, matrixModules, QUIET_MODULES, qrSize } from './qrSize.ts'
import { type Dpi, dotsFor, isSheetSize, type Stock } from './stock.ts'

/** Codes on a flat sheet, each with the white round it, and the sheet's own measures. */

/** Bars only here: round a cup no scanner follows them. */
export type FlatCode = 'datamatrix' | 'code128'
export type FlatPaper = {
  readonly stock: Stock
  readonly dpi: Dpi
  /** A QR without it. */
  readonly symbology?: FlatCode
  /** Of the kiosk, before the text of a QR. */
  readonly site?: string
}

/** Usual sheets, by name. */
export const SHEETS = {
  '4x6': { widthMm: 101.6, heightMm: 152.4 },
  A4: { widthMm: 210, heightMm: 297 },
  letter: { widthMm: 215.9, heightMm: 279.4 },
} as const satisfies { readonly [name: string]: Stock }

/** What an office printer cannot reach; label printers reach further. */
const MARGIN_MM = { label: 3, office: 8 }
const OFFICE_FROM_MM = 150

export type Sheet = FlatPaper & {
  readonly widthDots: number
  readonly heightDots: number
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

/** @throws RangeError for a paper smaller than 4 by 6 inches */
export function sheetOf(paper: FlatPaper): Sheet {
  const { stock, dpi } = paper
  const { widthMm, heightMm } = stock
  if (!isSheetSize(stock)) {
    throw new RangeError(
      `stock: ${widthMm} x ${heightMm} mm is too small for a sheet. Use 102 x 152 mm or larger.`,
    )
  }
  const widthDots = Math.floor((widthMm * dpi) / 25.4)
  const heightDots = Math.floor((heightMm * dpi) / 25.4)
  const margin = dotsFor(widthMm < OFFICE_FROM_MM ? MARGIN_MM.label : MARGIN_MM.office, dpi)
  return {
    ...paper,
    ...{ widthDots, heightDots, left: margin, top: margin },
    right: widthDots - margin,
    bottom: heightDots - margin,
  }
}

const MODULE_MM = 0.5
const BAR_MM = 0.25
const BARS_HIGH_MM = 9
/** GS1 General Specifications 5.4.4: ten modules left and right. */
const BAR_QUIET_MODULES = 10

/** A code with its white: how large it is, and how its item is placed in that. */
export type CodeSize = {
  readonly widthDots: number
  readonly heightDots: number
  readonly item: QrItem | BarsItem
}

export function codeSize({ dpi, symbology }: FlatPaper, payload: string): CodeSize {
  if (symbology === 'code128') return barsSize(dpi, payload)
  const moduleDots = Math.round((MODULE_MM * dpi) / 25.4)
  const size = symbology ? { version: 0, modules: matrixModules(payload) } : qrSize(payload, 'Q')
  const quiet = (symbology ? MATRIX_QUIET_MODULES : QUIET_MODULES) * moduleDots
  const side = size.modules * moduleDots + 2 * quiet
  const square = { kind: 'qr' as const, x: quiet, y: quiet, ...size, moduleDots, payload }
  const item = symbology ? { ...square, symbology } : square
  return { widthDots: side, heightDots: side, item }
}

/**
 * Modules of a Code 128 of a text, at most: eleven for the start, each sign and the check sign, thirteen for
 * the stop (ISO/IEC 15417). Pairs of digits need fewer.
 */
export const barsModules = (text: string): number => 11 * (text.length + 2) + 13

function barsSize(dpi: Dpi, payload: string): CodeSize {
  const moduleDots = Math.max(2, Math.round((BAR_MM * dpi) / 25.4))
  const modules = barsModules(payload)
  const quiet = BAR_QUIET_MODULES * moduleDots
  const heightDots = dotsFor(BARS_HIGH_MM, dpi)
  const y = dotsFor(1, dpi)
  const item = { kind: 'bars' as const, x: quiet, y, modules, moduleDots, heightDots, payload }
  return { widthDots: modules * moduleDots + 2 * quiet, heightDots: heightDots + 2 * y, item }
}

/** With the upper left corner of its white there. */
export const placeCode = ({ item }: CodeSize, x: number, y: number): QrItem | BarsItem => ({
  ...item,
  x: item.x + x,
  y: item.y + y,
})
