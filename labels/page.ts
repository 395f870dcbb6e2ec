import { addressBefore } from './payload.ts'
import {
  MATRIX_QUIET_MODULES,
  matrixModules,
  type QrLevel,
  QUIET_MODULES,
  qrSize,
} from './qrSize.ts'
import type { Box } from './row.ts'
import { type Dpi, dotsFor, MARGIN_MM, type Stock } from './stock.ts'

export type QrItem = {
  readonly kind: 'qr'
  /** Upper left corner of the symbol; its quiet zone lies outside. */
  readonly x: number
  readonly y: number
  readonly version: number
  /** Of a QR. */
  readonly level?: QrLevel
  readonly modules: number
  readonly moduleDots: number
  readonly payload: string
  /** A QR without it. */
  readonly symbology?: 'datamatrix'
}

export type LabelPaper = {
  readonly stock: Stock
  readonly dpi: Dpi
  /** For shops whose scanners read it, and small stock; a QR without it. */
  readonly symbology?: 'datamatrix'
  /** Of the kiosk, before the text of a QR: a phone's own camera then opens it there. */
  readonly site?: string
}

/**
 * What the code on a paper says: the address before it stands in a QR alone, as no phone opens the others, and
 * bars would outgrow their sheet.
 */
export const onPaper = (
  code: string,
  { site, symbology }: { readonly site?: string; readonly symbology?: string },
): string => (site === undefined || symbology ? code : addressBefore(site) + code)

/** Half a millimeter is 4 dots at 203 dpi. A module is always a whole number of dots. */
const MODULE_MM = 0.5
/** The floor: 3 dots at 203 dpi. At 300 dpi 3 dots would be 0.25 mm, which a blot soon makes unreadable. */
const LEAST_MODULE_MM = 0.375
const LEAST_MODULE_DOTS = 3

/** Sizes of a module to try, in dots, from the full one down. */
export function moduleSizes(dpi: Dpi): number[] {
  const full = Math.round((MODULE_MM * dpi) / 25.4)
  const least = Math.max(LEAST_MODULE_DOTS, Math.floor((LEAST_MODULE_MM * dpi) / 25.4))
  return Array.from({ length: full - least + 1 }, (_, i) => full - i)
}

export type Page = Box &
  Pick<LabelPaper, 'dpi' | 'symbology'> & { readonly width: number; readonly height: number }

export function pageOf({ stock, dpi, symbology }: LabelPaper): Page {
  const width = Math.floor((stock.widthMm * dpi) / 25.4)
  const height = Math.floor((stock.heightMm * dpi) / 25.4)
  const margin = dotsFor(MARGIN_MM, dpi)
  return {
    dpi,
    ...(symbology ? { symbology } : {}),
    width,
    height,
    left: margin,
    top: margin,
    right: width - margin,
    bottom: height - margin,
  }
}

/** White that belongs to the code on each side, in dots. */
export const quietDots = ({ symbology }: Pick<Page, 'symbology'>, moduleDots: number): number =>
  (symbology ? MATRIX_QUIET_MODULES : QUIET_MODULES) * moduleDots

/** The QR is in the lower right corner; its quiet zone may use the margin, which is white too. */
export function qrItem(
  page: Page,
  payload: string,
  moduleDots: number,
  least: 'M' | 'Q' = 'M',
): QrItem {
  const { symbology } = page
  const size = symbology ? { version: 0, modules: matrixModules(payload) } : qrSize(payload, least)
  const side = size.modules * moduleDots
  const quiet = quietDots(page, moduleDots)
  return {
    kind: 'qr',
    ...(symbology ? { symbology } : {}),
    x: Math.min(page.right, page.width - quiet) - side,
    y: Math.min(page.bottom, page.height - quiet) - side,
    ...size,
    moduleDots,
    payload,
  }
}
