import type { LabelPaper } from './page.ts'
import { pageOf, type QrItem, qrItem, quietDots } from './page.ts'
import { encodePanelCode } from './payload.ts'
import { drawRow, type Paper, type Row, rowOf, rowStep, sizes, type TextItem } from './row.ts'
import { dotsFor, type Stock } from './stock.ts'
import { capitals, type Run, runOf, shortened } from './text.ts'
import { type Language, wordsOf } from './words.ts'

/** What a panel's tag says, so that the part itself can be scanned. */
export type PanelTag = {
  readonly shopTag: string
  readonly panel: string
  readonly name: string
  readonly job: string
  /** The job's title, such as "delivery van, rear corner". */
  readonly title?: string
}

const SMALLEST_MM = 1.75
/** A tag hangs on a flat part and its code is short: larger modules read from further away. */
const TAG_MODULE_MM = 0.75

/** The rows of a tag and the QR beside them. */
export function panelTagItems(
  tag: PanelTag,
  paper: LabelPaper,
  language: Language,
): { payload: string; items: (TextItem | QrItem)[] } {
  const page = pageOf(paper)
  const scale = scaleOf(paper.stock)
  const payload = encodePanelCode(tag)
  const moduleDots = Math.round((TAG_MODULE_MM * paper.dpi) / 25.4)
  const qr = qrItem(page, payload, moduleDots)
  const wide: Paper = { ...page, scale, gap: Math.round((scale * paper.dpi) / 25.4) }
  const narrow: Paper = { ...wide, right: qr.x - quietDots(page, moduleDots) }

  const items: (TextItem | QrItem)[] = [qr]
  let top = page.top
  for (const row of tagRows(tag, wide, narrow, language)) {
    items.push(...drawRow(row, top))
    top += rowStep(row, wide.gap, paper.dpi)
  }
  return { payload, items }
}

/** In proportion to the usual cup label, 57 by 32 mm. */
const scaleOf = (stock: Stock) => Math.min(stock.widthMm / 57, stock.heightMm / 32)

function tagRows(tag: PanelTag, wide: Paper, narrow: Paper, language: Language): Row[] {
  const words = wordsOf(language)
  const line = (paper: Paper, text: string, wantMm: number, leastMm: number): Row => {
    const { want, least } = sizes(paper, wantMm, leastMm)
    return at(paper, shortened(text, paper.right - paper.left, want, least))
  }
  return [
    line(wide, capitals(tag.name), 4.5, 2.5),
    at(narrow, runOf(tag.panel, dotsFor(4, narrow.dpi))),
    line(narrow, `${words.job} ${tag.job}`, 2.5, SMALLEST_MM),
    line(narrow, capitals(tag.title ?? ''), 2.2, SMALLEST_MM),
  ]
}

const at = (paper: Paper, run: Run): Row => rowOf([{ run, x: paper.left }])
