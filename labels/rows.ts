import { type CupLabel, type HeadText, type LabelStyle, totalText } from './cupLabel.ts'
import { leftOut, PARTS_SHOWN, shownRatio } from './ratio.ts'
import { endingAt, type Paper, type Piece, type Row, rowOf, sizes } from './row.ts'
import { dotsFor } from './stock.ts'
import { capitals, fitWhole, heightOf, PHRASE_DOT, type Run, runOf, shortened } from './text.ts'
import type { Words } from './words.ts'

/**
 * The lines of a cup's label from top to bottom. Sizes are the height of capitals in mm: as wanted on
 * the usual stock, and the least (expiry digits 5, id and ratio 3, nothing under 1.75).
 */
const SMALLEST_MM = 1.75
/** At this height of capitals the small m of mL, 0.757 of it, reaches 1.75 mm too. */
const SMALL_M_MM = 2.32

/** USE BY 15:05 WED, and under the words when it was mixed. Null where it does not fit. */
export function headRow(paper: Paper, head: HeadText): Row | null {
  const big = runOf(head.big, sizes(paper, 6, 5).want)
  const under = runOf(head.under, sizes(paper, 1.9, SMALLEST_MM).want)
  const room = paper.right - paper.left - big.widthDots - 3 * paper.gap
  const leastTitle = runOf(head.title, dotsFor(SMALLEST_MM, paper.dpi))
  const block = Math.max(under.widthDots, leastTitle.widthDots)
  const tail = tailPieces(paper, head, big, room - block)
  if (!tail) return null
  const title = titleRun(paper, head.title, room - (paper.right - tail.left), big, under)
  if (!title) return null
  return rowOf([
    { run: title, x: paper.left, lift: titleLift(paper, title, big, under) },
    { run: under, x: paper.left },
    endingAt(tail.pieces.length > 0 ? tail.left - paper.gap : paper.right, big),
    ...tail.pieces,
  ])
}

/** The day after the digits, in one line or in two. */
function tailPieces(paper: Paper, head: HeadText, big: Run, room: number) {
  const least = sizes(paper, 2, 2).least
  const fits = (text: string, want: number) => fitWhole(text, room, Math.max(want, least), least)
  if (head.extra === '') {
    const day = fits(head.tail, Math.round(big.capDots * 0.8))
    if (!day) return null
    const end = endingAt(paper.right, day)
    return { left: end.x, pieces: day.text === '' ? [] : [end] }
  }
  const half = Math.floor((big.capDots - paper.gap) / 2)
  const day = fits(head.tail, half)
  const extra = fits(head.extra, half)
  if (!day || !extra) return null
  const left = paper.right - Math.max(day.widthDots, extra.widthDots)
  const clear = heightOf(extra).above + heightOf(day).below + Math.ceil(paper.gap / 2)
  const lift = Math.max(big.capDots - heightOf(day).above, clear)
  return {
    left,
    pieces: [
      { run: day, x: left, lift },
      { run: extra, x: left },
    ],
  }
}

/** As large as fits beside the digits above the line of the mix; it may shrink for a longer word. */
function titleRun(paper: Paper, text: string, room: number, big: Run, under: Run): Run | null {
  const least = sizes(paper, SMALLEST_MM, SMALLEST_MM).least
  const free = big.capDots - underRoom(paper, under)
  return fitWhole(text, room, Math.max(least, free), least)
}

/** From the base line of the row to that of the title above the line of the mix. */
const underRoom = (paper: Paper, under: Run) =>
  heightOf(under).above + Math.max(2, Math.ceil(paper.gap / 2))

/** The title's capitals end level with the large digits, unless the line below needs it higher. */
const titleLift = (paper: Paper, title: Run, big: Run, under: Run): number =>
  Math.max(big.capDots - title.capDots, underRoom(paper, under) + heightOf(title).below)

/** Product, color code, COPY n. A long product name is shortened; the other two never quite. */
export function productRow(paper: Paper, label: CupLabel, words: Words): Row {
  const { want, least } = sizes(paper, 2.4, SMALLEST_MM)
  const space = 2 * paper.gap
  const copy = runOf(label.copy > 0 ? `${words.copy} ${label.copy}` : '', least)
  const end = copy.text === '' ? paper.right : paper.right - copy.widthDots - space
  const room = end - paper.left
  const colour = shortened(capitals(label.colourCode ?? ''), Math.floor(room * 0.45), want, least)
  const taken = colour.text === '' ? 0 : colour.widthDots + space
  const product = shortened(capitals(label.product), room - taken, want, least)
  return rowOf([
    { run: product, x: paper.left },
    { run: colour, x: paper.left + product.widthDots + space },
    endingAt(paper.right, copy),
  ])
}

/** Ratio with its basis, and the cup's id. Null where it does not fit whole. */
export function mixRow(paper: Paper, label: CupLabel, words: Words, mayCut: boolean): Row | null {
  const size = sizes(paper, 3.5, 3)
  const id = runOf(label.cup, size.want)
  const small = sizes(paper, 2, SMALLEST_MM).want
  const room = paper.right - paper.left - id.widthDots - 3 * paper.gap
  const row = (ratio: Run, basis: Run) =>
    rowOf([
      { run: ratio, x: paper.left },
      { run: basis, x: paper.left + ratio.widthDots + paper.gap },
      endingAt(paper.right, id),
    ])
  for (const most of PARTS_SHOWN) {
    const shown = shownRatio(label.ratio, most)
    const basis = runOf(`${leftOut(shown, words.more)} ${words[label.by]}`.trim(), small)
    const ratio = fitWhole(capitals(shown.text), room - basis.widthDots, size.want, size.least)
    if (ratio) return row(ratio, basis)
  }
  const basis = runOf(words[label.by], small)
  const whole = capitals(shownRatio(label.ratio).text)
  const cut = mayCut ? shortened(whole, room - basis.widthDots, size.least, size.least) : null
  return cut && cut.text !== '' ? row(cut, basis) : null
}

/** How much, and the first of the notes that fits. Null where none does. */
export function amountRow(
  paper: Paper,
  label: CupLabel,
  notes: readonly string[],
  style: LabelStyle,
): Row | null {
  const total = runOf(totalText(label.totalMl, style), sizes(paper, 2.4, SMALL_M_MM).want)
  const start = paper.left + total.widthDots + 2 * paper.gap
  const { want, least } = sizes(paper, 2, SMALLEST_MM)
  for (const note of notes) {
    const run = fitWhole(note, paper.right - start, want, least)
    if (run)
      return rowOf([
        { run: total, x: paper.left },
        { run, x: start },
      ])
  }
  return null
}

/** Of a cup's id: enough to find it, as the beginning of an id may be typed. */
const PREFIX = 3

/** Job or stock, the cups that it was poured from or else the panel, who mixed. */
export function placeRow(paper: Paper, label: CupLabel, words: Words): Row {
  const { want, least } = sizes(paper, 2, SMALLEST_MM)
  const space = 2 * paper.gap
  const width = paper.right - paper.left
  // Without a pot life it says to stir, where nothing larger does.
  const isKept = label.useByMs === null && label.keepUntilMs !== null
  const stir = isKept ? ` ${PHRASE_DOT} ${words.stir}` : ''
  const where = `${label.job ?? words.stock}${stir}`
  const job = fitWhole(where, width, want, least) ?? runOf(where, least)
  const who = capitals(label.mixedBy ?? '')
  const parents = label.parents ?? []
  const byRoom = Math.min(Math.floor(width * 0.35), width - job.widthDots - space)
  const by = shortened(who && `${words.by} ${who}`, byRoom, want, least)
  const start = paper.left + job.widthDots + space
  const panel = shortened(
    capitals(
      parents.length > 0
        ? `${words.from} ${parents.map((id) => id.slice(0, PREFIX)).join('+')}`
        : (label.panel ?? ''),
    ),
    paper.right - start - (by.text === '' ? 0 : by.widthDots + space),
    want,
    least,
  )
  const pieces: Piece[] = [
    { run: job, x: paper.left },
    { run: panel, x: start },
  ]
  return rowOf([...pieces, endingAt(paper.right, by)])
}
