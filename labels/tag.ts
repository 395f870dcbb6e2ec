import {
  type LabelPaper,
  onPaper,
  type Page,
  pageOf,
  type QrItem,
  qrItem,
  quietDots,
} from './page.ts'
import {
  drawRow,
  type Paper,
  type Row,
  rowHeight,
  rowOf,
  rowStep,
  sizes,
  type TextItem,
} from './row.ts'
import { dotsFor, type Stock } from './stock.ts'
import { capitals, fitWhole, type Run, shortened, type Word, widthOf, wrap } from './text.ts'

/** What a tag says: a title, what is typed where nothing can scan, and small lines. */
export type Tag = {
  readonly payload: string
  readonly title: string
  readonly id: string
  readonly lines: readonly string[]
}

const SMALLEST_MM = 1.75
/** A tag hangs on a flat part and its code is short: larger modules read from further away. */
const TAG_MODULE_MM = 0.75
/** Of the width, beside the code. */
const TEXT_SHARE = 0.4

/**
 * The rows of a tag and the code beside them, whose modules shrink, down to three dots, while it would be in
 * the title's way.
 * @throws RangeError where a stock is too small for it
 */
export function tagItems(
  tag: Tag,
  paper: LabelPaper,
): { payload: string; items: (TextItem | QrItem)[] } {
  const page = pageOf(paper)
  const scale = scaleOf(paper.stock)
  const wide: Paper = { ...page, scale, gap: Math.round((scale * paper.dpi) / 25.4) }
  const title = line(wide, capitals(tag.title), 4.5, 2.5)
  // A tag without the address is better than none.
  for (const payload of new Set([onPaper(tag.payload, paper), tag.payload])) {
    const most = Math.round((TAG_MODULE_MM * paper.dpi) / 25.4)
    for (let moduleDots = most; moduleDots >= LEAST_DOTS; moduleDots -= 1) {
      const items = arranged(tag, { payload, page, wide, title, moduleDots })
      if (items) return { payload, items }
    }
  }
  const { widthMm, heightMm } = paper.stock
  throw new RangeError(`stock: ${widthMm} x ${heightMm} mm is too small. Use 57 x 32 mm or larger.`)
}

const LEAST_DOTS = 3

type Attempt = {
  readonly payload: string
  readonly page: Page
  readonly wide: Paper
  readonly title: Row
  readonly moduleDots: number
}

function arranged(tag: Tag, { payload, page, wide, title, moduleDots }: Attempt) {
  const qr = qrItem(page, payload, moduleDots, 'Q')
  const quiet = quietDots(page, moduleDots)
  const narrow: Paper = { ...wide, right: qr.x - quiet }
  const isClear = page.top + rowHeight(title) <= qr.y - quiet
  const hasRoom = narrow.right - narrow.left >= TEXT_SHARE * page.width
  if (!isClear || !hasRoom) return null
  const items: (TextItem | QrItem)[] = [qr]
  let top = page.top
  for (const row of [title, ...tagRows(tag, narrow)]) {
    items.push(...drawRow(row, top))
    top += rowStep(row, wide.gap, page.dpi)
  }
  return top - wide.gap <= page.bottom ? items : null
}

/** In proportion to the usual cup label, 57 by 32 mm. */
const scaleOf = (stock: Stock) => Math.min(stock.widthMm / 57, stock.heightMm / 32)

function line(paper: Paper, text: string, wantMm: number, leastMm: number): Row {
  const { want, least } = sizes(paper, wantMm, leastMm)
  return at(paper, shortened(text, paper.right - paper.left, want, least))
}

const LINES_MOST = 3

/** A text in one line if it fits at its least size, else in a few of that size: a lot is copied from there by hand. */
function lines(paper: Paper, text: string, wantMm: number): Row[] {
  const { want, least } = sizes(paper, wantMm, SMALLEST_MM)
  const width = paper.right - paper.left
  const whole = fitWhole(text, width, want, least)
  if (whole) return [at(paper, whole)]
  const words = text.split(' ').flatMap((word) => pieces(word, width, least))
  const runs = (wrap(words, width) ?? []).flat()
  const [kept, rest] = [runs.slice(0, LINES_MOST - 1), runs.slice(LINES_MOST - 1)]
  const last = shortened(rest.map((run) => run.text).join(' '), width, least, least)
  return [...kept, last].map((run) => at(paper, run))
}

/** A word cut where it is wider than a line. */
function pieces(word: string, width: number, capDots: number): Word[] {
  const cut: string[] = ['']
  for (const sign of word) {
    const longer = `${cut.at(-1)}${sign}`
    if (widthOf(longer, capDots) <= width) cut[cut.length - 1] = longer
    else cut.push(sign)
  }
  return cut.map((text) => ({ text, capDots }))
}

function tagRows(tag: Tag, narrow: Paper): Row[] {
  const { dpi } = narrow
  const id = shortened(
    tag.id,
    narrow.right - narrow.left,
    dotsFor(4, dpi),
    dotsFor(SMALLEST_MM, dpi),
  )
  const [first = '', ...others] = tag.lines
  return [
    ...(tag.id === '' ? [] : [at(narrow, id)]),
    ...lines(narrow, capitals(first), 2.5),
    ...others.flatMap((text) => lines(narrow, capitals(text), 2.2)),
  ]
}

const at = (paper: Paper, run: Run): Row => rowOf([{ run, x: paper.left }])
