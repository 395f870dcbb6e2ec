import { codes as codesEn } from '../machines/words/codes.en.ts'
import { codes as codesEs } from '../machines/words/codes.es.ts'
import { encodeCommandCode, PRINTED_COMMANDS } from './commandCode.ts'
import type { DrawItem, LabelLayout } from './layout.ts'
import { onPaper } from './page.ts'
import { encodePanelCode } from './payload.ts'
import { drawRow, rowOf } from './row.ts'
import {
  codeSize,
  type FlatCode,
  type FlatPaper,
  placeCode,
  type Sheet,
  sheetOf,
} from './sheetCode.ts'
import { dotsFor } from './stock.ts'
import { capitals, fitWhole, heightOf, type Run, runOf, shortened, wrap } from './text.ts'
import { encodeThingCode } from './thingCode.ts'
import { type Language, wordsOf } from './words.ts'

/** Flat sheets: a job with all its codes, and the codes that replace a touch. As many pages as they need. */

export type JobSheet = {
  readonly shopTag: string
  readonly job: string
  readonly title: string
  /** The colors of the job as their codes. */
  readonly colours: readonly string[]
  /** `route`: the names of its steps in order. */
  readonly panels: readonly {
    readonly panel: string
    readonly name: string
    readonly route: readonly string[]
  }[]
}

/** A part of a sheet that stays together. `put`: where its upper left corner is. */
type Block = {
  readonly heightDots: number
  readonly put: (x: number, y: number) => DrawItem[]
}

/**
 * @returns pages that say everything: panels with their routes and codes, then the codes of commands
 * @throws RangeError for a paper smaller than 4 by 6 inches, or what no code can say
 */
export function layoutJobSheet(job: JobSheet, paper: FlatPaper, language: Language): LabelLayout[] {
  const sheet = sheetOf(paper)
  const words = wordsOf(language)
  const payload = onPaper(
    encodeThingCode({ kind: 'job', shopTag: job.shopTag, id: job.job, lot: null }),
    paper,
  )
  const head = labelled(sheet, payload, [
    { text: job.title, wantMm: 6 },
    { text: `${words.job} ${job.job}`, wantMm: 4, isWhole: true },
    { text: job.colours.join(', '), wantMm: 2.6 },
  ])
  const panels = job.panels.map(({ panel, name, route }) =>
    labelled(sheet, onPaper(encodePanelCode({ shopTag: job.shopTag, panel }), paper), [
      { text: name, wantMm: 4 },
      { text: panel, wantMm: 3.2, isWhole: true },
      { text: route.join(' · '), wantMm: 2.4, lines: 3 },
    ]),
  )
  return flowed(sheet, payload, [head, ...panels, ...commandBlocks(sheet, language)], words.page)
}

/** @throws RangeError for a paper smaller than 4 by 6 inches */
export function layoutCommandSheet(paper: FlatPaper, language: Language): LabelLayout[] {
  const sheet = sheetOf(paper)
  return flowed(sheet, '', commandBlocks(sheet, language), wordsOf(language).page)
}

type Line = {
  readonly text: string
  readonly wantMm: number
  /** What is typed by hand is never cut. */
  readonly isWhole?: true
  readonly lines?: number
}

const SMALLEST_MM = 1.75
/** Text narrower than this beside a code stands above it. */
const TEXT_MM = 40

/** Text, and its code on the right; under it where that leaves too little room. */
function labelled(sheet: Sheet, payload: string, lines: readonly Line[]): Block {
  const code = codeSize(sheet, payload)
  const width = sheet.right - sheet.left
  const isBeside = width - code.widthDots >= dotsFor(TEXT_MM, sheet.dpi)
  const runs = lines.flatMap((line) =>
    runsOf(sheet, line, isBeside ? width - code.widthDots : width),
  )
  const gap = dotsFor(1, sheet.dpi)
  const rows = runs.map((run) => rowOf([{ run, x: 0 }]))
  const textDots = rows.reduce((sum, row) => sum + row.above + row.below + gap, 0)
  const heightDots = isBeside ? Math.max(textDots, code.heightDots) : textDots + code.heightDots
  return {
    heightDots,
    put(x, y) {
      let top = y
      const items = rows.flatMap((row) => {
        const drawn = drawRow(row, top).map((item) => ({ ...item, x: item.x + x }))
        top += row.above + row.below + gap
        return drawn
      })
      const at = isBeside ? { x: sheet.right - code.widthDots, y } : { x, y: top }
      return [...items, placeCode(code, at.x, at.y)]
    },
  }
}

function runsOf(sheet: Sheet, { text, wantMm, isWhole, lines = 1 }: Line, width: number): Run[] {
  const [want, least] = [dotsFor(wantMm, sheet.dpi), dotsFor(SMALLEST_MM, sheet.dpi)]
  const said = capitals(text)
  if (said === '') return []
  if (isWhole) return [fitWhole(said, width, want, least) ?? runOf(said, least)]
  if (lines === 1) return [shortened(said, width, want, least)]
  const words = said.split(' ').map((word) => ({ text: word, capDots: want }))
  const wrapped = wrap(words, width)?.flat() ?? []
  if (wrapped.length > 0 && wrapped.length <= lines) return wrapped
  const small = said.split(' ').map((word) => ({ text: word, capDots: least }))
  const all = wrap(small, width)?.flat() ?? []
  // A route that is longer than its place ends in an ellipsis; the kiosk shows all of it.
  if (all.length <= lines) return all.length > 0 ? all : [shortened(said, width, want, least)]
  const rest = all.slice(lines - 1).map((run) => run.text)
  return [...all.slice(0, lines - 1), shortened(rest.join(' '), width, least, least)]
}

/** The heading, then rows of tiles. */
function commandBlocks(sheet: Sheet, language: Language): Block[] {
  const words = wordsOf(language)
  const names = language === 'es' ? codesEs : codesEn
  const gap = dotsFor(2, sheet.dpi)
  const width = sheet.right - sheet.left
  const tiles = PRINTED_COMMANDS.map((name) => ({
    code: codeSize(sheet, encodeCommandCode(name)),
    word: names[name],
  }))
  const codeDots = Math.max(...tiles.map(({ code }) => code.widthDots))
  const tileDots = Math.max(codeDots, dotsFor(TILE_MM, sheet.dpi))
  const columns = Math.max(1, Math.floor((width + gap) / (tileDots + gap)))
  const stepDots = Math.floor((width + gap) / columns)
  const size = [dotsFor(3, sheet.dpi), dotsFor(SMALLEST_MM, sheet.dpi)] as const
  const cap = dotsFor(3, sheet.dpi)
  const rows: Block[] = []
  for (let from = 0; from < tiles.length; from += columns) {
    const row = tiles.slice(from, from + columns)
    const high = Math.max(...row.map(({ code }) => code.heightDots))
    // Accents stand above capitals.
    const rise = Math.max(...row.map(({ word }) => heightOf(runOf(capitals(word), cap)).above))
    rows.push({
      heightDots: high + rise + gap,
      put: (x, y) =>
        row.flatMap(({ code, word }, n) => {
          const run = shortened(capitals(word), stepDots - gap, ...size)
          const left = x + n * stepDots
          const middle = left + Math.floor((tileDots - run.widthDots) / 2)
          const text: DrawItem = {
            ...run,
            kind: 'text',
            x: Math.max(left, middle),
            baseline: y + high + rise,
          }
          return [placeCode(code, left + Math.floor((tileDots - code.widthDots) / 2), y), text]
        }),
    })
  }
  const [first, ...others] = rows
  const heading = [
    ...runsOf(sheet, { text: words.codes, wantMm: 4 }, width),
    ...runsOf(sheet, { text: words.codesHint, wantMm: 2.2, lines: 2 }, width),
  ].map((run) => rowOf([{ run, x: 0 }]))
  const headDots = heading.reduce((sum, row) => sum + row.above + row.below + gap, 0)
  // A heading never stands alone at the foot of a page.
  const top: Block = {
    heightDots: headDots + (first?.heightDots ?? 0),
    put(x, y) {
      let at = y
      const items = heading.flatMap((row) => {
        const drawn = drawRow(row, at).map((item) => ({ ...item, x: item.x + x }))
        at += row.above + row.below + gap
        return drawn
      })
      return [...items, ...(first?.put(x, at) ?? [])]
    },
  }
  return [top, ...others]
}

const TILE_MM = 21

/** From top to bottom, and on to another page. */
function flowed(
  sheet: Sheet,
  payload: string,
  blocks: readonly Block[],
  page: string,
): LabelLayout[] {
  const { dpi, left, top, bottom } = sheet
  const gap = dotsFor(3, dpi)
  const foot = dotsFor(SMALLEST_MM, dpi)
  const pages: DrawItem[][] = []
  let items: DrawItem[] = []
  let y = top
  for (const block of blocks) {
    if (y > top && y + block.heightDots > bottom - 2 * foot) {
      pages.push(items)
      items = []
      y = top
    }
    items.push(...block.put(left, y))
    y += block.heightDots + gap
  }
  pages.push(items)
  return pages.map((drawn, n) => {
    const run = runOf(`${page} ${n + 1}/${pages.length}`, foot)
    const mark: DrawItem = {
      ...run,
      kind: 'text',
      x: sheet.right - run.widthDots,
      baseline: bottom,
    }
    return {
      ...{ dpi, widthDots: sheet.widthDots, heightDots: sheet.heightDots, payload },
      items: [...drawn, mark],
    }
  })
}

export type { FlatCode, FlatPaper }
