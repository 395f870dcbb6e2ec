import { zonesAround } from '../climate/neighbors.ts'
import { liveIn } from '../live.ts'
import { MINUTE_MS } from '../refusals.ts'
import { sheetAt } from '../sheet/fold.ts'
import { FOREVER_MS } from '../spans.ts'
import { contextOf, type State, thingOf } from '../state.ts'
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
function hasIsocyanate(state: State, coat: Coat | FinishedCoat): boolean {
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
  const isCleared = clearanceMin === null && endMs <= (context?.clearedAt ?? 0)
  const untilMs = clearanceMin === null || isSpraying ? null : endMs + clearanceMin * MINUTE_MS
  return isCleared ? null : { zone, untilMs, isSpraying, clearanceMin }
}

/** The zones in which isocyanates were sprayed and that nobody has cleared. Those with a clearance time stay in it: see untilMs. */
export const unclearedZones = (state: State): Uncleared[] =>
  lastOfZones(state).flatMap((coat) => unclearedBy(state, coat) ?? [])

/** A clearing, or a clearance time, that is voided is still undone so long after it. */
const UNDONE_MS = 12 * 60 * MINUTE_MS
/** Every such coat is held for so long, as it may be taken back; of those of before only the last of each zone. */
const EACH_MS = 7 * 24 * 60 * MINUTE_MS

const isocyanateIn = (state: State, { context: panel }: Thing<'panel'>, zone: string) =>
  panel.coats.filter((coat) => zoneAt(panel, coat.startedAt) === zone && hasIsocyanate(state, coat))

type Last = {
  readonly sheets: State['things']['sheet']
  readonly untilMs: number
  readonly ofZone: Map<string, number>
}
/** Every panel whose job is over asks for it, by the same panels and sheets. */
const last = new WeakMap<State['things']['panel'], Last>()

/** When the last coat of isocyanates in a zone until an instant ended, UTC ms. The panel that it is on is held by whoever folds. */
function lastCoatIn(state: State, zone: string, untilMs: number): number {
  const { panel, sheet } = state.things
  let known = last.get(panel)
  if (known?.sheets !== sheet || known.untilMs !== untilMs) {
    known = { sheets: sheet, untilMs, ofZone: new Map() }
    last.set(panel, known)
  }
  const found = known.ofZone.get(zone) ?? lastOfAllIn(state, zone, untilMs)
  known.ofZone.set(zone, found)
  return found
}

const lastOfAllIn = (state: State, zone: string, untilMs: number): number =>
  Object.values(state.things.panel)
    .flatMap((thing) => isocyanateIn(state, thing, zone).map(({ finishedAt }) => finishedAt))
    .reduce((latest, at) => (at <= untilMs ? Math.max(latest, at) : latest), 0)

/** When a zone was found clear, each time, UTC ms. */
function clearingsOf(state: State, zone: string): number[] {
  const entries = thingOf(state, { kind: 'zone', id: zone })?.entries ?? []
  const told = entries.filter(({ type }) => type === 'ZoneCleared' || type === 'EntryVoided')
  return liveIn(told).map(({ at }) => at)
}

/**
 * Whether a panel stays in the state although its job is over: of a zone without a clearance time the
 * last coat is held until a person has cleared it, so that no week and no month takes the mask off.
 * @param now UTC ms
 */
export function isHeldForAir(state: State, thing: Thing<'panel'>, now: number): boolean {
  const zones = new Set(thing.context.stays.map(({ zone }) => zone))
  return [...zones].some((id) => {
    const zone = contextOf(state, 'zone', id)
    if (zone?.clearsSince !== undefined && zone.clearsSince + UNDONE_MS <= now) return false
    const clearings = clearingsOf(state, id)
    return isocyanateIn(state, thing, id).some(({ finishedAt }) => {
      // What the first clearing let go of comes back by no later one.
      const clearedAt = clearings.find((at) => at >= finishedAt) ?? FOREVER_MS
      return now < clearedAt + UNDONE_MS && finishedAt >= lastCoatIn(state, id, now - EACH_MS)
    })
  })
}

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
