import type { BellFigures } from '../bell/figures.ts'
import type { EventType } from '../catalog.ts'
import type { CupContents } from '../cup/machine.ts'
import { type Draft, type Fact, isFact } from '../envelope.ts'
import { atOnce } from '../parts.ts'
import type { Jurisdiction } from '../trade/vocLimits.ts'
import { categoryOf, portionsOf, type SheetThen, wholeOf } from './material.ts'
import type { Typed } from './typed.ts'
import { type FilterDue, type TrainingDue, withoutReplaced } from './upkeep.ts'
import {
  type CupVoc,
  type JudgedCup,
  judged,
  type MixedCup,
  type StagesVoc,
  vocRecords,
} from './vocRecords.ts'

/** What a shop used and did from one day to another, from its entries. Figures say what they lack. */

export type MaterialRow = {
  readonly sheet: string
  readonly name: string
  readonly category: string | null
  readonly cups: number
  readonly ml: number
  readonly g: number
  /** Of `ml`, what no weight is known of: a density was not typed. */
  readonly mlWithoutG: number
}

export type SolventRow = { readonly solvent: string; readonly ml: number; readonly times: number }
export type Counted = { readonly code: string; readonly count: number }

export type Records = {
  readonly jurisdiction: string
  readonly material: readonly MaterialRow[]
  /** What was poured on besides, whose sheet says nothing of it. */
  readonly addedMl: number
  readonly leftMl: { readonly ml: number; readonly cups: number; readonly notSaid: number }
  readonly voc: { readonly cups: readonly CupVoc[]; readonly stages: readonly StagesVoc[] }
  readonly solvents: readonly SolventRow[]
  readonly cleanings: { readonly count: number; readonly notSaid: number }
  readonly coats: readonly (Counted & { readonly usedMl: number; readonly notSaid: number })[]
  readonly outside: readonly Counted[]
  readonly overrides: readonly Counted[]
  readonly notJudged: readonly Counted[]
  readonly voids: readonly Counted[]
  readonly training: readonly TrainingDue[]
  readonly filters: readonly FilterDue[]
  readonly bells: BellFigures
  /** The last first. */
  readonly typed: readonly Typed[]
}

/** What records of a time are made of, besides bells and what is read of all times. */
export const RECORD_TYPES: readonly EventType[] = [
  ...(['CupMixed', 'CupPoured', 'CupEmptied', 'GunCleaned', 'SolventUsed', 'GunLoaded'] as const),
  ...(['CoatStarted', 'CoatContinued', 'CoatFinished', 'CoatBrokenOff', 'CureStarted'] as const),
  ...(['CureEnded', 'PanelPassed', 'PanelMoved', 'PrepStepDone', 'CoverReached'] as const),
  ...(['PanelAbraded', 'PanelDenibbed', 'PanelPolished', 'FilmRead', 'PartRead'] as const),
  ...(['JobClosed', 'EntryVoided'] as const),
]

function counted(codes: readonly string[]): Counted[] {
  const by = new Map<string, number>()
  for (const code of codes) by.set(code, (by.get(code) ?? 0) + 1)
  return [...by].map(([code, count]) => ({ code, count })).toSorted((a, b) => b.count - a.count)
}

function materialOf(mixed: readonly MixedCup[], place: Jurisdiction): MaterialRow[] {
  const rows = new Map<string, MaterialRow>()
  for (const { entry, sheet, portions } of mixed) {
    const id = String(entry.data.sheet ?? '')
    const name = String(entry.data.name ?? id)
    const category = sheet && categoryOf(sheet, place)
    const ml = Number(entry.data.totalMl ?? 0)
    const whole = portions.length > 0 ? wholeOf(portions) : { ml, g: 0, mlWithoutG: ml }
    const was = rows.get(id) ?? { sheet: id, name, category, cups: 0, ml: 0, g: 0, mlWithoutG: 0 }
    rows.set(id, {
      ...{ ...was, cups: was.cups + 1, ml: was.ml + whole.ml, g: was.g + whole.g },
      mlWithoutG: was.mlWithoutG + whole.mlWithoutG,
    })
  }
  return [...rows.values()].toSorted((a, b) => b.ml - a.ml)
}

const numberIn = ({ data }: Draft, key: string): number | null =>
  typeof data[key] === 'number' ? (data[key] as number) : null

/** A coat is counted by its finish; its amount is what somebody typed. */
function coatsOf(finishes: readonly Draft[]): Records['coats'] {
  const stages = counted(finishes.map(({ data }) => String(data.stage ?? 'unknown')))
  return stages.map(({ code, count }) => {
    const own = finishes.filter(({ data }) => String(data.stage ?? 'unknown') === code)
    const used = own.map((entry) => numberIn(entry, 'usedMl'))
    return {
      ...{ code, count, usedMl: used.reduce<number>((a, b) => a + (b ?? 0), 0) },
      notSaid: used.filter((ml) => ml === null).length,
    }
  })
}

function solventsOf(entries: readonly Draft[]): SolventRow[] {
  const rows = new Map<string, SolventRow>()
  for (const entry of entries) {
    const ml = numberIn(entry, entry.type === 'GunCleaned' ? 'solventMl' : 'ml')
    if (ml === null || ml === 0) continue
    const solvent = String(entry.data.solvent ?? '')
    const was = rows.get(solvent) ?? { solvent, ml: 0, times: 0 }
    rows.set(solvent, { ...was, ml: was.ml + ml, times: was.times + 1 })
  }
  return [...rows.values()].toSorted((a, b) => b.ml - a.ml)
}

function leftOf(emptied: readonly Draft[]): Records['leftMl'] {
  const left = emptied
    .filter(({ data }) => data.how === 'discarded')
    .map((entry) => numberIn(entry, 'leftMl'))
  return {
    ml: left.reduce<number>((a, b) => a + (b ?? 0), 0),
    cups: left.length,
    notSaid: left.filter((ml) => ml === null).length,
  }
}

/** A sheet's version, or null where it is not known any more. */
type SheetOf = (sheet: string, version: number) => SheetThen | null

/** A cup that was mixed: with its portions, and with its VOC. */
export type CupRecord = { readonly mixed: MixedCup; readonly voc: JudgedCup }

type Mix = Fact<'CupMixed', CupContents>
export const isMixed = isFact<Mix>('CupMixed')

export function cupRecord(entry: Draft & Mix, sheetOf: SheetOf, place: Jurisdiction): CupRecord {
  const { data } = entry
  const sheet = sheetOf(String(data.sheet), Number(data.sheetVersion ?? 0))
  const portions = sheet ? portionsOf(data, sheet) : []
  const mixed = { entry, sheet, portions }
  return { mixed, voc: judged(mixed, place) }
}

export type Given = {
  /** Those of RECORD_TYPES of the time, and what was voided of them since. */
  readonly entries: readonly Draft[]
  readonly voided: ReadonlySet<string>
  /** One for each CupMixed among these that was not voided, in the same order: made in pages. */
  readonly cups: readonly CupRecord[]
  readonly place: Jurisdiction
} & Pick<Records, 'training' | 'filters' | 'bells' | 'typed'>

/** @returns the figures; nothing that was taken back counts, but how often that was */
export const recordsOf = (given: Given): Records => atOnce(recordsInParts(given))

/** The same in parts: a year has tens of thousands of entries. */
export function* recordsInParts(given: Given): Generator<void, Records> {
  const { entries, voided, cups, place, ...rest } = given
  const live = entries.filter(({ id, type }) => !voided.has(id) && type !== 'EntryVoided')
  yield
  const byType = Map.groupBy(live, ({ type }) => type)
  const of = (type: EventType) => byType.get(type) ?? []
  yield
  const mixed = cups.map((cup) => cup.mixed)
  const material = materialOf(mixed, place)
  yield
  const judgedCups = cups.map((cup) => cup.voc)
  const voc = vocRecords(judgedCups, place)
  yield
  const added = [...of('CupMixed'), ...of('CupPoured')].flatMap(({ data }) =>
    [data.additives, data.add].flatMap((all) => (Array.isArray(all) ? all : [])),
  ) as { ml?: number }[]
  yield
  const coats = coatsOf(of('CoatFinished'))
  yield
  const outside = counted(live.flatMap(({ outside: all = [] }) => all.map(({ code }) => code)))
  yield
  const overrides = counted(live.flatMap(({ override }) => override?.codes ?? []))
  const notJudged = counted(live.flatMap(({ notJudged: all = [] }) => all))
  yield
  const cleaned = of('GunCleaned')
  return {
    ...{ ...rest, jurisdiction: place.id, material, voc, coats, outside, overrides, notJudged },
    addedMl: added.reduce((a, { ml = 0 }) => a + ml, 0),
    leftMl: leftOf(of('CupEmptied')),
    solvents: solventsOf([...cleaned, ...withoutReplaced(of('SolventUsed'))]),
    cleanings: {
      count: cleaned.length,
      notSaid: cleaned.filter((entry) => numberIn(entry, 'solventMl') === null).length,
    },
    voids: counted(
      entries.flatMap(({ type, data }) => (type === 'EntryVoided' ? String(data.type) : [])),
    ),
  }
}
