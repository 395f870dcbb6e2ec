import type { PanelContext, PastHeat } from '../../machines/panel/context.ts'
import type { Heated } from './randomIntervals.ts'
import type { Findings, Scene } from './randomJudge.ts'
import type { Known } from './randomKnown.ts'

/** Heat by a second calculation: which panel was in it is read from the fold, what it does to others is not. */

type Heat = Omit<PastHeat, 'toMs'> & { readonly toMs: number; readonly zone: string }

const zoneOf = ({ stays }: PanelContext, at: number): string => {
  let zone = stays[0]?.zone ?? ''
  for (const stay of stays) if (stay.fromMs <= at) zone = stay.zone
  return zone
}

/** All heat that is known of, with the zone in which it began. */
export function heatsKnown(known: Known): readonly Heat[] {
  const isHeat = known.live.some((e) => e.type === 'CureStarted' && e.data.mode !== 'air')
  if (!isHeat) return []
  const panels = Object.values(known.stateAt(Number.POSITIVE_INFINITY).things.panel)
  return panels.flatMap(({ context }) => {
    const { cure, heats = [] } = context
    const on =
      cure && cure.mode !== 'air'
        ? [{ ...cure, mode: cure.mode, fromMs: cure.startedAt, toMs: Number.POSITIVE_INFINITY }]
        : []
    return [...heats, ...on].map((heat) => ({ ...heat, zone: zoneOf(context, heat.fromMs) }))
  })
}

/** How long what stands in a zone is as warm as a bake was set to: until something after its end says that it is cooler. */
export function heatedIn(known: Known, zone: string): readonly Heated[] {
  const said = known.about('zone', zone, 'ClimateRead DayRangeSet')
  return known.heats.flatMap((heat) => {
    const { setC, fromMs, toMs } = heat
    if (heat.zone !== zone || heat.mode !== 'bake' || setC === undefined) return []
    const cooler = said.find(
      (e) => e.at > toMs && Number(e.type === 'ClimateRead' ? e.data.airC : e.data.maxC) < setC,
    )
    return [{ fromMs, untilMs: cooler?.at ?? Number.POSITIVE_INFINITY, setC }]
  })
}

/** Whether a zone was baked at an instant. */
export const isBaked = (known: Known, zone: string, at: number): boolean =>
  known.heats.some((h) => h.zone === zone && h.mode === 'bake' && h.fromMs <= at && at <= h.toMs)

/** Bakes of the zone in which the panel stood meanwhile. */
function beside(panel: PanelContext, at: number, { heats }: Known) {
  const known = (ms: number) => (ms > at ? Number.POSITIVE_INFINITY : ms)
  return heats.flatMap((heat) => {
    if (heat.mode !== 'bake' || heat.fromMs > at) return []
    return panel.stays.flatMap((stay, i) => {
      const leftMs = panel.stays[i + 1]?.fromMs ?? Number.POSITIVE_INFINITY
      if (stay.zone !== heat.zone) return []
      const toMs = known(Math.min(heat.toMs, leftMs))
      const inIt = { fromMs: Math.max(stay.fromMs, heat.fromMs), toMs }
      return inIt.toMs < inIt.fromMs + 5 * 60_000 ? [] : [{ zone: heat.zone, toMs: inIt.toMs }]
    })
  })
}

/** Whether the panel is still hot from its last heat at the start of a coat. */
export function hotFindings({ panel, claim, known }: Scene): Findings {
  const inIt = panel.cure !== null && panel.cure.mode !== 'air'
  const own = (panel.heats ?? []).map((one) => ({ ...one, zone: zoneOf(panel, one.toMs) }))
  const [heat] = [...own, ...beside(panel, claim.startAt, known)].sort((a, b) => b.toMs - a.toMs)
  if (!heat || inIt || heat.toMs === Number.POSITIVE_INFINITY) return { partHot: 'no' }
  const zone = known.about('zone', heat.zone, 'ZoneSaved').at(-1)
  const coolMs = 60_000 * Number(zone?.data.coolMin ?? 30)
  let fromMs = heat.toMs
  for (const { at, partC } of panel.parts) {
    if (at < heat.toMs) continue
    if (partC <= 35) {
      return { partHot: claim.startAt < Math.min(at, fromMs + coolMs) ? 'yes' : 'no' }
    }
    fromMs = at
  }
  return { partHot: claim.startAt < fromMs + coolMs ? 'yes' : 'no' }
}
