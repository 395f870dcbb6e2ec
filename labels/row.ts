import { type Dpi, dotsFor } from './stock.ts'
import { heightOf, type Run } from './text.ts'

/** What a layout draws. Whole dots; x to the right, y down. */
export type TextItem = Run & {
  readonly kind: 'text'
  readonly x: number
  /** The base line of capitals. */
  readonly baseline: number
}

export type Box = {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

/** The printable part of a label, and how much larger than its usual text everything is set. */
export type Paper = Box & { readonly dpi: Dpi; readonly scale: number; readonly gap: number }

/** The dots of a text size in mm: as wanted at this scale, but never under the least. */
export function sizes(paper: Paper, wantMm: number, leastMm: number) {
  const least = dotsFor(leastMm, paper.dpi)
  return { want: Math.max(least, Math.round((wantMm * paper.scale * paper.dpi) / 25.4)), least }
}

/** A run in a row: where it begins, and how far it is above the row's base line. */
export type Piece = { readonly run: Run; readonly x: number; readonly lift?: number }
export type Row = {
  readonly pieces: readonly Piece[]
  readonly above: number
  readonly below: number
}

export function rowOf(pieces: readonly Piece[]): Row {
  const shown = pieces.filter((piece) => piece.run.text !== '')
  const heights = shown.map((piece) => ({ ...heightOf(piece.run), lift: piece.lift ?? 0 }))
  return {
    pieces: shown,
    above: Math.max(0, ...heights.map((h) => h.above + h.lift)),
    below: Math.max(0, ...heights.map((h) => h.below - h.lift)),
  }
}

export const rowHeight = (row: Row): number => row.above + row.below

/** White dots that always stay between the ink of two rows. */
const CLEAR_MM = 0.12

/** From the top of a row to the top of the next: what hangs below the line may use up the gap. */
export const rowStep = (row: Row, gap: number, dpi: Dpi): number =>
  row.above + Math.max(gap, row.below + dotsFor(CLEAR_MM, dpi))

export const drawRow = (row: Row, top: number): TextItem[] =>
  row.pieces.map(({ run, x, lift = 0 }) => ({
    ...run,
    kind: 'text',
    x,
    baseline: top + row.above - lift,
  }))

/** Ends with its right edge at x. */
export const endingAt = (x: number, run: Run): Piece => ({ run, x: x - run.widthDots })
