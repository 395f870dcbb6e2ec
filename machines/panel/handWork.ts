import { endsAt } from '../clock/line.ts'
import { hasFlakes } from '../cup/paint.ts'
import type { Deciding } from '../deciding.ts'
import { MINUTE_MS, type Problem } from '../refusals.ts'
import type { ReadyFor } from '../sheet/intervals.ts'
import { contextOf } from '../state.ts'
import { climateOf } from './climate.ts'
import { lastCoat, type PanelContext, type Step } from './context.ts'
import type { FoundPanel } from './find.ts'
import { gateOf } from './gate.ts'
import { coolFrom } from './roomHeat.ts'

/** The rules of what is done by hand between coats. */

/** A cleaner has left the surface after this, a plastic one later. Common practice, no source. */
const CLEANER_MIN = 5
const CLEANER_PLASTIC_MIN = 10
const PLASTIC = /plast/i

const of = ({ id, panel }: FoundPanel) => ({ panel: id, about: panel.name })

/** When what was degreased is dry, UTC ms; null where nothing was. */
export function cleanerDryAt({ degreasedAt, substrate }: PanelContext): number | null {
  if (degreasedAt === null) return null
  const minutes = PLASTIC.test(substrate ?? '') ? CLEANER_PLASTIC_MIN : CLEANER_MIN
  return degreasedAt + minutes * MINUTE_MS
}

/** What was degreased has to dry before the next coat. */
export function cleanerProblems(d: Deciding, p: FoundPanel): Problem[] {
  const limit = cleanerDryAt(p.panel)
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
 * Over a place where an effect base or a midcoat was denibbed, that has to go on again first.
 * @param target the route index of the coat that is to begin
 */
export function wantsBaseProblems(d: Deciding, p: FoundPanel, target: number): Problem[] {
  const { route, wants } = p.panel
  const [wanted] = wants
  const stage = route[target]?.stage
  if (wanted === undefined || stage === undefined || stage === wanted) return []
  const step = route[lastCoat(p.panel)?.step ?? -1]
  const isSolid = step?.stage === 'base' && wants.length === 1 && !isEffect(d, p, step)
  return isSolid ? [] : [{ code: 'wantsBase', limit: wanted, value: stage, ...of(p) }]
}

/**
 * From when the sheet's times for work on the film count: after heat from when the part is cool, else
 * from the coat. Null where it cured in air: then it may be worked on.
 */
function readyFrom(
  d: Pick<Deciding, 'state'>,
  { panel }: Pick<FoundPanel, 'panel'>,
): { fromMs: number; isHeated: boolean } | null {
  const last = lastCoat(panel)
  const heat = panel.heats?.at(-1)
  if (!last) return null
  if (panel.curedAt === null) return { fromMs: last.finishedAt, isHeated: false }
  if (heat?.toMs !== panel.curedAt) return null
  return { fromMs: coolFrom(d.state, panel) ?? heat.toMs, isHeated: true }
}

/** When the film is ready for some work by its sheet; null where that never comes, undefined where it is not said. */
export function readyAt(
  d: Pick<Deciding, 'state'>,
  p: Pick<FoundPanel, 'panel'>,
  what: ReadyFor,
): number | null | undefined {
  const from = readyFrom(d, p)
  const figure = lastCoat(p.panel)?.opens?.ready?.[what]
  if (!from) return undefined
  // Nobody polishes or carries a part that is hot; paper on it is for its sheet to say.
  if (!figure) return from.isHeated && what !== 'sand' ? from.fromMs : undefined
  return endsAt(figure, from.fromMs, climateOf(d.state, p.panel))
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
  const isBase = last.opens.stage === 'base' || last.opens.stage === 'midcoat'
  if (!isBase || p.panel.curedAt !== null) {
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
