import * as v from 'valibot'
import { fields, list, oneOf, text, yesNo } from '../accept.ts'
import { crossFieldCheck, type Wrong } from '../crossFieldCheck.ts'
import { OPERATIONS } from '../panel/context.ts'
import { type BodyType, bodyTypes, neighbors } from '../trade/panels.ts'
import { COLOURED } from './blend.ts'
import { BODIES } from './blendFields.ts'

/**
 * How a color is brought into what stands beside it: which neighbors, how far, where it ends, what is cut in
 * first and where the clear ends. Common practice, no source: a proposal that the painter takes or drops.
 */

export const COLOUR_KINDS = ['solid', 'metallic', 'pearl', 'three-stage'] as const
export type ColourKind = (typeof COLOUR_KINDS)[number]

export const isColourKind = (kind: string | undefined): kind is ColourKind =>
  COLOUR_KINDS.some((one) => one === kind)

/** A body by its id; every id that a schema has let through has one. */
export const bodyOf = (id: BodyType['id']): BodyType =>
  bodyTypes.find((one) => one.id === id) as BodyType

const hasPanel = (of: BodyType, panel: string): boolean => of.panels.some(({ id }) => id === panel)

/** A panel that is not on the body, as a field that is wrong; null where it is. */
function notOn(body: BodyType, panel: string, path: Wrong['path']): Wrong | null {
  if (hasPanel(body, panel)) return null
  const params = { body: body.name.toLowerCase(), panels: body.panels.map(({ id }) => id) }
  return { code: 'panelOfBody', params, path }
}

/** `offVehicle`: it is painted before it is hung, so that its edges are cut in first. */
export const blendSchema = v.pipe(
  fields({
    body: oneOf(BODIES),
    colour: oneOf(COLOUR_KINDS),
    panels: list(
      fields({
        panel: text(40),
        operation: oneOf(OPERATIONS),
        offVehicle: v.optional(yesNo, false),
      }),
      1,
      40,
    ),
  }),
  crossFieldCheck(({ body, panels }) => {
    for (const [i, { panel }] of panels.entries()) {
      const wrong = notOn(bodyOf(body), panel, ['panels', i, 'panel'])
      if (wrong) return wrong
      if (panels.findIndex((one) => one.panel === panel) !== i)
        return { code: 'noneTwice', params: {}, path: ['panels', i, 'panel'] }
    }
    return null
  }),
)
export type BlendInput = v.InferOutput<typeof blendSchema>

/** What was decided of one neighbor. */
type Decided = {
  readonly body: BodyType['id']
  readonly on: string
  readonly beside: readonly string[]
}

/** A decision about a panel that the body does not have, or that stands beside none of those named. */
export function notBeside({ body: id, on, beside }: Decided): Wrong | null {
  const body = bodyOf(id)
  const wrong = notOn(body, on, ['on'])
  if (wrong) return wrong
  const around = neighbors(body, on).flatMap((one) => [one, ...neighbors(body, one)])
  for (const [i, one] of beside.entries()) {
    const missing = notOn(body, one, ['beside', i])
    if (missing) return missing
    if (one === on || !around.includes(one))
      return {
        code: 'besidePanel',
        params: { panel: on, panels: neighbors(body, on) },
        path: ['beside', i],
      }
  }
  return null
}

/** A layer of color over one panel: from the joint on, as a share of the panel and in cm of a panel of that area. */
export type Reach = {
  readonly layer: 'base' | 'ground' | 'midcoat'
  readonly share: number
  readonly reachCm: number
  /** Where its last coat ends: on the panel, best at a body line; or at the panel's far edge. */
  readonly endsAt: 'bodyLine' | 'edge'
}

export type Blend = {
  readonly panel: string
  /** The panels because of which it is proposed. */
  readonly beside: readonly string[]
  /** Only where the card differs on the panel: a solid color, and the second neighbor of a three-stage one. */
  readonly isIfSeen: boolean
  readonly reach: readonly Reach[]
}

/** Clear over the whole of a panel, edge to edge; at a joint without an edge to a body line. */
export type ClearOver = { readonly panel: string; readonly bodyLineTo: readonly string[] }

export type BlendPlan = {
  /** Off the vehicle: edges and inner faces first. */
  readonly cutIn: readonly string[]
  readonly blends: readonly Blend[]
  readonly clear: readonly ClearOver[]
}

type Layers = readonly (readonly [Reach['layer'], number])[]

/** How far each layer goes over the first neighbor. The midcoat passes beyond the ground coat. */
const FIRST: Readonly<Record<ColourKind, Layers>> = {
  solid: [['base', 0.33]],
  metallic: [['base', 0.5]],
  pearl: [['base', 0.67]],
  'three-stage': [
    ['ground', 0.33],
    ['midcoat', 1],
  ],
}
/** Over the neighbor beyond, which a three-stage color often needs. */
const SECOND: Layers = [['midcoat', 0.33]]

/** A rocker, a mirror or a corner carries no color further along the vehicle. */
const CARRIES_FROM_M2 = 0.6

/** A panel narrower than a fade needs takes the color to its edge, cm. */
const NO_ROOM_CM = 45

function reachOver(areaM2: number, layers: Layers): Reach[] {
  // Of the area alone: as if it were square.
  const wideCm = Math.sqrt(areaM2) * 100
  return layers.map(([layer, wanted]) => {
    const share = wideCm < NO_ROOM_CM ? 1 : wanted
    const reachCm = Math.max(5, Math.round((share * wideCm) / 5) * 5)
    return { layer, share, reachCm, endsAt: share < 1 ? 'bodyLine' : 'edge' }
  })
}

/**
 * The plan of a job's blends.
 * @param input checked by `blendSchema`: panels that the body has, each once
 * @returns lists in the body's own order; cm are a guess from the panels' usual areas
 */
export function blendPlan({ body: id, colour, panels }: BlendInput): BlendPlan {
  const body = bodyOf(id)
  const has = (panel: string) => panels.some((one) => one.panel === panel)
  const full = panels.filter(({ operation }) => COLOURED.includes(operation))
  const isFull = (panel: string) => full.some((one) => one.panel === panel)
  /** Beside full color, and blended or to be blended itself. */
  const isNear = (panel: string) =>
    neighbors(body, panel).some(isFull) &&
    panels.every((one) => one.panel !== panel || one.operation === 'blend')
  const isWide = (panel: string) =>
    body.panels.some(({ id, areaM2 }) => id === panel && areaM2 >= CARRIES_FROM_M2)
  const blends = body.panels.flatMap((one): Blend[] => {
    const near = neighbors(body, one.id)
    if (has(one.id)) return []
    if (isNear(one.id)) {
      const beside = near.filter(isFull)
      const reach = reachOver(one.areaM2, FIRST[colour])
      return [{ panel: one.id, beside, isIfSeen: colour === 'solid', reach }]
    }
    // Along one side only: over a roof the color does not pass to the other.
    const beside = near.filter(
      (other) => isNear(other) && isWide(other) && sideOf(other) === sideOf(one.id),
    )
    if (colour !== 'three-stage' || beside.length === 0) return []
    return [{ panel: one.id, beside, isIfSeen: true, reach: reachOver(one.areaM2, SECOND) }]
  })
  const cleared = body.panels.map((one) => one.id).filter((one) => has(one) || isNear(one))
  const endsOpen = (a: string) =>
    neighbors(body, a).filter(
      (b) =>
        !cleared.includes(b) && body.seamless.some((pair) => pair.includes(a) && pair.includes(b)),
    )
  return {
    cutIn: body.panels.map((one) => one.id).filter((one) => isCutIn(panels, one)),
    blends,
    clear: cleared.map((panel) => ({ panel, bodyLineTo: endsOpen(panel) })),
  }
}

const sideOf = (panel: string): string | undefined => /^(left|right)-/.exec(panel)?.[1]

const isCutIn = (panels: BlendInput['panels'], on: string): boolean =>
  panels.some(({ panel, offVehicle }) => panel === on && offVehicle)
