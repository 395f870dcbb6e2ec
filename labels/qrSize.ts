/**
 * Alphanumeric signs that versions 1, 2, 3 ... of a QR hold at error correction level M, and the side
 * of version n, 17 + 4 n modules (ISO/IEC 18004, from memory; the tests compare both with the symbols
 * that a general barcode library makes).
 */
const HELD_AT_M = [20, 38, 61, 90, 122, 154]

export const QR_LEVEL = 'M'
/** Modules that must stay white on each side (ISO/IEC 18004, from memory). */
export const QUIET_MODULES = 4

/**
 * The smallest QR for a text of upper-case alphanumeric signs.
 * @throws RangeError for a text that no label holds
 */
export function qrSize(text: string): { version: number; modules: number } {
  const version = HELD_AT_M.findIndex((held) => text.length <= held) + 1
  if (version === 0) {
    throw new RangeError(`a code of ${text.length} signs; a label holds ${HELD_AT_M.at(-1)}.`)
  }
  return { version, modules: 17 + 4 * version }
}
