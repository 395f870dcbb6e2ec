import { check } from '../../machines/accept.ts'
import { sheetFileSchema } from '../../machines/sheet/file.ts'
import spanish from '../../machines/sheet/samples.es.json' with { type: 'json' }
import samples from '../../machines/sheet/samples.json' with { type: 'json' }

const SPANISH: Readonly<Record<string, string>> = spanish

/**
 * The sample sheets as a file of sheets, their names and hazards in the shop's language.
 * @throws RangeError where one of them is not a sheet
 */
export function sampleSheets(language: 'en' | 'es' = 'en') {
  const isText = (key: string) => language === 'es' && (key === 'name' || key === 'words')
  const sheets: unknown = JSON.parse(
    JSON.stringify(samples.map((sheet) => ({ ...sheet, sample: true }))),
    (key, value: unknown) =>
      typeof value === 'string' && isText(key) ? (SPANISH[value] ?? value) : value,
  )
  const checked = check(sheetFileSchema, { format: 'flashbell-sheets', version: 1, sheets }, '')
  if (!checked.ok) throw new RangeError(`A sample is not a sheet: ${checked.error.field}`)
  return checked.value
}
