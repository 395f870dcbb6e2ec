import type { Draft, Json } from '../../machines/envelope.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { type Format, shortLength } from '../units/format.ts'
import type { Words } from '../words/en.ts'
import { historyIn } from '../words/historyIn.ts'
import { colourFacts } from './colourFacts.ts'
import { airText, isRecord, type Names } from './names.ts'

/** All that an entry knows, in words: what stands behind its one line in the history. Pure. */

export type Fact = { readonly word: string; readonly text: string }

type Say = {
  readonly words: Words
  readonly format: Format
  readonly names: Names & { readonly sheet: (id: string) => string }
}

/** The name of a sheet as it is now; of one that was evicted, its id. */
export const sheetNames =
  (state: State) =>
  (id: string): string =>
    contextOf(state, 'sheet', id)?.versions.at(-1)?.sheet.name ?? id

type Data = { readonly [key: string]: Json }
const textOf = (data: Data, key: string) => (typeof data[key] === 'string' ? data[key] : null)
const numberOf = (data: Data, key: string) => (typeof data[key] === 'number' ? data[key] : null)
const recordOf = (data: Data, key: string): Data => (isRecord(data[key]) ? data[key] : {})
const listOf = (value: Json | undefined): readonly Json[] => (Array.isArray(value) ? value : [])

/** Which coat of its step a start was: starts of the same step before it that stand. */
function coatNumber(entry: Draft, all: readonly Draft[], voided: ReadonlySet<string>) {
  if (entry.type !== 'CoatStarted') return null
  const same = all.filter(
    (one) =>
      one.type === 'CoatStarted' &&
      one.panel === entry.panel &&
      one.data.sheet === entry.data.sheet &&
      !voided.has(one.id),
  )
  const at = same.findIndex(({ id }) => id === entry.id)
  return at === -1 ? null : at + 1
}

/** A moment and how far from it the entry was: "12:10, 2 min left" or "12:10, 3 min past". */
function moment(endMs: number | null, at: number, { words, format }: Say): string | null {
  if (endMs === null) return null
  const { left, past } = historyIn(words).facts
  const by = shortLength(Math.abs(endMs - at))
  return `${format.timeAndDay(endMs, at)}, ${endMs >= at ? left(by) : past(by)}`
}

function gunText(data: Data, { words, format }: Say): string | null {
  const { inletKpa, turns, distanceCm } = recordOf(data, 'gunSet')
  const said = [
    typeof inletKpa === 'number' ? format.pressure(inletKpa) : '',
    typeof turns === 'number' ? historyIn(words).facts.turns(format.number(turns, 1)) : '',
    typeof distanceCm === 'number' ? `${format.number(distanceCm, 0)} cm` : '',
  ].filter((text) => text !== '')
  return said.length === 0 ? null : said.join(', ')
}

/** What was poured of each component, in the measure of its sheet. */
function pouredText(data: Data, { format }: Say): string | null {
  const unit = data.by === 'mass' ? 'g' : 'mL'
  const parts = listOf(data.parts).filter(isRecord)
  const said = parts.flatMap(({ name, amount }) =>
    typeof name === 'string' && typeof amount === 'number'
      ? [`${name} ${format.number(amount, 1)} ${unit}`]
      : [],
  )
  if (said.length > 0) return said.join(', ')
  const grams = listOf(data.pouredG).filter((g) => typeof g === 'number')
  return grams.length === 0 ? null : grams.map((g) => `${format.number(g, 1)} g`).join(', ')
}

const lotsText = (data: Data): string | null => {
  const lots = listOf(data.lots).flatMap((lot) =>
    typeof lot === 'string' ? [lot] : isRecord(lot) ? [`${lot.name}: ${lot.lot}`] : [],
  )
  return lots.length === 0 ? null : lots.join(', ')
}

/** The other jobs that a cup was mixed for. */
function alsoForText(data: Data, names: Names): string | null {
  const jobs = listOf(data.alsoFor).map((id) => names.job(String(id)))
  return jobs.length === 0 ? null : jobs.join(', ')
}

/** The first pot life of a mix, by its sheet: "45 min at 20 °C". */
function potLifeText(data: Data, { format }: Say): string | null {
  const points = listOf(recordOf(firstOf(data.clocks), 'interval').points).filter(isRecord)
  const said = points.flatMap(({ atC, minutes }) =>
    typeof atC === 'number' && typeof minutes === 'number'
      ? [`${format.number(minutes, 0)} min / ${format.temperature(atC)}`]
      : [],
  )
  return said.length === 0 ? null : said.join(', ')
}

const firstOf = (value: Json | undefined): Data => listOf(value).find(isRecord) ?? {}

/**
 * @param all the entries that the history shows, in the order of occurrence
 * @returns only what this entry says; nothing is guessed
 */
export function factsOf(
  entry: Draft,
  all: readonly Draft[],
  voided: ReadonlySet<string>,
  say: Say,
): Fact[] {
  const { words, format, names } = say
  const { facts } = historyIn(words)
  const { data, at } = entry
  const judged = recordOf(data, 'judged')
  const opens = recordOf(data, 'opens')
  const sheet = textOf(data, 'sheet') ?? textOf(opens, 'sheet')
  const version = numberOf(data, 'sheetVersion') ?? numberOf(opens, 'sheetVersion')
  const air = airText({ ...recordOf(data, 'climate'), ...judged, ...data }, say)
  const assumed = numberOf(judged, 'surfaceAssumed')
  const margin = numberOf(judged, 'dewMarginC')
  const kind = textOf(data, 'kind')
  const coat = coatNumber(entry, all, voided)
  const kinds: Readonly<Record<string, string>> = facts.kinds
  const known: readonly (readonly [string, string | null])[] = [
    [facts.coat, coat === null ? null : [String(coat), kinds[kind ?? ''] ?? ''].join(' ').trim()],
    [
      facts.sheet,
      sheet &&
        [names.sheet(sheet), version === null ? '' : facts.version(version)]
          .filter(Boolean)
          .join(', '),
    ],
    ...colourFacts(entry, words, format.number),
    [facts.alsoFor, alsoForText(data, names)],
    [facts.mixTint, textOf(recordOf(data, 'paint'), 'tint')],
    [facts.ratio, textOf(data, 'ratio')],
    [facts.poured, pouredText(data, say)],
    [facts.activator, textOf(data, 'activator')],
    [facts.reducer, textOf(data, 'reducer')],
    [facts.lots, lotsText(data)],
    [facts.potLife, potLifeText(data, say)],
    [facts.gun, entry.gun === undefined ? null : names.gun(entry.gun)],
    [facts.gunSet, gunText(data, say)],
    [facts.zone, entry.zone === undefined ? null : names.zone(entry.zone)],
    [facts.air, air === '' ? null : air],
    [facts.surfaceAssumed, assumed === null ? null : format.temperature(assumed)],
    [facts.dewMargin, margin === null ? null : format.degrees(margin)],
    [facts.flash, moment(numberOf(judged, 'flashEndsAt'), at, say)],
    [facts.window, moment(numberOf(judged, 'shutsAt'), at, say)],
    [facts.cupEnds, moment(numberOf(judged, 'cupEndsAt'), at, say)],
    [facts.useBy, moment(numberOf(data, 'untilMs'), at, say)],
    [facts.person, entry.by === null ? null : names.person(entry.by)],
    [facts.entered, entry.enteredAt === at ? null : format.timeAndDay(entry.enteredAt, at)],
  ]
  return known.flatMap(([word, text]) => (text ? [{ word, text }] : []))
}
