import { parseRatio } from '../machines/trade/ratio.ts'

/** A ratio on a label: whole where it is short, else cut by a rule. A mix is never left without its label. */

/** The longest ratio that the code carries: seven parts of a digit, or four with a decimal. */
const RATIO_MOST = 16
/** What the code carries instead of a longer one: the ratio is on the sheet. */
export const RATIO_ON_SHEET = '0'
/** How many parts of a longer ratio are printed, and how few where there is no room for so many. */
export const PARTS_SHOWN = [3, 2, 1] as const

const packed = (ratio: string): string => ratio.replace(/\s/g, '')

const isShort = (ratio: string): boolean => ratio.length <= RATIO_MOST && parseRatio(ratio) !== null

/** The ratio as the code carries it, or RATIO_ON_SHEET. */
export function ratioCode(ratio: string): string {
  const own = packed(ratio)
  return isShort(own) ? own : RATIO_ON_SHEET
}

export type ShownRatio = {
  /** Such as "2:1:0.5"; a figure of a long one has three digits that count. */
  readonly text: string
  /** How many parts are left out. */
  readonly left: number
}

/**
 * The ratio as it is printed.
 * @param most how many parts of a long one are printed
 */
export function shownRatio(ratio: string, most: number = PARTS_SHOWN[0]): ShownRatio {
  const own = packed(ratio)
  if (isShort(own)) return { text: own, left: 0 }
  // An addition in per cent is a part too and keeps its sign.
  const parts = own.split(/:|(?=\+)/)
  const shown = parts.slice(0, most).map(inThreeDigits)
  const text = shown.reduce((sum, part) => (part.startsWith('+') ? sum + part : `${sum}:${part}`))
  return { text, left: parts.length - shown.length }
}

/** What follows a ratio that was cut, such as "+ 9 MORE"; nothing after a whole one. */
export const leftOut = ({ left }: ShownRatio, more: string): string =>
  left > 0 ? `+ ${left} ${more}` : ''

/** The ratio in one line, as it is copied by hand: "4:1:0.5 + 9 MORE". */
export function ratioText(ratio: string, more: string): string {
  const shown = shownRatio(ratio)
  return `${shown.text} ${leftOut(shown, more)}`.trim()
}

const inThreeDigits = (part: string): string =>
  part.replace(/\d*\.?\d+(?:e-?\d+)?/, (figure) => String(Number(Number(figure).toPrecision(3))))
