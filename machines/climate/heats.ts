import type { AirReading, Heated } from '../clock/air.ts'
import { countUntil, lastBefore } from '../clock/line.ts'
import { findings } from '../lineage.ts'
import { type Cure, type PanelContext, type PastHeat, zoneAt } from '../panel/context.ts'
import { contextOf, type State } from '../state.ts'
import type { ZoneContext } from './context.ts'

/**
 * The heat that a zone was in, as its panels know it. A bake warms all that stands there: for what must
 * not take too long the zone is as warm as the bake was set to, until a lower reading after its end.
 */

/** A panel's heat; it has no end while it runs. */
export type ZoneHeat = Omit<PastHeat, 'toMs'> & { readonly toMs: number | null }

const running = ({ cure }: PanelContext): ZoneHeat[] => {
  if (!cure || cure.mode === 'air') return []
  const { mode, startedAt: fromMs, setC }: Cure = cure
  return [{ mode, fromMs, toMs: null, ...(setC === undefined ? {} : { setC }) }]
}

/** The heat that a panel was or is in. */
export const heatsOf = (panel: PanelContext): readonly ZoneHeat[] => [
  ...(panel.heats ?? []),
  ...running(panel),
]

const closedAt = (state: State, job: string): number | null =>
  contextOf(state, 'job', job)?.closedAt ?? null

/** The heat that a panel was or is in, for all that stands around: the close of its job ends it, as nobody can after that. */
export const heatsAround = (state: State, panel: PanelContext): readonly ZoneHeat[] =>
  heatsOf(panel).map((heat) => ({ ...heat, toMs: heat.toMs ?? closedAt(state, panel.job) }))

type Panels = State['things']['panel']
type Known = {
  readonly ofZone: ReadonlyMap<string, readonly ZoneHeat[]>
  /** The panels that were or are in heat. */
  readonly heated: ReadonlySet<string>
  /** When the jobs were closed of which a panel is in heat. */
  readonly closedAt: ReadonlyMap<string, number | null>
}
/** Every clock of a zone asks for them, and what the panels know is never changed. */
const byPanels = findings<Panels, Known>()

// Of most panels there is none.
const isOfHeat = ({ heats, cure }: PanelContext): boolean => Boolean(heats?.length || cure)

/** What was found of the panels as they were, where no heat has come or gone since. */
function knownOf(panels: Panels): Known | null {
  const found = byPanels.since(panels)
  const isOther = (id: string) =>
    found?.was.heated.has(id) || (panels[id] !== undefined && isOfHeat(panels[id].context))
  return found === null || found.ids.some(isOther) ? null : found.was
}

function zones(state: State): Known['ofZone'] {
  const { panel: panels } = state.things
  const known = knownOf(panels)
  if (known && [...known.closedAt].every(([job, at]) => closedAt(state, job) === at))
    return byPanels.keep(panels, known).ofZone
  const ofZone = new Map<string, ZoneHeat[]>()
  const heated = new Set<string>()
  const closed = new Map<string, number | null>()
  for (const [id, { context }] of Object.entries(panels)) {
    if (!isOfHeat(context)) continue
    heated.add(id)
    if (context.cure) closed.set(context.job, closedAt(state, context.job))
    for (const heat of heatsAround(state, context)) {
      const zone = zoneAt(context, heat.fromMs)
      ofZone.set(zone, [...(ofZone.get(zone) ?? []), heat])
    }
  }
  return byPanels.keep(panels, { ofZone, heated, closedAt: closed }).ofZone
}

const NO_HEATS: readonly ZoneHeat[] = []

/** All heat of a zone that its panels know of, in no order. The same list as long as these panels know of it. */
export const heatsIn = (state: State, zone: string): readonly ZoneHeat[] =>
  zones(state).get(zone) ?? NO_HEATS

const NOTHING: readonly Heated[] = []

/** The first of some items after an instant that says it is cooler; Infinity where none does. */
function coolerAt<T extends { readonly at: number }>(
  items: readonly T[],
  afterMs: number,
  isCooler: (item: T) => boolean,
): number {
  for (let i = countUntil(items, afterMs); i < items.length; i += 1) {
    const item = items[i] as T
    if (isCooler(item)) return item.at
  }
  return Number.POSITIVE_INFINITY
}

/** Until when what stands in a zone counts as being as warm as a bake was set to. */
export function heatedIn(
  state: State,
  zone: string,
  air: ZoneContext | undefined,
): readonly Heated[] {
  const baked = heatsIn(state, zone)
  if (baked.length === 0) return NOTHING
  const { readings = [], ranges = [] } = air ?? {}
  return baked.flatMap(({ mode, fromMs, toMs, setC }) => {
    if (mode !== 'bake' || setC === undefined) return []
    if (toMs === null) return [{ fromMs, untilMs: Number.POSITIVE_INFINITY, setC }]
    const read = coolerAt(readings, toMs, ({ airC }) => airC < setC)
    // Without an instrument a person's word on the day's air says it as well.
    const said = coolerAt(ranges, toMs, ({ maxC }) => maxC < setC)
    return [{ fromMs, untilMs: Math.min(read, said), setC }]
  })
}

/** Whether there was heat in a zone between two instants. */
export const wasHeatedIn = (state: State, zone: string, fromMs: number, untilMs: number): boolean =>
  heatsIn(state, zone).some(
    (heat) => heat.fromMs <= untilMs && (heat.toMs === null || heat.toMs >= fromMs),
  )

const bakesAt =
  (at: number) =>
  ({ mode, fromMs, toMs }: ZoneHeat): boolean =>
    mode === 'bake' && fromMs <= at && (toMs === null || at <= toMs)

/** Whether a zone was baked at an instant: what was read of its air then says nothing of the air before or after. */
export const isBakedAt = (state: State, zone: string, at: number): boolean =>
  heatsIn(state, zone).some(bakesAt(at))

/**
 * Since when a zone's readings have to be known for what waits from an instant on, UTC ms: where the last one was read in
 * a bake, the one before that bake counts for what was not baked itself.
 */
export function sinceCool(
  state: State,
  zone: string,
  readings: readonly AirReading[],
  fromMs: number,
): number {
  const heats = heatsIn(state, zone)
  let since = fromMs
  // Of most zones nothing was baked.
  while (heats.length > 0) {
    const { at } = lastBefore(readings, since) ?? {}
    const bakes = at === undefined ? [] : heats.filter(bakesAt(at))
    if (bakes.length === 0) return since
    since = Math.min(...bakes.map((heat) => heat.fromMs)) - 1
  }
  return since
}

/** By which readings of a zone waits what was not baked then itself; nothing where the zone never was. */
export const coolIn = <R extends AirReading>(
  state: State,
  zone: string,
  readings: readonly R[],
  own: readonly ZoneHeat[] = [],
): { readonly cool?: readonly R[] } =>
  heatsIn(state, zone).length === 0
    ? {}
    : {
        cool: readings.filter(({ at }) => !isBakedAt(state, zone, at) || own.some(bakesAt(at))),
      }
