/**
 * Alphanumeric signs that versions 1, 2, 3 ... of a QR hold at the levels of error correction M, Q and H, and the
 * side of version n, 17 + 4 n modules (ISO/IEC 18004, from memory; the tests compare all with the symbols that a
 * general barcode library makes).
 */
const HELD = {
  M: [20, 38, 61, 90, 122, 154],
  Q: [16, 29, 47, 67, 87, 108],
  H: [10, 20, 35, 50, 64, 84],
} as const
const LEVELS = ['H', 'Q', 'M'] as const
export type QrLevel = (typeof LEVELS)[number]

/** Modules that must stay white on each side (ISO/IEC 18004, from memory). */
export const QUIET_MODULES = 4

/**
 * Codewords that a square Data Matrix of so many modules holds at error correction ECC 200 (ISO/IEC 16022,
 * from memory; the tests compare them with the symbols that a general barcode library makes).
 */
const MATRIX_HOLDS = [
  [10, 3],
  [12, 5],
  [14, 8],
  [16, 12],
  [18, 18],
  [20, 22],
  [22, 30],
  [24, 36],
  [26, 44],
  [32, 62],
  [36, 86],
  [40, 114],
  [44, 144],
] as const
/** One is asked for (ISO/IEC 16022); two spare a reader that looks at a curved cup. */
export const MATRIX_QUIET_MODULES = 2

/**
 * A Data Matrix that a text of ASCII signs surely fits: each sign counted as a codeword, as in the plainest of
 * its encodations.
 * @throws RangeError for a text that no label holds
 */
export function matrixModules(text: string): number {
  const found = MATRIX_HOLDS.find(([, held]) => text.length <= held)
  if (!found) throw new RangeError(`a code of ${text.length} signs; a label holds 144.`)
  return found[0]
}

/**
 * The smallest QR for a text of upper-case alphanumeric signs, with as much error correction as its size holds.
 * @param least level: M on a cup, where a wider code bends away; Q where there is room, as a drop of paint on a
 *   twentieth of a small code is more than M makes good
 * @throws RangeError for a text that no label holds
 */
export function qrSize(
  text: string,
  least: 'M' | 'Q' = 'M',
): { version: number; modules: number; level: QrLevel } {
  const held = HELD[least]
  const version = held.findIndex((most) => text.length <= most) + 1
  if (version === 0) {
    // What is too long for more is better than none.
    if (least === 'Q') return qrSize(text)
    throw new RangeError(`a code of ${text.length} signs; a label holds ${held.at(-1)}.`)
  }
  const level = LEVELS.find((one) => text.length <= (HELD[one][version - 1] ?? 0)) ?? least
  return { version, modules: 17 + 4 * version, level }
}
