import {
  checksum,
  encodeCupCode,
  lotKey,
  type ReadProblem,
  type ReadResult,
  readCode,
} from '../../labels/code.ts'
import { en } from '../../machines/words/en.ts'
import { CLEAR, MIXED_AT_MS, minutes } from './labelSamples.ts'

/** The shop that the samples belong to, ten minutes after they were mixed. */
export const OURS = { shopTag: 'K7F', nowMs: MIXED_AT_MS + minutes(10) }
export const CLEAR_CODE = encodeCupCode(CLEAR)

export const read = (text: string, nowMs = OURS.nowMs): ReadResult =>
  readCode(text, { ...OURS, nowMs })

export function problemOf(result: ReadResult): ReadProblem {
  if (result.kind !== 'problem') throw new Error(`no problem, but ${JSON.stringify(result)}`)
  return result
}

/** What an English screen says of it. */
export const textOf = ({ code, names }: ReadProblem): string => en.labels[code](...names)

/** A text of ours with other fields, sealed again. */
export function resealed(text: string, change: (fields: string[]) => string[]): string {
  const body = `${change(text.split('-').slice(0, -1)).join('-')}-`
  return body + checksum(body)
}

/** Panel tags and job sheets as they were printed before they lost their separators; they hang on parts for good. */
export const oldPanelCode = (shopTag: string, panel: string): string =>
  separated('P1', shopTag, panel)
export const oldJobCode = (shopTag: string, job: string): string => separated('J1', shopTag, job)
/** Badges, gun and shelf tags of that time: the id in capitals, before it how many parts it has. */
export const oldThingCode = (
  kind: 'person' | 'gun' | 'product',
  shopTag: string,
  id: string,
  lot: string | null = null,
): string => {
  const said = id.toUpperCase()
  const lots = lot === null || lotKey(lot) === '' ? [] : [lotKey(lot)]
  const schema = { person: 'W1', gun: 'G1', product: 'S1' }[kind]
  return separated(schema, shopTag, String(said.split('-').length), said, ...lots)
}

function separated(...fields: string[]): string {
  const text = `${fields.join('-')}-`
  return text + checksum(text)
}
