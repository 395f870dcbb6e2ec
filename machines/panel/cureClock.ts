import type { Climate, PartReading } from '../clock/air.ts'
import { endsAt, STALE_MS } from '../clock/line.ts'
import { MINUTE_MS } from '../refusals.ts'
import { type Heat, heatWaits } from '../sheet/heatFlash.ts'
import { type BakeFigure, type CureFigures, curesOf } from '../sheet/intervals.ts'
import type { State } from '../state.ts'
import { climateOf, PART_HOLD_MS } from './climate.ts'
import type { Cure, PanelContext } from './context.ts'

/** A stretch of a bake at one temperature; unmeasured stretches are not there at all. */
type Stretch = { readonly fromMs: number; readonly toMs: number; readonly tempC: number }

/** A cure, and what is known of how warm it was. */
type Baking = {
  readonly cure: Cure
  readonly parts: PanelContext['parts']
  readonly climate: Climate
}

/** When the air of a bake is first sensed below a temperature after an instant. */
function cooledAt({ stays }: Climate, afterMs: number, tempC: number): number {
  const cooler = stays.flatMap((stay, i) => {
    const untilMs = stays[i + 1]?.fromMs ?? Number.POSITIVE_INFINITY
    const fromMs = Math.max(afterMs, i === 0 ? 0 : stay.fromMs)
    return stay.readings
      .filter(({ at, airC }) => at > fromMs && at < untilMs && airC < tempC)
      .map(({ at }) => at)
  })
  return Math.min(Number.POSITIVE_INFINITY, ...cooler)
}

/** Until when a measured part counts as being as warm. In a bake that runs it holds for the figure that it reaches. */
function heldUntil({ cure, climate }: Baking, part: PartReading, { tempC }: BakeFigure): number {
  const isOfBake = cure.lagC !== undefined && part.at >= cure.startedAt && part.partC >= tempC
  return isOfBake ? cooledAt(climate, part.at, tempC) : part.at + PART_HOLD_MS
}

/**
 * The estimates and measurements of the part in a cure, also from shortly before the cure began,
 * each for as long as it is valid; a later one ends it. Where the air is said to be at a temperature, the
 * part is no warmer than its lag behind what the bake is set to allows.
 */
function heldParts(baking: Baking, figure: BakeFigure): (Stretch & { isEstimated: boolean })[] {
  const { cure, parts: measured } = baking
  const said = cure.parts.filter((part) => part.isEstimated)
  const mostC = hottestC(cure, 'part')
  return [
    ...said.map(({ at, partC, ofAir }) => ({
      fromMs: at,
      toMs: Number.POSITIVE_INFINITY,
      tempC: ofAir && figure.basis === 'part' ? Math.min(partC, mostC) : partC,
      isEstimated: true,
    })),
    ...measured.map((part) => ({
      fromMs: part.at,
      toMs: heldUntil(baking, part, figure),
      tempC: part.partC,
      isEstimated: false,
    })),
  ]
}

/** How warm a part can be in a bake of this setting, by what its sheet's figure is about, °C. */
function hottestC({ setC, lagC = 0 }: Cure, basis: BakeFigure['basis']): number {
  return setC === undefined ? Number.POSITIVE_INFINITY : setC - (basis === 'part' ? lagC : 0)
}

/**
 * The bake point that a part is said to have reached that is "at temperature": the hottest that the
 * setting allows, the coolest where none fits or nobody said what it is set to; null where no bake is on.
 */
export function bakePoint({ cure }: PanelContext): BakeFigure | null {
  const all = cure ? curesOf(cure.figures).flatMap(({ bake }) => bake) : []
  const sorted = all.toSorted((a, b) => a.tempC - b.tempC)
  const fits = ({ tempC, basis }: BakeFigure) =>
    cure?.setC !== undefined && tempC <= hottestC(cure, basis)
  return sorted.findLast(fits) ?? sorted[0] ?? null
}

/** The last known temperature of a part in a cure: a reading from shortly before it counts too. */
export function lastPart({ cure, parts }: PanelContext): Cure['parts'][number] | undefined {
  const own = cure?.parts.at(-1)
  if (cure === null || own !== undefined) return own
  const before = parts.at(-1)
  const isHeld = before !== undefined && before.at > cure.startedAt - PART_HOLD_MS
  return isHeld ? { ...before, isEstimated: false } : undefined
}

/** The air around the panel: that of each zone while it was there. */
const heldAir = ({ stays }: Climate): Stretch[] =>
  stays.flatMap((stay, i) => {
    const fromMs = i === 0 ? 0 : stay.fromMs
    const untilMs = stays[i + 1]?.fromMs ?? Number.POSITIVE_INFINITY
    return stay.readings
      .filter((r) => r.at < untilMs)
      .map((r) => ({
        fromMs: Math.max(r.at, fromMs),
        toMs: Math.min(r.at + STALE_MS, untilMs),
        tempC: r.airC,
      }))
  })

/**
 * What was measured of a bake: only from its start on. A measured part holds for 10 min, or while it
 * is warm enough for the figure until the air is sensed below it; air for 30, an estimate ("at
 * temperature") until the next reading or the end.
 */
function stretches(baking: Baking, figure: BakeFigure): Stretch[] {
  const { cure, climate } = baking
  const parts = heldParts(baking, figure)
  const held: Stretch[] =
    figure.basis === 'part' ? parts : [...heldAir(climate), ...parts.filter((p) => p.isEstimated)]
  // Sorting keeps the order of what begins at one moment: the air zone by zone as the panel went,
  // then the estimates of the part, then its measurements. The last of them counts.
  held.sort((a, b) => a.fromMs - b.fromMs)
  return held.flatMap(({ tempC, ...span }, i) => {
    const fromMs = Math.max(span.fromMs, cure.startedAt)
    const toMs = Math.min(span.toMs, held[i + 1]?.fromMs ?? Number.POSITIVE_INFINITY)
    return toMs > fromMs ? [{ fromMs, toMs, tempC }] : []
  })
}

/** When a bake figure's minutes at its temperature are complete; null when the known time is not enough. */
function figureEndsAt(figure: BakeFigure, baking: Baking): number | null {
  let leftMs = Math.round(figure.minutes * MINUTE_MS)
  for (const stretch of stretches(baking, figure)) {
    if (stretch.tempC < figure.tempC) continue
    if (stretch.toMs - stretch.fromMs >= leftMs) return stretch.fromMs + leftMs
    leftMs -= stretch.toMs - stretch.fromMs
  }
  return null
}

/** Minutes at temperature so far, by figure: what the record and the Wall show. */
export function bakedMs(state: State, panel: PanelContext, until: number): number[] {
  const { cure } = panel
  if (!cure) return []
  const baking = { cure, parts: panel.parts, climate: climateOf(state, panel) }
  const bakes = curesOf(cure.figures).flatMap(({ bake }) => bake)
  return bakes.map((figure) =>
    stretches(baking, figure)
      .filter((s) => s.tempC >= figure.tempC && s.fromMs < until)
      .reduce((sum, s) => sum + Math.min(s.toMs, until) - s.fromMs, 0),
  )
}

/** Whether a coat without its activator is on: until it is taken off nothing over it cures either. */
export const neverCures = ({ coats }: PanelContext): boolean =>
  coats.some(({ opens }) => opens?.neverCures)

/**
 * When a running cure is over: an air cure by its clock, infrared by its minutes, a bake when any
 * one of its figures is complete. Where several mixes are in the film, when that holds of each.
 * @returns UTC ms; null when it cannot be foreseen (a bake that is not measured, a sheet without the cure)
 */
export function cureEndsAt(state: State, panel: PanelContext): number | null {
  const { cure } = panel
  if (!cure || neverCures(panel)) return null
  const baking = { cure, parts: panel.parts, climate: climateOf(state, panel) }
  const ends = curesOf(cure.figures).map((figures) => oneEndsAt(figures, baking))
  return ends.some((end) => end === null) ? null : Math.max(...ends.filter((end) => end !== null))
}

function oneEndsAt({ air, bake, infrared }: CureFigures, baking: Baking): number | null {
  const { cure, climate } = baking
  if (cure.mode === 'air') return air && endsAt(air, cure.startedAt, climate)
  if (cure.mode === 'infrared') {
    return infrared && cure.startedAt + Math.round(infrared.minutes * MINUTE_MS)
  }
  const ends = bake.map((figure) => figureEndsAt(figure, baking)).filter((end) => end !== null)
  return ends.length === 0 ? null : Math.min(...ends)
}

/**
 * When the film is ready for heat: the end of the flash before heat. A bake may follow any of the
 * sheet's figures, so the longest flash before heat binds.
 * @returns null when no coat is on, or the product has no such cure, or nobody knows its flash before
 * heat, or it does not flash in this air
 */
export function heatFromAt(state: State, panel: PanelContext, mode: Heat): number | null {
  const last = panel.coats.at(-1)
  if (!last?.opens) return null
  const waits = heatWaits(state, last.opens, mode)
  if (waits === null || waits.length === 0) return null
  const climate = climateOf(state, panel)
  const ends = waits.map((wait) => endsAt(wait, last.share?.passToMs ?? last.finishedAt, climate))
  return ends.some((end) => end === null) ? null : Math.max(...ends.filter((end) => end !== null))
}
