import { advanceDots, inkDots, isDrawable } from './glyphs.ts'

/** A line of text at a size. Everything is in whole dots. */
export type Run = { readonly text: string; readonly capDots: number; readonly widthDots: number }

const ELLIPSIS = '…'

/**
 * Text from outside as a label prints it: capitals, which fill the height that was asked for,
 * single spaces, and a question mark for a sign that the font does not have.
 */
export function capitals(text: string): string {
  const plain = text
    .normalize('NFC')
    .replace(/[\s\p{C}]+/gu, ' ')
    .trim()
    .toUpperCase()
  return [...plain].map((sign) => (isDrawable(sign) ? sign : '?')).join('')
}

export const widthOf = (text: string, capDots: number): number =>
  [...text].reduce((sum, sign) => sum + advanceDots(sign, capDots), 0)

export const runOf = (text: string, capDots: number): Run => ({
  text,
  capDots,
  widthDots: widthOf(text, capDots),
})

export const heightOf = (run: Run): { above: number; below: number } =>
  inkDots(run.text, run.capDots)

/** The text at the largest size from `want` down to `least` that fits; null when none does. */
export function fitWhole(text: string, widthDots: number, want: number, least: number): Run | null {
  for (let cap = want; cap >= least; cap -= 1) {
    const run = runOf(text, cap)
    if (run.widthDots <= widthDots) return run
  }
  return null
}

/** As fitWhole, but what does not fit at the least size is cut short with an ellipsis. */
export function shortened(text: string, widthDots: number, want: number, least: number): Run {
  const whole = fitWhole(text, widthDots, want, least)
  if (whole) return whole
  const signs = [...text]
  // An ellipsis alone says nothing.
  while (signs.length > 1) {
    signs.pop()
    const run = runOf(signs.join('').replace(/[\s,.:;·–-]+$/, '') + ELLIPSIS, least)
    if (run.widthDots <= widthDots) return run
  }
  return runOf('', least)
}

/** A word with its own size, for lines that mix sizes. */
export type Word = { readonly text: string; readonly capDots: number }
export type Line = readonly Run[]

/**
 * Breaks words into lines, greedily; neighbors of one size become one run.
 * A dot between phrases never begins or ends a line.
 * @returns null when a single word is wider than a line
 */
export function wrap(words: readonly Word[], widthDots: number): Line[] | null {
  const lines: Run[][] = []
  let line: Run[] = []
  for (const word of words) {
    const longer = joined(line, word)
    if (lineWidth(longer) <= widthDots) line = longer
    else {
      lines.push(withoutDot(line))
      line = joined([], word)
      if (lineWidth(line) > widthDots) return null
    }
  }
  return [...lines, withoutDot(line)].filter((runs) => runs.length > 0)
}

export const PHRASE_DOT = '·'

function joined(line: readonly Run[], word: Word): Run[] {
  const last = line.at(-1)
  if (!last) return word.text === PHRASE_DOT ? [] : [runOf(word.text, word.capDots)]
  if (last.capDots !== word.capDots) return [...line, runOf(word.text, word.capDots)]
  return [...line.slice(0, -1), runOf(`${last.text} ${word.text}`, word.capDots)]
}

function withoutDot(line: readonly Run[]): Run[] {
  const last = line.at(-1)
  if (!last?.text.endsWith(PHRASE_DOT)) return [...line]
  return [...line.slice(0, -1), runOf(last.text.slice(0, -1).trimEnd(), last.capDots)]
}

/** Runs of different sizes on a line are two spaces of the smaller one apart. */
export const lineGap = (line: readonly Run[]): number =>
  Math.max(1, 2 * advanceDots(' ', Math.min(...line.map((run) => run.capDots))))

export const lineWidth = (line: readonly Run[]): number =>
  line.reduce((sum, run) => sum + run.widthDots, 0) +
  (line.length > 1 ? (line.length - 1) * lineGap(line) : 0)
