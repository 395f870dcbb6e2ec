import { type CupLabel, codeOf, headText, type LabelStyle, plainLabel } from './cupLabel.ts'
import { hazardBlock, type PictogramItem, sheetWords } from './hazardBlock.ts'
import {
  type LabelPaper,
  moduleSizes,
  onPaper,
  type Page,
  pageOf,
  type QrItem,
  qrItem,
  quietDots,
} from './page.ts'
import { type PanelTag, panelTag } from './panelTag.ts'
import { encodeCupCode } from './payload.ts'
import {
  type Box,
  drawRow,
  type Paper,
  type Row,
  rowHeight,
  rowStep,
  type TextItem,
} from './row.ts'
import { amountRow, headRow, mixRow, placeRow, productRow } from './rows.ts'
import { type Dpi, dotsFor, mmOf, type Stock } from './stock.ts'
import { type Tag, tagItems } from './tag.ts'
import { plainWords, wordsOf } from './words.ts'

export { printerFor } from './choosePrinter.ts'
export type { CupLabel, LabelStyle } from './cupLabel.ts'
export { cupCodeWidthMm, tooSmallFor } from './cupWidth.ts'
export { type Hazard, hazardOf } from './hazard.ts'
export type { PictogramItem } from './hazardBlock.ts'
export type { LabelPaper, QrItem } from './page.ts'
export type { PanelTag } from './panelTag.ts'
export { PICTOGRAM_PATHS, PICTOGRAM_UNITS } from './pictograms.ts'
export type { TextItem } from './row.ts'
export { type Dpi, isLabelSize, STOCKS, type Stock, stockSchema } from './stock.ts'

/** A black bar: the ticks of a ruler, a line between rows. */
export type RuleItem = {
  readonly kind: 'rule'
  readonly x: number
  readonly y: number
  readonly widthDots: number
  readonly heightDots: number
}

/** A code of bars, for flat sheets: round a cup it cannot be read. */
export type BarsItem = {
  readonly kind: 'bars'
  readonly x: number
  readonly y: number
  /** Of the widest bars that its text can come to. */
  readonly modules: number
  readonly moduleDots: number
  readonly heightDots: number
  readonly payload: string
}
export type SymbolItem = QrItem | BarsItem

export type DrawItem = TextItem | PictogramItem | RuleItem | SymbolItem

/** A label as a list of things to draw, all in whole dots of the printer. */
export type LabelLayout = {
  readonly dpi: Dpi
  readonly widthDots: number
  readonly heightDots: number
  readonly items: readonly DrawItem[]
  readonly payload: string
  /** It comes out of its printer on its side, a quarter turn clockwise: its roll is narrower than the label is wide. */
  readonly isTurned?: true
}

const SCALE_STEP = 0.05
const LEAST_SCALE = 0.5
/** The stock that the sizes in rows.ts are thought for. */
const USUAL = { widthMm: 57, heightMm: 32 }

/**
 * The content of a cup's label as drawing items.
 *
 * Everything is set as large as fits. What must be read whole (time, ratio, id, hazard) never goes
 * under its least size; names are shortened with an ellipsis. The QR keeps its full module
 * while the rest fits, then shrinks down to 3 dots; only then are words of the sheet left out.
 * @param label what to print
 * @param paper stock in mm and the printer's dots per inch
 * @param style language, time zone, units of the shop
 * @throws RangeError naming the field for what no label can say, or a stock that is too small
 */
export function layoutCupLabel(label: CupLabel, paper: LabelPaper, style: LabelStyle): LabelLayout {
  const code = encodeCupCode(codeOf(label))
  // A label without the address is better than none.
  const layout =
    laidOut(label, paper, style, onPaper(code, paper)) ?? laidOut(label, paper, style, code)
  if (layout) return layout
  const { widthMm, heightMm } = paper.stock
  throw new RangeError(
    `stock: ${widthMm} x ${heightMm} mm is too small. Use ${USUAL.widthMm} x ${USUAL.heightMm} mm or larger.`,
  )
}

function laidOut(
  label: CupLabel,
  paper: LabelPaper,
  style: LabelStyle,
  payload: string,
): LabelLayout | null {
  const page = pageOf(paper)
  for (const give of gives(label, paper.dpi)) {
    const said = give.isPlain ? plainLabel(label) : label
    const items = largest(paper.stock, (scale) =>
      arrange(said, style, { page, payload, scale, give }),
    )
    if (items)
      return { dpi: paper.dpi, widthDots: page.width, heightDots: page.height, items, payload }
  }
  return null
}

/** What may be made smaller, shorter or left out so that a label fits. */
type Give = {
  readonly moduleDots: number
  readonly wordCount: number
  /** The last resort: plain names; and at the smallest scale a shorter note and a ratio cut short. */
  readonly isPlain: boolean
}

function* gives(label: CupLabel, dpi: Dpi): Generator<Give> {
  for (const isPlain of [false, true]) {
    for (let wordCount = sheetWords(label).length; wordCount >= 0; wordCount -= 1) {
      for (const moduleDots of moduleSizes(dpi)) {
        yield { moduleDots, wordCount, isPlain }
      }
    }
  }
}

/** The largest scale of text that fits, tried downwards; what does not fit small is not tried large. */
function largest(stock: Stock, at: (scale: number) => DrawItem[] | null): DrawItem[] | null {
  const small = at(LEAST_SCALE)
  if (!small) return null
  const most = 1.3 * Math.min(stock.widthMm / USUAL.widthMm, stock.heightMm / USUAL.heightMm)
  for (let scale = most; scale > LEAST_SCALE; scale -= SCALE_STEP) {
    const items = at(scale)
    if (items) return items
  }
  return small
}

/** White between rows: in proportion to the text, and only a hairline in the last resort. */
const gapDots = (dpi: Dpi, scale: number, give: Give): number =>
  give.isPlain
    ? dotsFor(0.25, dpi)
    : Math.max(dotsFor(0.4, dpi), Math.round((0.8 * scale * dpi) / 25.4))

type Attempt = {
  readonly page: Page
  readonly payload: string
  readonly scale: number
  readonly give: Give
}

function arrange(label: CupLabel, style: LabelStyle, attempt: Attempt): DrawItem[] | null {
  const { page, scale, give } = attempt
  const full = wordsOf(style.language)
  const words = give.isPlain ? plainWords(full) : full
  const qr = qrItem(page, attempt.payload, give.moduleDots)
  const quiet = quietDots(page, give.moduleDots)
  const gap = gapDots(page.dpi, scale, give)
  const wide: Paper = { ...page, scale, gap }
  const narrow: Paper = { ...wide, right: qr.x - quiet }
  const head = headText(label, style)
  const isLast = give.isPlain && scale === LEAST_SCALE

  const items: DrawItem[] = [qr]
  let top = page.top
  const put = (row: Row) => {
    items.push(...drawRow(row, top))
    top += rowStep(row, gap, page.dpi)
  }
  const isAboveCode = (row: Row) => top + rowHeight(row) <= qr.y - quiet

  const heading = headRow(wide, head)
  if (!heading) return null
  put(heading)
  const product = productRow(wide, label, words)
  if (!isAboveCode(product)) return null
  put(product)

  const across = mixRow(wide, label, words, isLast)
  const mix = across && isAboveCode(across) ? across : mixRow(narrow, label, words, isLast)
  const amount = amountRow(narrow, label, isLast ? head.notes : head.notes.slice(0, 1), style)
  if (!mix || !amount) return null
  put(mix)
  put(amount)
  put(placeRow(narrow, label, words))

  const rest: Box = { left: page.left, top, right: narrow.right, bottom: page.bottom }
  const hazard = hazardBlock(narrow, rest, label, words, give.wordCount)
  return hazard && [...items, ...hazard]
}

/**
 * A panel's tag: its name, id and job, and the QR of the panel.
 * @throws RangeError naming the field for what no tag can say
 */
export function layoutPanelTag(
  tag: PanelTag,
  paper: LabelPaper,
  language: LabelStyle['language'],
): LabelLayout {
  return layoutTag(panelTag(tag, language), paper)
}

/** @throws RangeError where a stock is too small for it */
export function layoutTag(tag: Tag, paper: LabelPaper): LabelLayout {
  const page = pageOf(paper)
  const drawn = tagItems(tag, paper)
  return { dpi: paper.dpi, widthDots: page.width, heightDots: page.height, ...drawn }
}

/** The side of a layout's square code without its white, mm; null where it has none. */
export function symbolWidthMm(layout: LabelLayout): number | null {
  const qr = layout.items.find((item) => item.kind === 'qr')
  return qr ? mmOf(qr.modules * qr.moduleDots, layout.dpi) : null
}
