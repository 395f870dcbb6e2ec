import { endsAt, moversOn } from '../clock/line.ts'
import { hasFlakes } from '../cup/paint.ts'
import type { Deciding } from '../deciding.ts'
import { liveIn } from '../live.ts'
import { MINUTE_MS, type Problem, type RefusalCode } from '../refusals.ts'
import { readyOver, sheetAt } from '../sheet/fold.ts'
import type { Opens, ReadyFor } from '../sheet/intervals.ts'
import type { Stage } from '../sheet/schema.ts'
import { contextOf, type State } from '../state.ts'
import { climateOf } from './climate.ts'
import { type Abrasion, lastCoat, type PanelContext, type Step } from './context.ts'
import type { FoundPanel } from './find.ts'
import { gateOf, latest } from './gate.ts'
import { isPrepared } from './layers.ts'
import { coolFrom } from './roomHeat.ts'

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

/** `at`, UTC ms: as it was known then. */
type Known = { readonly state: State; readonly at?: number }

/**
 * From when the sheet's times for work on the film count: after heat from when the part is cool, else
 * from the coat. Null where it cured in air: then it may be worked on.
 */
function readyFrom(
  d: Known,
  { panel }: Pick<FoundPanel, 'panel'>,
): { fromMs: number; isHeated: boolean } | null {
  const last = lastCoat(panel)
  const heat = panel.heats?.at(-1)
  if (!last) return null
  if (panel.curedAt === null) return { fromMs: last.finishedAt, isHeated: false }
  if (heat?.toMs !== panel.curedAt) return null
  return { fromMs: coolFrom(d.state, panel, d.at) ?? heat.toMs, isHeated: true }
}

/** What says when a film is ready for some work: its coat's entry, else its sheet or the shop since. */
const figureFor = (d: Known, { ready, sheet }: Opens, what: ReadyFor) =>
  ready?.[what] ?? readyOver(d.state, sheet, what, d.at ?? Number.MAX_SAFE_INTEGER)

/**
 * The product whose figure for some work on its film nobody has typed: it is asked for before its first
 * use, and until then a careful figure stands in for it.
 * @returns null where it is known or not needed: a base by eye, a film that cured in air
 */
export function readyAsked(d: Known, p: Pick<FoundPanel, 'panel'>, what: ReadyFor): string | null {
  const opens = lastCoat(p.panel)?.opens
  const from = readyFrom(d, p)
  if (!opens || !from || (what === 'sand' && isByEye(p.panel))) return null
  // Nobody carries a part before it is cool: that is known.
  if (what === 'handle' && (from.isHeated || figureFor(d, opens, 'dustFree'))) return null
  return figureFor(d, opens, what) === undefined ? opens.sheet : null
}

/** A base or midcoat that has not cured: matte to the eye it may be worked on. */
function isByEye(panel: PanelContext): boolean {
  const stage = lastCoat(panel)?.opens?.stage
  return (stage === 'base' || stage === 'midcoat') && panel.curedAt === null
}

/** When the film is ready for some work by its sheet; null where that never comes, undefined where it is not said. */
export function readyAt(
  d: Known,
  p: Pick<FoundPanel, 'panel'>,
  what: ReadyFor,
): number | null | undefined {
  const from = readyFrom(d, p)
  const opens = lastCoat(p.panel)?.opens
  if (!from || !opens) return undefined
  const figure = figureFor(d, opens, what)
  const climate = climateOf(d.state, p.panel)
  if (figure) return endsAt(figure, from.fromMs, climate)
  // Nobody sands, polishes or carries a part that is hot.
  if (from.isHeated) return from.fromMs
  // Nothing typed is not zero: paper and tape wait at least until another product might go on.
  if (what === 'handle' || what === 'dustFree') return undefined
  return latest(opens.flashBeforeNext, from.fromMs, climate)
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

/** Sanding clogs and tears a film that is too fresh: a base has to be matte, the others ready to sand. */
export function sandProblems(d: Deciding, p: FoundPanel): Problem[] {
  const last = lastCoat(p.panel)
  if (!last?.opens) return []
  const early = (limit: number | null): Problem => ({
    code: 'sandEarly',
    limit,
    value: d.at,
    ...(limit === null ? {} : { clearsAt: limit }),
    ...of(p),
  })
  if (!isByEye(p.panel)) {
    const limit = readyAt(d, p, 'sand')
    return limit === undefined || (limit !== null && d.at >= limit) ? [] : [early(limit)]
  }
  // As before its own next coat: matte to the eye and not before the floor, or its time.
  const gate = gateOf(d.state, p.panel, last.step, d.at)
  if (!gate) return []
  const limit = gate.needsLook ? gate.lookAt : gate.flashEndsAt
  const isOver = !gate.needsLook && limit !== null && d.at >= limit
  return isOver ? [] : [early(limit)]
}
