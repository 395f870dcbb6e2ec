import { type CupLabel, warnsOfIsocyanate } from './cupLabel.ts'
import { PICTOGRAM_NAMES, type Pictogram } from './payload.ts'
import {
  type Box,
  drawRow,
  type Paper,
  rowHeight,
  rowOf,
  rowStep,
  sizes,
  type TextItem,
} from './row.ts'
import { dotsFor } from './stock.ts'
import { capitals, type Line, lineGap, PHRASE_DOT, type Word, wrap } from './text.ts'
import type { Words } from './words.ts'

export type PictogramItem = {
  readonly kind: 'pictogram'
  readonly picture: Pictogram
  readonly x: number
  readonly y: number
  readonly sizeDots: number
}

const LEAST_PICTOGRAM_MM = 5
const MOST_PICTOGRAM_MM = 10

/**
 * The hazard cue, which every label carries, since cups change hands: signal word, pictograms, words.
 * The isocyanate cue is never left out; `wordCount` says how many of the other words are printed.
 * @returns null where it does not fit
 */
export function hazardBlock(
  paper: Paper,
  box: Box,
  label: CupLabel,
  words: Words,
  wordCount: number,
): (TextItem | PictogramItem)[] | null {
  const pictures = PICTOGRAM_NAMES.filter((name) => label.hazard.pictograms.includes(name))
  const text = hazardWords(paper, label, words, wordCount)
  const gap = dotsFor(0.5, paper.dpi)
  const most = Math.round(MOST_PICTOGRAM_MM * Math.max(1, paper.scale) * (paper.dpi / 25.4))
  for (let side = most; side >= dotsFor(LEAST_PICTOGRAM_MM, paper.dpi); side -= 1) {
    const cluster = clusterOf(pictures, side, gap, box)
    if (cluster.bottom > box.bottom) continue
    const left = pictures.length > 0 ? cluster.right + 2 * gap : box.left
    const lines = wrap(text, box.right - left)
    const drawn = lines && drawLines(paper, lines, left, box)
    if (drawn) return [...cluster.items, ...drawn]
    if (pictures.length === 0) return null
  }
  return null
}

/** What the isocyanate cue says already, in either language and spelling; a skin sensitizer is another thing. */
const SAID_BY_CUE = /ISOC[YI]AN|RESPIRATORY SENSITI[SZ]|SENSIBILIZA\w* RESPIRATORI/

/** How many words of the sheet a hazard block could carry. */
export const sheetWords = (label: CupLabel): string[] =>
  label.hazard.words
    .map(capitals)
    .filter((word) => word !== '' && !(warnsOfIsocyanate(label) && SAID_BY_CUE.test(word)))

function hazardWords(paper: Paper, label: CupLabel, words: Words, wordCount: number): Word[] {
  const signal = sizes(paper, 2.6, 2).want
  const cap = sizes(paper, 2.1, 2).want
  const all = sheetWords(label)
  const kept = all.slice(0, wordCount)
  const phrases = [
    ...(label.hazard.signal === 'missing' ? [words.missing] : []),
    ...kept,
    ...(kept.length < all.length ? ['…'] : []),
    ...cues(label, words),
  ]
  // A dash never begins a line.
  const spoken = phrases.join(` ${PHRASE_DOT} `).split(/ (?!–)/)
  return [
    ...signalWord(label, words).map((text) => ({ text, capDots: signal })),
    ...spoken.filter((text) => text !== '').map((text) => ({ text, capDots: cap })),
  ]
}

function signalWord(label: CupLabel, words: Words): string[] {
  if (label.hazard.signal === 'danger') return [words.danger]
  return label.hazard.signal === 'warning' ? [words.warning] : []
}

/** A two-part mix always carries a cue: of isocyanate, or of the safety sheet where it has none. */
function cues(label: CupLabel, words: Words): string[] {
  if (warnsOfIsocyanate(label)) return [words.isocyanate]
  if (label.hasActivator) return [words.twoPart]
  return label.hazard.signal === 'none' ? [words.noSignal] : []
}

function drawLines(paper: Paper, lines: readonly Line[], left: number, box: Box) {
  const gap = Math.min(dotsFor(0.35, paper.dpi), paper.gap)
  const items: TextItem[] = []
  let top = box.top
  for (const line of lines) {
    const row = rowOf(placed(line, left))
    if (top + rowHeight(row) > box.bottom) return null
    items.push(...drawRow(row, top))
    top += rowStep(row, gap, paper.dpi)
  }
  return items
}

function placed(line: Line, left: number) {
  let x = left
  return line.map((run) => {
    const piece = { run, x }
    x += run.widthDots + lineGap(line)
    return piece
  })
}

/** Up to three diamonds: the third nests under the first two, as they taper. */
function clusterOf(pictures: readonly Pictogram[], side: number, gap: number, box: Box) {
  const step = side + gap
  const items = pictures.map(
    (picture, i): PictogramItem => ({
      kind: 'pictogram',
      picture,
      x: box.left + Math.round(i === 2 ? step / 2 : i * step),
      y: box.top + Math.round(i === 2 ? step / 2 : 0),
      sizeDots: side,
    }),
  )
  return {
    items,
    right: Math.max(box.left, ...items.map((item) => item.x + side)),
    bottom: Math.max(box.top, ...items.map((item) => item.y + side)),
  }
}
