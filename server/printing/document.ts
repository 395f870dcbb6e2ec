import type { LabelLayout } from '../../labels/layout.ts'
import type { Printer } from '../../machines/contract/printing.ts'
import { labels } from '../labelThread.ts'
import { PDF, PWG_RASTER, rasterTypeOf, sizeOf, timesFor } from './about.ts'
import { type IppMessage, textsIn } from './ippMessage.ts'
import { type Document, PrinterError } from './ippPrinter.ts'

/**
 * Layouts in the form that a printer was set up for, a page each.
 * @param about what the printer says of itself now
 * @throws PrinterError where it does not take that form any more
 */
export async function documentOf(
  layouts: readonly LabelLayout[],
  printer: Printer,
  about: IppMessage,
): Promise<Document> {
  const formats = textsIn(about, 'printer', 'document-format-supported')
  const format = printer.document === 'pdf' ? PDF : PWG_RASTER
  if (!formats.includes(format)) throw new PrinterError({ code: 'noFormat', params: { formats } })
  if (printer.document === 'pdf') {
    return { format, bytes: await labels.pdf(layouts) }
  }
  const [times, type] = [timesFor(printer.dpi, about), rasterTypeOf(about)]
  if (times === null || type === null) {
    throw new PrinterError({ code: 'noResolution', params: { resolutions: [] } })
  }
  const mediaName = printer.media !== undefined && sizeOf(printer.media) ? printer.media : ''
  return { format, bytes: await labels.raster(layouts, { type, times, mediaName }) }
}
