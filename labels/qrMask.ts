/**
 * Which of its eight masks a QR is printed with; each is legal, and a reader takes any (ISO/IEC 18004). The
 * standard's own choice evens out dark and light. But a small code has one alignment pattern, and where a drop of
 * paint covers that, a reader may take for it what looks most like it nearby: it then reads the wrong modules,
 * which no error correction makes good. So the mask is taken in which the least looks like it.
 */

/** Of the symbol's area: the drop that labels are tested with. */
const DROP_SHARE = 0.05
/** How far around its place a reader looks for the pattern, in modules: zbar's figure. */
const REACH = 4
/** From so many modules of 25 that differ on, a place is taken for the pattern by none: zbar's 7, and one for an uneven picture. */
const UNLIKE = 8
/** With so many wrong at its own place the pattern may lose against another. */
const SPOILED = 5

/** Row by row: a dark square, a white ring, a dark middle. */
const PATTERN = 0b11111_10001_10101_10001_11111
/** Modules from the middle of the pattern to the last of its row and column. */
const TO_EDGE = 6

type IsSet = (x: number, y: number) => boolean

/** Offsets of a square around its middle, row by row. */
function around(reach: number): { readonly dx: number; readonly dy: number }[] {
  const side = 2 * reach + 1
  return Array.from({ length: side ** 2 }, (_, n) => ({
    dx: (n % side) - reach,
    dy: Math.floor(n / side) - reach,
  }))
}
const CELLS = around(2)
const PLACES = around(REACH)
const OWN = PLACES.findIndex(({ dx, dy }) => dx === 0 && dy === 0)

/** The 25 modules around a place, as bits. */
const bitsAround = (x: number, y: number, isSet: IsSet): number =>
  CELLS.reduce((bits, { dx, dy }, n) => (isSet(x + dx, y + dy) ? bits | (1 << n) : bits), 0)

/** Bits that are set, counted in pairs, fours and bytes at once. */
function countOf(bits: number): number {
  const pairs = bits - ((bits >>> 1) & 0x55555555)
  const fours = (pairs & 0x33333333) + ((pairs >>> 2) & 0x33333333)
  return Math.imul((fours + (fours >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24
}

/** What each drop covers of each place, for a side of so many modules. */
const covers = new Map<number, readonly (readonly number[])[]>()

/** Drops whose middle lies on the pattern or near it, a module apart. */
function coversOf(modules: number): readonly (readonly number[])[] {
  const known = covers.get(modules)
  if (known) return known
  const radius = Math.sqrt((DROP_SHARE * modules ** 2) / Math.PI)
  const isWet: IsSet = (x, y) => Math.hypot(x, y) <= radius
  const made = around(Math.floor(radius))
    .filter(({ dx, dy }) => isWet(dx, dy))
    .map((drop) => PLACES.map(({ dx, dy }) => bitsAround(dx - drop.dx, dy - drop.dy, isWet)))
  covers.set(modules, made)
  return made
}

/**
 * How much a drop of paint, dark or light, on the alignment pattern makes of what is near it.
 * @param modules on a side; a version with one such pattern has 25 to 41
 * @returns 0 where nothing comes to look like the pattern, wherever the drop lies
 */
export function likeness(modules: number, isDark: IsSet): number {
  const middle = modules - 1 - TO_EDGE
  const printed = PLACES.map(({ dx, dy }) => bitsAround(middle + dx, middle + dy, isDark))
  let sum = 0
  for (const covered of coversOf(modules)) {
    for (const paint of [0, ~0]) {
      let [own, nearest] = [0, UNLIKE]
      for (const [n, wet] of covered.entries()) {
        const seen = ((printed[n] ?? 0) & ~wet) | (paint & wet)
        const wrong = countOf(seen ^ PATTERN)
        if (n === OWN) own = wrong
        else nearest = Math.min(nearest, wrong)
      }
      // What is nearly taken for it in an even picture is taken for it in some.
      if (own >= SPOILED) sum += (UNLIKE - nearest) ** 2
    }
  }
  return sum
}

/** Whether each mask turns a module over, by its row and column (ISO/IEC 18004, table 10). */
const MASKS: readonly ((row: number, column: number) => boolean)[] = [
  (row, column) => (row + column) % 2 === 0,
  (row) => row % 2 === 0,
  (_, column) => column % 3 === 0,
  (row, column) => (row + column) % 3 === 0,
  (row, column) => (Math.floor(row / 2) + Math.floor(column / 3)) % 2 === 0,
  (row, column) => ((row * column) % 2) + ((row * column) % 3) === 0,
  (row, column) => (((row * column) % 2) + ((row * column) % 3)) % 2 === 0,
  (row, column) => (((row + column) % 2) + ((row * column) % 3)) % 2 === 0,
]

/**
 * The mask under which a code has the least likeness; of equal ones the first.
 * @param isDark the code under the first mask. Around the pattern all is data, which a mask turns over.
 * @returns 0 to 7, as the standard numbers them
 */
export function clearestMask(modules: number, isDark: IsSet): number {
  const middle = modules - 1 - TO_EDGE
  const isPattern = (x: number, y: number) =>
    Math.max(Math.abs(x - middle), Math.abs(y - middle)) <= 2
  const [first = () => false] = MASKS
  const alike = MASKS.map((turns) =>
    likeness(modules, (x, y) => {
      const isTurned = !isPattern(x, y) && turns(y, x) !== first(y, x)
      return isDark(x, y) !== isTurned
    }),
  )
  return alike.indexOf(Math.min(...alike))
}
