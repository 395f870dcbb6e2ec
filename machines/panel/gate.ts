import type { Climate } from '../clock/air.ts'
import { endsAt, type Interval, moversOn } from '../clock/line.ts'
import { MINUTE_MS } from '../refusals.ts'
import { dropOverAt, prepOver, sheetAt } from '../sheet/fold.ts'
import { overFigures } from '../sheet/intervals.ts'
import type { State } from '../state.ts'
import { beganAt } from './began.ts'
import { climateOf } from './climate.ts'
import { type CoatKind, type FinishedCoat, lastCoat, type PanelContext } from './context.ts'
import { kindWait } from './kindWait.ts'
import {
  firstCoats,
  isPrepared,
  type Layer,
  openLayers,
  withinFirst,
  withoutPart,
} from './layers.ts'
import { type Coming, isAbraded, opensByOf } from './reopens.ts'
import { curedShutters, hasWindowOfBake, type Shutter, windowShutter } from './shutters.ts'

const NOT_YET_MS = 2 * MINUTE_MS
/** Later than any entry: the version of a sheet that is in force now. */
export const LATEST = Number.MAX_SAFE_INTEGER

/** Between the last coat and the next one: from when it is ready, and until when. */
export type Gate = {
  readonly after: FinishedCoat
  /** When the first of the clocks under it began, UTC ms. */
  readonly sinceMs: number
  /** End of flash, UTC ms; null when the film does not flash in this air. For an appearance flash the floor. */
  readonly flashEndsAt: number | null
  /** An appearance flash that was not yet seen matt: the coat needs a look, not a clock. */
  readonly needsLook: boolean
  /** When to look: a forecast. Null when no look is needed, or the film does not flash in this air. */
  readonly lookAt: number | null
  readonly shutters: readonly Shutter[]
  /** Seen matte under air movers of which the sheet gives no figure. */
  readonly isForced?: boolean
}

/** The latest end of several waits; null when one never ends. */
export function latest(
  intervals: readonly Interval[],
  startMs: number,
  climate: Climate,
): number | null {
  const ends = intervals.map((interval) => endsAt(interval, startMs, climate))
  return ends.some((end) => end === null)
    ? null
    : Math.max(startMs, ...ends.filter((e) => e !== null))
}

type Times = Omit<Gate, 'after' | 'sinceMs'>

/** Into a wet coat there is no wait; where it is wet for so long only, it has to flash after that. */
function wetGate(
  withinMin: number | undefined,
  finishedAt: number,
  forecastAt: number | null,
  shutters: readonly Shutter[],
): Times {
  const shutsAt = finishedAt + Math.round((withinMin ?? 0) * MINUTE_MS)
  const isPassing = withinMin !== undefined && (forecastAt === null || forecastAt > shutsAt)
  const tacky: Shutter[] = isPassing
    ? [{ why: 'window', shutsAt, opensAgainAt: forecastAt, opensBy: null }]
    : []
  const all = [...shutters, ...tacky]
  return { flashEndsAt: finishedAt, needsLook: false, lookAt: null, shutters: all }
}

/** The gate of one layer under the coming coat. */
function layerGate(
  state: State,
  layer: Layer,
  coming: Coming,
  panel: PanelContext,
  climate: Climate,
): Times {
  const { coat, opens, worked } = layer
  const isSameStep = coat.step === coming.target
  const { flashMs: finishedAt, windowMs: windowFrom } = beganAt(state, panel, coat, isSameStep)
  const over = isSameStep
    ? { flashBeforeNext: [], recoatWithin: null }
    : overFigures(coming.sheet, opens)
  const wait = isSameStep ? kindWait(opens, coming.kind, coming.dropOver) : undefined
  const flash = isSameStep
    ? wait?.by === 'clock'
      ? wait.flash
      : opens.flashBetween
    : [...opens.flashBeforeNext, ...over.flashBeforeNext]
  const forecastAt = latest(flash, finishedAt, climate)
  const again = opens.recoatAgainAfter
  const isOfBake = hasWindowOfBake(opens, panel, worked.curedAt)
  const shutters = [
    ...(isOfBake
      ? []
      : windowShutter(opens, opens.recoatWithin, again, windowFrom, climate, isSameStep)),
    ...windowShutter(opens, over.recoatWithin, null, windowFrom, climate, isSameStep),
    ...curedShutters(opens, worked.curedAt, isOfBake, climate),
  ]
    .filter((shutter) => !isAbraded(layer, shutter, coming))
    .map((shutter): Shutter => ({ ...shutter, opensBy: opensByOf(layer, shutter, coming, panel) }))
  if (opens.stage === 'blender' && !isSameStep) {
    const isBed = coat === lastCoat(panel)
    // A wet bed is there to be sprayed into. What is left of it beside that dries, and is wanted wet no more.
    return {
      flashEndsAt: isBed ? coat.finishedAt : forecastAt,
      needsLook: false,
      lookAt: null,
      shutters: isBed ? shutters : shutters.filter(({ why }) => why !== 'window'),
    }
  }
  if (wait?.by === 'wet') {
    const flashedAt = latest(opens.flashBeforeNext, finishedAt, climate)
    return wetGate(wait.withinMin, coat.finishedAt, flashedAt, shutters)
  }
  const floorAt = finishedAt + Math.round(opens.floorMin * MINUTE_MS)
  const [own] = opens.flashBeforeNext
  const isSeen = coat === lastCoat(panel) && panel.mattAt !== null
  const hasFigure = own?.waterborneRhRef === undefined || own.forcedMin !== undefined
  if (isSeen && !hasFigure && moversOn(climate, panel.mattAt ?? 0)) {
    return { flashEndsAt: floorAt, needsLook: false, lookAt: null, shutters, isForced: true }
  }
  const isByEye = wait ? wait.by === 'eye' : opens.flashBy === 'appearance'
  // What lies lower was looked at before the coat over it.
  if (!isByEye || coat !== lastCoat(panel)) {
    return { flashEndsAt: forecastAt, needsLook: false, lookAt: null, shutters }
  }
  const needsLook = panel.mattAt === null
  // Another product waits for the sheet's own time as well: matte is only the surface.
  const waitsForTime = !isSameStep && opens.countsTime === true
  const timeAt = forecastAt === null ? null : Math.max(forecastAt, floorAt)
  return {
    flashEndsAt: waitsForTime ? timeAt : floorAt,
    needsLook,
    lookAt: needsLook ? lookAt(forecastAt, floorAt, panel.notYetAt) : null,
    shutters,
  }
}

/** When a panel was last abraded as the product to come asks for, UTC ms; 0 for never. */
function preparedAt(
  { coats, abradedAt, abrasion }: PanelContext,
  { prepOver: prepOf }: Coming,
): number {
  const all = [...coats.flatMap(({ worked, opens }) => (worked ? [{ ...worked, opens }] : []))]
  const last = { abradedAt, abrasion, opens: coats.at(-1)?.opens ?? null }
  const fit = [...all, last].filter(({ abrasion: how, opens }) =>
    isPrepared(opens ? prepOf(opens.stage) : undefined, how),
  )
  return Math.max(0, ...fit.flatMap((one) => one.abradedAt ?? []))
}

/** The one window that reaches through layers: clear within so long of the first coat of a base. */
function firstCoatShutters(panel: PanelContext, coming: Coming, climate: Climate): Shutter[] {
  if (panel.route[coming.target]?.stage !== 'clear') return []
  // Abraded as the clear asks for, what is on begins anew: without that nothing would lead out of it.
  const abradedAt = preparedAt(panel, coming)
  const since = panel.coats.filter(({ startedAt }) => startedAt >= abradedAt)
  const shutters = (coats: PanelContext['coats']) =>
    firstCoats({ ...panel, coats }).flatMap(({ opens, finishedAt }) =>
      withinFirst(opens).flatMap((interval) => {
        const shutsAt = endsAt(interval, finishedAt, climate)
        if (shutsAt === null) return []
        // Abraded too late, a sheet may ask for a coat as well.
        const isByPaper = opens?.afterWindow === 'abrade'
        const isLate = shutsAt <= abradedAt
        const opensBy = isByPaper ? 'abrade' : isLate ? 'recoat' : 'abradeAndRecoat'
        return [{ why: 'window' as const, shutsAt, opensAgainAt: null, opensBy } as const]
      }),
    )
  return since.length > 0
    ? shutters(since)
    : shutters(panel.coats).filter(({ opensBy }) => opensBy === 'recoat')
}

/**
 * The gate of a coat on a step: of every layer that lies open under it the latest flash, and each
 * window.
 * @param state for the climate and the later sheet's own word (`over`), which is read until the coat starts
 * @param target the route index of the step that the coat belongs to
 * @param at UTC ms; which version of the later sheet counts; LATEST for what is to come
 * @returns null when no coat is on, or its product is not known: nothing to wait for
 */
export function gateOf(
  state: State,
  panel: PanelContext,
  target: number,
  at: number,
  kind: CoatKind = 'full',
): Gate | null {
  const last = lastCoat(panel)
  const gate = wholeGate(state, panel, target, at, kind)
  const under = withoutPart(panel)
  if (!gate || !last || !under || last.step !== target) return gate
  // A coat that was broken off goes on where it stopped, which has no coat yet: what lies under it
  // must not be shut, and neither must the part that is on.
  const before = wholeGate(state, under, target, at, kind)
  return {
    ...gate,
    sinceMs: Math.min(gate.sinceMs, before?.sinceMs ?? gate.sinceMs),
    flashEndsAt: last.finishedAt,
    needsLook: false,
    lookAt: null,
    shutters: [...gate.shutters, ...(before?.shutters ?? [])],
  }
}

/** The gate of a coat over all of what is on. */
function wholeGate(
  state: State,
  panel: PanelContext,
  target: number,
  at: number,
  kind: CoatKind,
): Gate | null {
  const after = lastCoat(panel)
  if (!after?.opens) return null
  const climate = climateOf(state, panel)
  const id = panel.route[target]?.sheet
  const sheet = sheetAt(state, id, at)?.sheet
  const coming: Coming = {
    ...{ target, kind, sheet },
    dropOver: dropOverAt(state, after.opens.sheet, at),
    prepOver: (over) => prepOver(state, id, over, at),
  }
  const layers = openLayers(panel, target)
  const gates = layers.map((layer) => layerGate(state, layer, coming, panel, climate))
  const flashes = gates.map(({ flashEndsAt }) => flashEndsAt)
  const [own] = gates as [Times, ...Times[]]
  return {
    after,
    sinceMs: Math.min(
      ...layers.map(({ coat }) => coat.finishedAt),
      ...firstCoats(panel).map(({ finishedAt }) => finishedAt),
    ),
    flashEndsAt: flashes.some((end) => end === null)
      ? null
      : Math.max(...flashes.filter((end) => end !== null)),
    ...(own.isForced ? { isForced: true } : {}),
    needsLook: own.needsLook,
    lookAt: own.lookAt,
    shutters: [
      ...gates.flatMap(({ shutters }) => shutters),
      ...firstCoatShutters(panel, coming, climate),
    ],
  }
}

/** The minutes are a forecast; "not yet" adds two; the floor is the least. */
function lookAt(
  forecastAt: number | null,
  floorAt: number,
  notYetAt: number | null,
): number | null {
  if (forecastAt === null) return null
  return Math.max(forecastAt, floorAt, notYetAt === null ? 0 : notYetAt + NOT_YET_MS)
}
