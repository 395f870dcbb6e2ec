import type { Printer, PrintingSettings, PrintKind } from '../machines/contract/printing.ts'
import { isLabelSize, isSheetSize, laidOn } from './stock.ts'

const SHEET_KINDS: readonly PrintKind[] = ['job', 'commands']

/**
 * The printer that a kind of label or sheet goes to where none is named: the kiosk's own if its paper can carry
 * it, else the shop's first whose paper can.
 * @param device of the kiosk; null for none
 * @returns one whose paper is too small where no other is there; undefined where the shop has none
 */
export function printerFor(
  kind: PrintKind,
  { printers, byKiosk }: Pick<PrintingSettings, 'printers' | 'byKiosk'>,
  device: string | null,
): Printer | undefined {
  const isRight = SHEET_KINDS.includes(kind) ? isSheetSize : isLabelSize
  const fits = (paper: Printer) => isRight(laidOn(paper, isRight).stock)
  const wanted = byKiosk.find((one) => one.device === device)?.printer
  const own = printers.find((one) => one.printer === wanted)
  return own && fits(own) ? own : (printers.find(fits) ?? own ?? printers[0])
}
