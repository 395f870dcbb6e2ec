import { type Dpi, STOCKS, type Stock } from '../../labels/layout.ts'
import { type FlatCode, type FlatPaper, SHEETS } from '../../labels/sheetCode.ts'
import { type WrongFields, wrongAt } from '../../machines/contract/wrongField.ts'
import type { DrawAsk, DrawnKind } from '../printing/makeLabel.ts'

/** What is asked of a label in its address. */

const DPIS: readonly Dpi[] = [203, 300]
const FORMS = ['svg', 'png', 'pdf'] as const
const CODES: readonly FlatCode[] = ['datamatrix', 'code128']
const NAME = /^([0-9A-Za-z-]{1,40})\.(svg|png|pdf)$/
/** Asks for the label that is printed next, before it is logged: it says COPY n from the second on. */
const NEXT_COPY = 'next'
/** A job of some hundred panels. */
const PAGES_MOST = 99

const isSheet = (kind: DrawnKind): boolean => kind === 'job' || kind === 'commands'
const stocksOf = (kind: DrawnKind): Readonly<Record<string, Stock>> =>
  isSheet(kind) ? SHEETS : STOCKS
/** The names of the papers that a kind is drawn on. The first is taken where none is named. */
export const papersOf = (kind: DrawnKind): string[] => Object.keys(stocksOf(kind))

/** A tag hangs in the shop and is looked at; a cup's label is the printer's own. */
const dpiOf = (kind: DrawnKind): Dpi => (kind === 'cup' ? 203 : 300)

type LabelAsk = {
  readonly ask: DrawAsk
  readonly paper: FlatPaper
  readonly form: (typeof FORMS)[number]
  readonly page: number
  readonly isNext: boolean
}

/**
 * @param name the thing's id with its form, such as "K7QDM2XV.png"
 * @param query `dpi`, `paper`, `code`, `page`, `copy`, `lot`
 */
export function drawAskIn(
  kind: DrawnKind,
  name: string,
  query: Readonly<Record<string, string | undefined>>,
): LabelAsk | WrongFields {
  const [, thing, given] = NAME.exec(name) ?? []
  const form = FORMS.find((one) => one === given)
  if (thing === undefined || form === undefined) {
    const forms = FORMS.map((one) => `${kind.toUpperCase()}.${one}`)
    return wrongAt('name', name, 'fileName', { forms })
  }
  const wrong = (field: string, words: readonly string[]) =>
    wrongAt(field, query[field], 'oneOf', { words: [...words] })
  const { copy, code, page = '1', lot } = query
  const dpi = DPIS.find((one) => String(one) === (query.dpi ?? String(dpiOf(kind))))
  if (!dpi) return wrong('dpi', DPIS.map(String))
  if (copy !== undefined && copy !== NEXT_COPY) return wrong('copy', [NEXT_COPY])
  const papers = papersOf(kind)
  const stock = stocksOf(kind)[query.paper ?? papers[0] ?? '']
  if (!stock) return wrong('paper', papers)
  const symbology = CODES.find((one) => one === code)
  if (code !== undefined && code !== 'qr' && !symbology) return wrong('code', ['qr', ...CODES])
  if (!/^[1-9][0-9]?$/.test(page)) {
    return wrongAt('page', page, 'whole', { min: 1, max: PAGES_MOST })
  }
  if (lot !== undefined && (lot === '' || [...lot].length > 60)) {
    return wrongAt('lot', lot, 'text', { max: 60 })
  }
  return {
    ask: { kind, thing, ...(lot === undefined ? {} : { lot }) },
    paper: { stock, dpi, ...(symbology ? { symbology } : {}) },
    form,
    page: Number(page),
    isNext: copy === NEXT_COPY,
  }
}
