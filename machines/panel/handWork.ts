import { moversOn } from '../clock/line.ts'
import { hasFlakes } from '../cup/paint.ts'
import type { Deciding } from '../deciding.ts'
import { liveIn } from '../live.ts'
import { MINUTE_MS, type Problem, type RefusalCode } from '../refusals.ts'
import { sheetAt } from '../sheet/fold.ts'
import type { ReadyFor } from '../sheet/intervals.ts'
import type { Stage } from '../sheet/schema.ts'
import { contextOf, type State } from '../state.ts'
import { climateOf } from './climate.ts'
import { type Abrasion, lastCoat, type PanelContext, type Step } from './context.ts'
import { type Known, readyAsked, readyAt, sandableAt } from './filmReady.ts'
import type { FoundPanel } from './find.ts'
import { isPrepared } from './layers.ts'

/** The rules of what is done by hand between coats. */

/** A cleaner has left the surface after this, a plastic one later. Common practice, no source. */
const CLEANER_MIN = 5
const CLEANER_PLASTIC_MIN = 10
const PLASTIC = /plast/i

const of = ({ id, panel }: FoundPanel) => ({ panel: id, about: panel.name })

/** Moving air dries so many times as fast as still air. Common practice, no source. */
const MOVERS_TIMES = 2

/** When what was degreased is dry, UTC ms, also under air movers; null where nothing was. */
export function cleanerDryAt(state: State, panel: PanelContext): number | null {
  const { degreasedAt, substrate } = panel
  if (degreasedAt === null) return null
  const climate = climateOf(state, panel)
  const changes = climate.stays
    .flatMap(({ fromMs, movers = [] }) => [fromMs, ...movers.map(({ at }) => at)])
    .filter((at) => at > degreasedAt)
    .sort((a, b) => a - b)
  let leftMs = (PLASTIC.test(substrate ?? '') ? CLEANER_PLASTIC_MIN : CLEANER_MIN) * MINUTE_MS
  let fromMs = degreasedAt
  for (const toMs of [...changes, Number.POSITIVE_INFINITY]) {
    const times = moversOn(climate, fromMs) ? MOVERS_TIMES : 1
    if ((toMs - fromMs) * times >= leftMs) return fromMs + Math.ceil(leftMs / times)
    leftMs -= (toMs - fromMs) * times
    fromMs = toMs
  }
  return fromMs
}

/** Over what a cleaner lifts or washes out. Common practice, no source. */
const CLEANED_OFF: readonly Stage[] = ['adhesion-promoter', 'base', 'midcoat']

/** Degreasing a film that a cleaner attacks: it is a fact, and marked. */
export function degreasedOver({ id, panel }: FoundPanel): Problem[] {
  const stage = panel.curedAt === null ? lastCoat(panel)?.opens?.stage : undefined
  if (stage === undefined || !CLEANED_OFF.includes(stage)) return []
  return [{ code: 'cleanerOver', limit: null, value: stage, panel: id, about: panel.name }]
}

/** What was degreased has to dry before the next coat. */
export function cleanerProblems(d: Deciding, p: FoundPanel): Problem[] {
  const limit = cleanerDryAt(d.state, p.panel)
  return limit !== null && d.at < limit
    ? [{ code: 'cleanerWet', limit, value: d.at, clearsAt: limit, ...of(p) }]
    : []
}

/** Whether a step's color has flakes in it, which show a place that was abraded through the clear; of a color whose kind nobody typed this is not known. */
function isEffect(d: Deciding, { panel }: FoundPanel, step: Step | undefined): boolean {
  const colours = contextOf(d.state, 'job', panel.job)?.colours ?? []
  const own = colours.filter(({ key }) => step?.colour === undefined || key === step.colour)
  return own.some(({ kind = '' }) => hasFlakes(kind))
}

/**
 * Whether the whole panel was abraded as the maker of the product to come has it over this layer, each time,
 * and nowhere else: that reopens it, flakes or not. What the shop said once is no maker's word on flakes.
 */
function isAbradedBySheet(d: Deciding, { panel, thing }: FoundPanel, target: number): boolean {
  const last = lastCoat(panel)
  const stage = panel.route[last?.step ?? -1]?.stage
  const sheet = sheetAt(d.state, panel.route[target]?.sheet, d.at)?.sheet
  const prep = sheet?.prepFor?.find(({ over }) => over === stage)
  const sinceMs = last?.finishedAt ?? 0
  if (!prep || (panel.denibbedAt !== null && panel.denibbedAt >= sinceMs)) return false
  const done = liveIn(thing.entries).flatMap(({ type, at, data }) =>
    type === 'PanelAbraded' && at >= sinceMs && at <= d.at && !data.overspray
      ? [data as Abrasion]
      : [],
  )
  const isInRange = (one: Abrasion) =>
    (one.grit === undefined ? prep.pads !== undefined : prep.gritMin !== undefined) &&
    (one.grit !== undefined || one.pad !== undefined) &&
    isPrepared(prep, one)
  return done.length > 0 && done.every(isInRange)
}

/**
 * Over a place where an effect base or a midcoat was denibbed, that has to go on again first; over a panel
 * that was abraded, unless that was done as the sheet of the product to come asks.
 * @param target the route index of the coat that is to begin
 */
export function wantsBaseProblems(d: Deciding, p: FoundPanel, target: number): Problem[] {
  const { route, wants } = p.panel
  const [wanted] = wants
  const stage = route[target]?.stage
  if (wanted === undefined || stage === undefined || stage === wanted) return []
  const step = route[lastCoat(p.panel)?.step ?? -1]
  const isSolid = step?.stage === 'base' && wants.length === 1 && !isEffect(d, p, step)
  if (isSolid || isAbradedBySheet(d, p, target)) return []
  return [{ code: 'wantsBase', limit: wanted, value: stage, ...of(p) }]
}

/** What a fact about work on a film was not judged by, as nobody has typed its figure. */
export function notKnownFor(d: Known, p: FoundPanel, what: ReadyFor | undefined): RefusalCode[] {
  if (what === undefined || readyAsked(d, p, what) === null) return []
  return [what === 'sand' ? 'sandEarly' : 'notReady']
}

/** The film is not ready for taping, polishing or handling. */
export function readyProblems(
  d: Deciding,
  p: FoundPanel,
  what: Exclude<ReadyFor, 'sand' | 'dustFree'>,
): Problem[] {
  // What is not dust free must not be carried about either.
  const limit = readyAt(d, p, what) ?? (what === 'handle' ? readyAt(d, p, 'dustFree') : undefined)
  if (limit === undefined || (limit !== null && d.at >= limit)) return []
  const clears = limit === null ? {} : { clearsAt: limit }
  return [{ code: 'notReady', limit, value: d.at, what, ...clears, ...of(p) }]
}

/** Sanding clogs and tears a film that is too fresh. */
export function sandProblems(d: Deciding, p: FoundPanel): Problem[] {
  const { limit, needsLook } = sandableAt(d, p) ?? { limit: d.at, needsLook: false }
  if (!needsLook && limit !== null && d.at >= limit) return []
  const clears = limit === null ? {} : { clearsAt: limit }
  return [{ code: 'sandEarly', limit, value: d.at, ...clears, ...of(p) }]
}
