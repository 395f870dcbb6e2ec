import { check } from '../../machines/accept.ts'
import type { WrongField } from '../../machines/contract/wrongField.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { sheetSchema } from '../../machines/sheet/sheetSchema.ts'
import { idFrom } from '../forms/draft.ts'
import { readNumber } from '../units/measure.ts'
import { componentsFrom } from './sheetSteps.ts'

/**
 * Sheets as a table, one in a row: comma, semicolon or tab between the columns, decimal point or comma,
 * with or without a byte-order mark. Times are minutes at `atC`, temperatures °C.
 */

/** The columns in the order of the template, with where their figure goes in a sheet. */
const COLUMNS = {
  name: 'name',
  stage: 'stage',
  medium: 'medium',
  ratio: 'components',
  by: 'by',
  atC: '',
  potLifeMin: 'potLife',
  flashBetweenMin: 'flashBetween',
  flashBeforeNextMin: 'flashBeforeNext',
  recoatWithinMin: 'recoatWithin',
  airCureMin: 'cure.air',
  bakeC: 'cure.bake.0.tempC',
  bakeMin: 'cure.bake.0.minutes',
  bakeOf: 'cure.bake.0.basis',
  flashBeforeHeatMin: 'cure.bake.0.flashBefore',
  coatsLeast: 'coats.least',
  coatsPlanned: 'coats.planned',
  coatsMost: 'coats.most',
  signal: 'hazards.signal',
  pictograms: 'hazards.pictograms',
  isocyanate: 'hazards.isocyanate',
  hazardWords: 'hazards.words',
  sample: 'sample',
} as const
export type Column = keyof typeof COLUMNS
const NAMES = Object.keys(COLUMNS) as Column[]
type Row = Readonly<Partial<Record<Column, string>>>

/** The temperature of the times where a row gives none. */
const PRINTED_C = 20

/** What is wrong with a table. Rows are counted as a spreadsheet does: the heads are the first. */
export type CsvWrong =
  | { readonly kind: 'empty' }
  /** Its quotes do not close: nobody can say where a cell ends. */
  | { readonly kind: 'broken' }
  | { readonly kind: 'column'; readonly given: string; readonly columns: readonly string[] }
  | { readonly kind: 'twice'; readonly column: string }
  | {
      readonly kind: 'field'
      readonly row: number
      readonly column: string
      readonly error: WrongField
    }
type Read =
  | { readonly ok: true; readonly sheets: readonly Sheet[] }
  | { readonly ok: false; readonly wrong: readonly CsvWrong[] }

/** A table to fill in: its heads, and a row of an invented product, marked as a sample. */
export function csvTemplate(): string {
  const example: Record<Column, string> = {
    name: 'EXAMPLE 2K clear',
    stage: 'clear',
    medium: 'solvent',
    ratio: '2:1+10%',
    by: 'volume',
    atC: '20',
    potLifeMin: '60',
    flashBetweenMin: '10',
    flashBeforeNextMin: '15',
    recoatWithinMin: '480',
    airCureMin: '720',
    bakeC: '60',
    bakeMin: '30',
    bakeOf: 'part',
    flashBeforeHeatMin: '10',
    coatsLeast: '2',
    coatsPlanned: '2',
    coatsMost: '3',
    signal: 'DANGER',
    pictograms: 'flame health',
    isocyanate: 'yes',
    hazardWords: 'FLAMMABLE',
    sample: 'yes',
  }
  const line = (cells: readonly string[]) => cells.join(';')
  // The mark tells a spreadsheet that the text is UTF-8.
  return `\uFEFF${line(NAMES)}\r\n${line(NAMES.map((name) => example[name]))}\r\n`
}

/** The text of a file: UTF-8, else as a spreadsheet of an older system writes it. */
export function textOf(bytes: ArrayBuffer): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    return new TextDecoder('windows-1252').decode(bytes)
  }
}

/** @param taken the ids of sheets that the shop has: a name that is known is a new version of that sheet */
export async function sheetsInCsv(
  text: string,
  known: Readonly<Record<string, string>>,
): Promise<Read> {
  const cells = await cellsOf(text)
  if (cells === null) return { ok: false, wrong: [{ kind: 'broken' }] }
  const [first = [], ...rows] = cells
  const heads = first.map(columnOf)
  const data = rows.map((row): Row => Object.fromEntries(heads.map((head, i) => [head, row[i]])))
  const isTwice = (head: string, i: number) => head !== '' && heads.indexOf(head) !== i
  const wrong: CsvWrong[] = [
    ...heads
      .filter((head) => !(head in COLUMNS) && head !== '')
      .map((given) => ({ kind: 'column' as const, given, columns: NAMES })),
    ...heads.filter(isTwice).map((column) => ({ kind: 'twice' as const, column })),
    ...(data.length === 0 ? [{ kind: 'empty' as const }] : []),
  ]
  if (wrong.length > 0) return { ok: false, wrong }
  const taken = Object.values(known)
  const read = data.map((row, i) => {
    const name = (row.name ?? '').trim()
    const id = known[name] ?? idFrom(name, taken)
    if (!taken.includes(id)) taken.push(id)
    const checked = check(sheetSchema, sheetOf(row, id))
    return { checked, row: i + 2 }
  })
  const errors = read.flatMap(({ checked, row }) =>
    checked.ok
      ? []
      : checked.errors.map((error) => ({
          kind: 'field' as const,
          row,
          column: columnOfField(error.field),
          error,
        })),
  )
  if (errors.length > 0) return { ok: false, wrong: errors }
  return { ok: true, sheets: read.flatMap(({ checked }) => (checked.ok ? [checked.value] : [])) }
}

const SEPARATORS = [';', '\t', ','] as const

/** @returns the rows that have anything in them; null where the quotes do not close */
async function cellsOf(text: string): Promise<string[][] | null> {
  const { CsvError, parse } = await import('csv-parse/browser/esm/sync')
  // No head of a column has one of them in its name.
  const heads = text.split(/\r?\n/, 1)[0] ?? ''
  const delimiter = SEPARATORS.find((separator) => heads.includes(separator)) ?? ';'
  try {
    const options = { bom: true, delimiter, relax_column_count: true, trim: true } as const
    const rows: string[][] = parse(text, options)
    return rows.filter((row) => row.some((cell) => cell !== ''))
  } catch (error) {
    if (error instanceof CsvError) return null
    throw error
  }
}

/** A head as the template writes it, whatever its case and its spaces are. */
function columnOf(head: string): string {
  const plain = (text: string) => text.toLowerCase().replace(/[^a-z]/g, '')
  return NAMES.find((name) => plain(name) === plain(head)) ?? head.trim()
}

/** The longest path that a field lies under. */
function columnOfField(field: string): string {
  const under = NAMES.filter((name) => {
    const path = COLUMNS[name]
    return path !== '' && (field === path || field.startsWith(`${path}.`) || path.startsWith(field))
  })
  return under.sort((a, b) => COLUMNS[b].length - COLUMNS[a].length)[0] ?? field
}

/** A number, or the text as it stands, which the sentence about it shows. */
const figure = (text: string): number | string => readNumber(text) ?? text

const yesNo = (text: string): boolean | string =>
  /^(yes|y|s[ií]|true|1)$/i.test(text) ? true : /^(no|n|false|0)$/i.test(text) ? false : text

/** Only what is given: an empty cell is not known, and never zero. */
const given = (fields: Readonly<Record<string, unknown>>): object =>
  Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined))

function sheetOf(row: Row, sheet: string): object {
  const cell = (column: Column): string | undefined => row[column]?.trim() || undefined
  const number = (column: Column) => {
    const text = cell(column)
    return text === undefined ? undefined : figure(text)
  }
  const atC = number('atC') ?? PRINTED_C
  const points = (column: Column) => {
    const minutes = number(column)
    return minutes === undefined ? undefined : [{ atC, minutes }]
  }
  const ofWords = (column: Column, words: Readonly<Record<string, unknown>>) => {
    const word = Object.keys(words).find((one) => one.toLowerCase() === cell(column)?.toLowerCase())
    return word === undefined ? points(column) : words[word]
  }
  const ratio = cell('ratio')
  const stage = cell('stage')
  const nameOf = (role: string) => (role === 'base' ? (stage ?? role) : role)
  const bake = given({
    tempC: number('bakeC'),
    minutes: number('bakeMin'),
    basis: cell('bakeOf'),
    // Left empty it is not known, and is asked for before the first bake.
    flashBefore: ofWords('flashBeforeHeatMin', { none: 'none' }),
  })
  const hasBake = cell('bakeC') !== undefined || cell('bakeMin') !== undefined
  const isHazard = (['signal', 'pictograms', 'isocyanate', 'hazardWords'] as const).some(cell)
  const sample = cell('sample')
  const planned = number('coatsPlanned') ?? number('coatsLeast')
  const isocyanate = cell('isocyanate')
  return given({
    sheet,
    name: cell('name'),
    stage,
    medium: cell('medium'),
    components: ratio && (componentsFrom(ratio, 'sum', [], nameOf) ?? []),
    by: cell('by'),
    potLife: ofWords('potLifeMin', { none: null }),
    flashBetween: points('flashBetweenMin'),
    flashBeforeNext: points('flashBeforeNextMin'),
    recoatWithin: ofWords('recoatWithinMin', { unlimited: 'unlimited', mustSand: 'mustSand' }),
    cure: given({ air: points('airCureMin'), bake: hasBake ? [bake] : undefined }),
    coats: given({
      least: number('coatsLeast') ?? planned,
      planned,
      most: number('coatsMost') ?? planned,
    }),
    hazards: isHazard
      ? given({
          signal: cell('signal'),
          pictograms: (cell('pictograms') ?? '').split(/[\s,]+/).filter(Boolean),
          isocyanate: isocyanate === undefined ? undefined : yesNo(isocyanate),
          words: cell('hazardWords'),
        })
      : undefined,
    sample: sample === undefined || yesNo(sample) === false ? undefined : yesNo(sample),
  })
}
