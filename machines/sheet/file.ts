import * as v from 'valibot'
import { fields, list, oneOf, whole } from '../accept.ts'
import { rule } from '../contract/wrongField.ts'
import type { State } from '../state.ts'
import type { Sheet } from './schema.ts'
import { sheetSchema } from './sheetSchema.ts'

/**
 * Sheets as a file, to be kept or handed to another shop:
 * `{"format": "flashbell-sheets", "version": 1, "sheets": [sheet, ...]}`, each sheet as SaveSheet takes it.
 */

const FORMAT = 'flashbell-sheets'
const VERSION = 1
const SHEETS_MOST = 200

export const sheetFileSchema = fields({
  format: oneOf([FORMAT]),
  version: whole(VERSION, VERSION),
  sheets: v.pipe(
    list(sheetSchema, 1, SHEETS_MOST),
    v.check(
      (all) => new Set(all.map(({ sheet }) => sheet)).size === all.length,
      rule('noneTwice', {}),
    ),
  ),
})
export type SheetFile = v.InferOutput<typeof sheetFileSchema>

/** The sheets of a shop that are in use, in the order of their names. */
export function sheetFileOf(state: State): SheetFile {
  const sheets = Object.values(state.things.sheet)
    .flatMap(({ context: { versions, retiredAt } }) => {
      const latest = versions.at(-1)
      return latest && retiredAt === null ? [latest.sheet] : []
    })
    .sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0))
  return { format: FORMAT, version: VERSION, sheets }
}

/** What an import would do with a sheet; `fields` are those that differ from the version in force. */
export type SheetPreview = {
  readonly sheet: string
  readonly name: string
  readonly is: 'new' | 'changed' | 'same'
  readonly fields: readonly string[]
}

/** The same whatever the order of the fields is. */
function plain(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(plain)
  if (typeof value !== 'object' || value === null) return value
  const entries = Object.entries(value).filter(([, one]) => one !== undefined)
  return Object.fromEntries(
    entries.sort(([a], [b]) => (a < b ? -1 : 1)).map(([k, one]) => [k, plain(one)]),
  )
}
const isSame = (a: unknown, b: unknown): boolean =>
  JSON.stringify(plain(a)) === JSON.stringify(plain(b))

/** What an import of sheets would do. One that was retired comes back, and is changed by that. */
export function previewOf(state: State, sheets: readonly Sheet[]): SheetPreview[] {
  return sheets.map((sheet) => {
    const { sheet: id, name } = sheet
    const known = state.things.sheet[id]?.context
    const latest = known?.versions.at(-1)?.sheet
    if (!known || !latest) return { sheet: id, name, is: 'new', fields: [] }
    const keys = [...new Set([...Object.keys(latest), ...Object.keys(sheet)])]
    const fields = keys
      .filter((key) => !isSame(latest[key as keyof Sheet], sheet[key as keyof Sheet]))
      .sort()
    const isAsIs = fields.length === 0 && known.retiredAt === null
    return { sheet: id, name, is: isAsIs ? 'same' : 'changed', fields }
  })
}
