import type { LabelLayout } from './layout.ts'
import { QUIET_MODULES, qrSize } from './qrSize.ts'
import type { Dpi } from './stock.ts'

/** A square code alone, with the white around it that a scanner needs. Its words are printed beside it. */

/** Read from an arm's length on a wall. */
const MODULE_MM = 1

/**
 * @param payload of upper-case alphanumeric signs
 * @throws RangeError for a text that no label holds
 */
export function layoutCodeTile(payload: string, dpi: Dpi): LabelLayout {
  const moduleDots = Math.round((MODULE_MM * dpi) / 25.4)
  const { version, modules, level } = qrSize(payload, 'Q')
  const quiet = QUIET_MODULES * moduleDots
  const side = modules * moduleDots + 2 * quiet
  const qr = {
    kind: 'qr' as const,
    x: quiet,
    y: quiet,
    version,
    level,
    modules,
    moduleDots,
    payload,
  }
  return { dpi, widthDots: side, heightDots: side, items: [qr], payload }
}
