import type { Interval } from '../clock/line.ts'
import { blindOf, type Opens } from '../sheet/intervals.ts'
import type { Prep } from '../sheet/schema.ts'
import type { Abrasion, FinishedCoat, PanelContext, Worked } from './context.ts'

/** A coat that lies open somewhere under the next one, and what was done to it since. */
export type Layer = {
  readonly coat: FinishedCoat
  readonly opens: Opens
  readonly worked: Worked
}

/** What was done since, and before that. What was done later counts. */
function since(later: Worked, before: Worked | undefined): Worked {
  if (!before) return later
  const isLater = later.abradedAt !== null
  return {
    abradedAt: isLater ? later.abradedAt : before.abradedAt,
    abrasion: isLater ? later.abrasion : before.abrasion,
    curedAt: later.curedAt ?? before.curedAt,
  }
}

const stepOf = ({ route }: PanelContext, coat: FinishedCoat) => route[coat.step]

/** Whether a coat hides what lies under it: edges, a spot and one color of a two-tone leave some of it open. */
function hides(panel: PanelContext, coat: FinishedCoat, under: FinishedCoat | undefined): boolean {
  const [step, below] = [stepOf(panel, coat), under && stepOf(panel, under)]
  if ((step?.face ?? 'whole') !== 'whole') return false
  const isTwoTone =
    step?.stage === below?.stage && step?.colour !== undefined && step.colour !== below?.colour
  return !isTwoTone
}

/**
 * The layers that are topmost somewhere under the next coat, the last one first. The window of a
 * layer ends, satisfied, where another product goes over the whole of it.
 * @param target the route index of the step that the next coat belongs to
 */
export function openLayers(panel: PanelContext, target: number): Layer[] {
  const { coats } = panel
  const face = panel.route[target]?.face ?? 'whole'
  const layers: Layer[] = []
  const seen = new Set<number>()
  let worked: Worked = panel
  for (let i = coats.length - 1; i >= 0; i -= 1) {
    const coat = coats[i] as FinishedCoat
    if (i < coats.length - 1) worked = since(worked, coat.worked)
    const { opens } = coat
    if (opens && !seen.has(coat.step)) layers.push({ coat, opens, worked })
    seen.add(coat.step)
    const under = coats.findLast((one, at) => at < i && !seen.has(one.step))
    // A second coat of a step goes where the first one went, and so does an edge over an edge.
    const isOfSameFace = face !== 'whole' && stepOf(panel, coat)?.face === face
    if (coat.step === target || isOfSameFace || hides(panel, coat, under)) break
  }
  return layers
}

/** A panel without the parts of the coat that was broken off last; null where its last coat is a whole one. */
export function withoutPart(panel: PanelContext): PanelContext | null {
  const { coats } = panel
  const last = coats.at(-1)
  if (!last?.part) return null
  const isUnder = ({ part, step }: FinishedCoat) => part === undefined || step !== last.step
  return { ...panel, coats: coats.slice(0, coats.findLastIndex(isUnder) + 1) }
}

/** The first coat of each step, of those whose product wants clear within so long of it. */
export const firstCoats = ({ coats }: PanelContext): FinishedCoat[] =>
  coats.filter(
    ({ step, counts, opens }, i) =>
      counts &&
      opens?.clearWithinFromFirstCoat !== undefined &&
      coats.findIndex((one) => one.step === step) === i,
  )

/** The window that reaches through layers. */
export const withinFirst = (opens: Opens | null): Interval[] =>
  opens?.clearWithinFromFirstCoat
    ? [{ kind: 'notAfter', points: opens.clearWithinFromFirstCoat, ...blindOf(opens) }]
    : []

/** Whether a layer was abraded as the product to come asks for; what nobody said or asked for is taken as it is. */
export function isPrepared(prep: Prep | undefined, abrasion: Abrasion | null): boolean {
  if (!prep || !abrasion) return true
  const { grit, pad } = abrasion
  const { gritMin = 0, gritMax = Number.POSITIVE_INFINITY, pads } = prep
  if (grit !== undefined) return grit >= gritMin && grit <= gritMax
  return pad === undefined || pads === undefined || pads.includes(pad)
}
