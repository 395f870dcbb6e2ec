import { zonesAround } from '../climate/neighbors.ts'
import { MINUTE_MS } from '../refusals.ts'
import { sheetAt } from '../sheet/fold.ts'
import { contextOf, type State } from '../state.ts'
import type { Thing } from '../things.ts'
import { type Coat, type FinishedCoat, type PanelContext, zoneAt } from './context.ts'
import { cleanings } from './gunVapor.ts'
import { isInWork, routeState } from './where.ts'

/**
 * Where isocyanates are still in the air. A zone is clear its clearance time after the last such coat
 * ended in it; where none was set, when a person says how it was found to be clear. Nothing else
 * clears it: no finish, no closing of a job or of a day, no restart.
 */

const cupSheets = (state: State, { cups }: Coat) =>
  cups.map((id) => contextOf(state, 'cup', id)?.sheet)

/**
 * A product whose sheet does not say counts as one with isocyanates. A coat that is on knows its product
 * itself: its cup may be evicted.
 */
export function hasIsocyanate(state: State, coat: Coat | FinishedCoat): boolean {
  const own = 'finishedAt' in coat ? [coat.opens?.sheet] : cupSheets(state, coat)
  const ids = own.flatMap((id) => (id ? [id] : []))
  if (ids.length === 0) return true
  return ids.some((id) => isIsocyanate(state, id, coat.startedAt))
}

type Sprayed = {
  readonly zone: string
  /** Infinity while it runs. */
  readonly endMs: number
}

const coatsOf = ({ coats, open }: PanelContext): readonly (Coat | FinishedCoat)[] =>
  open ? [...coats, open] : coats

/** A coat that still ran when its panel was taken off the job ended then. */
function endOf(coat: Coat | FinishedCoat, { value, entries }: Thing<'panel'>): number {
  if ('finishedAt' in coat) return coat.finishedAt
  return isInWork(routeState(value)) ? Number.POSITIVE_INFINITY : (entries.at(-1)?.at ?? 0)
}

const isIsocyanate = (state: State, sheet: string, at: number): boolean =>
  sheetAt(state, sheet, at)?.sheet.hazards?.isocyanate ?? true

/** Coats, and guns that were cleaned of such a product. */
const sprayed = (state: State): Sprayed[] => [
  ...Object.values(state.things.panel).flatMap((thing) =>
    coatsOf(thing.context)
      .filter((coat) => hasIsocyanate(state, coat))
      .map((coat) => ({ zone: zoneAt(thing.context, coat.startedAt), endMs: endOf(coat, thing) })),
  ),
  ...cleanings(state)
    .filter(({ sheets, at }) => sheets.some((id) => id === null || isIsocyanate(state, id, at)))
    .map(({ zone, at }) => ({ zone, endMs: at })),
]

/** The last such coat of each zone. */
function lastOfZones(state: State): Sprayed[] {
  const last = new Map<string, Sprayed>()
  for (const coat of sprayed(state)) {
    if (coat.endMs > (last.get(coat.zone)?.endMs ?? 0)) last.set(coat.zone, coat)
  }
  return [...last.values()]
}

export type Uncleared = {
  readonly zone: string
  /** Null while such a coat runs, and without a clearance time: then it ends by no clock. */
  readonly untilMs: number | null
  readonly isSpraying: boolean
  /** Null where none was set. */
  readonly clearanceMin: number | null
}

function unclearedBy(state: State, { zone, endMs }: Sprayed): Uncleared | null {
  const context = contextOf(state, 'zone', zone)
  const clearanceMin = context?.spec?.clearanceMin ?? null
  const isSpraying = endMs === Number.POSITIVE_INFINITY
  const isEndedBy = (at = 0) => endMs <= at
  const isCleared =
    clearanceMin === null && (isEndedBy(context?.clearedAt) || isEndedBy(context?.airedUntil))
  const untilMs = clearanceMin === null || isSpraying ? null : endMs + clearanceMin * MINUTE_MS
  return isCleared ? null : { zone, untilMs, isSpraying, clearanceMin }
}

/** The zones in which isocyanates were sprayed and that nobody has cleared. Those with a clearance time stay in it: see untilMs. */
export const unclearedZones = (state: State): Uncleared[] =>
  lastOfZones(state).flatMap((coat) => unclearedBy(state, coat) ?? [])

/** What is said of a zone: of its own air, and of that of the zones that it opens to. */
export type Breathing = Uncleared & {
  /** The zone in which it was sprayed. */
  readonly from: string
}

/** Where a mask stays on: every zone that is not clear, and every one that shares its air. */
export const breathingIn = (state: State): Breathing[] =>
  unclearedZones(state).flatMap((one) =>
    zonesAround(state, one.zone).map((zone) => ({ ...one, zone, from: one.zone })),
  )
