import * as v from 'valibot'
import type { AsTyped, CommandInput, RouteStep } from '../../machines/commands.ts'
import type { JobContext } from '../../machines/job/machine.ts'
import { OPERATIONS, type Operation, WORKS } from '../../machines/panel/context.ts'
import { blendProposals, COLOURED } from '../../machines/plan/blend.ts'
import type { BlendInput } from '../../machines/plan/blendPlan.ts'
import { withEdgesFirst } from '../../machines/plan/cutIn.ts'
import { usualRoute } from '../../machines/plan/usualRoute.ts'
import { type Sheet, STAGES } from '../../machines/sheet/schema.ts'
import type { Settings } from '../../machines/shop/settingsSchema.ts'
import type { BodyType } from '../../machines/trade/panels.ts'
import { readNumber } from '../units/measure.ts'

/** Panels that are being chosen for a job, before they are sent. Pure. */

/**
 * `on`: its place on the body, null for a part that is not drawn. `area`: as typed, m². `route`: null
 * as long as it is the usual one.
 */
export type Draft = v.InferOutput<typeof panelsSchema>
export type DraftPanel = Draft['panels'][number]

export const SUBSTRATES = ['', 'steel', 'aluminium', 'plastic', 'composite', 'old-finish'] as const

type New = Omit<DraftPanel, 'substrate' | 'route'>

export const newPanel = (given: New): DraftPanel => ({
  ...given,
  substrate: '',
  route: null,
})

/** A panel of the body in or out. */
export function toggled(draft: Draft, on: string, make: () => DraftPanel): Draft {
  const isIn = draft.panels.some((panel) => panel.on === on)
  const panels = isIn ? draft.panels.filter((panel) => panel.on !== on) : [...draft.panels, make()]
  return { ...draft, panels }
}

export const changed = (draft: Draft, id: string, change: Partial<DraftPanel>): Draft => ({
  ...draft,
  panels: draft.panels.map((panel) => (panel.id === id ? { ...panel, ...change } : panel)),
})

export const without = (draft: Draft, id: string): Draft => ({
  ...draft,
  panels: draft.panels.filter((panel) => panel.id !== id),
})

type OnBody = { readonly on: string; readonly operation: Operation }

/** The panels to propose for a blend, beside those chosen and those that the job has already. */
export function proposalsFor(body: BodyType, draft: Draft, inJob: readonly OnBody[]): string[] {
  const chosen = draft.panels.flatMap(({ on, operation }) =>
    on === null ? [] : [{ id: on, operation }],
  )
  return blendProposals(body, [
    ...inJob.map(({ on, operation }) => ({ id: on, operation })),
    ...chosen,
  ])
}

/** What the plan of a blend goes by: each panel of the body once, what is being chosen before what the job has. */
export function planned(draft: Draft, inJob: readonly OnBody[]): BlendInput['panels'] {
  const chosen = draft.panels.flatMap(({ on, operation, isOff }) =>
    on === null
      ? []
      : [{ panel: on, operation, offVehicle: isOff === true && operation === 'new-part' }],
  )
  const others = inJob
    .filter(({ on }) => !chosen.some(({ panel }) => panel === on))
    .map(({ on, operation }) => ({ panel: on, operation, offVehicle: false }))
  const all = [...chosen, ...others]
  return all.filter(({ panel }, i) => all.findIndex((one) => one.panel === panel) === i)
}

/** The kind of the color that goes on first: of the first panel in full color, else of the job's first color. */
export function kindOf({ colours }: Pick<JobContext, 'colours'>, draft: Draft): string | undefined {
  const key = draft.panels.find(({ operation }) => COLOURED.includes(operation))?.colour
  return (colours.find((one) => one.key === key) ?? colours[0])?.kind
}

/** The route of a panel: as changed, else the usual one of its operation. */
export function routeFor(
  { route, operation, substrate, colour, isOff }: DraftPanel,
  sheets: readonly Sheet[],
  kept?: Settings['usualRoutes'],
): readonly RouteStep[] {
  if (route) return route
  const isPlastic = substrate === 'plastic'
  const usual = usualRoute(operation, isPlastic, sheets, colour === '' ? undefined : colour, kept)
  return isOff && operation === 'new-part' ? withEdgesFirst(usual) : usual
}

/** A typed number, with a comma or a point; other text goes unchanged, so that the sentence about it names it. */
export const typedNumber = (text: string): number | string => readNumber(text) ?? text

/** What AddPanel takes. */
export function addPanelData(
  job: string,
  panel: DraftPanel,
  sheets: readonly Sheet[],
  kept?: Settings['usualRoutes'],
): AsTyped<CommandInput<'AddPanel'>> {
  const { id, name, operation, substrate, area, zone } = panel
  return {
    job,
    panel: id,
    name,
    operation,
    ...(substrate === '' ? {} : { substrate }),
    ...(area.trim() === '' ? {} : { areaM2: typedNumber(area) }),
    zone,
    route: routeFor(panel, sheets, kept),
  }
}

/** What is typed stays through a reload: it lies in the page's own session until it is sent. */

const coat = v.number()
const stepSchema = v.object({
  stage: v.picklist(STAGES),
  sheet: v.optional(v.string()),
  colour: v.optional(v.string()),
  coats: v.optional(
    v.object({ least: v.optional(coat), planned: v.optional(coat), most: v.optional(coat) }),
  ),
  face: v.picklist(['whole', 'edges', 'spot']),
  work: v.optional(v.picklist(WORKS)),
})

const panelSchema = v.object({
  on: v.nullable(v.string()),
  id: v.string(),
  name: v.string(),
  operation: v.picklist(OPERATIONS),
  substrate: v.string(),
  area: v.string(),
  zone: v.string(),
  colour: v.string(),
  route: v.nullable(v.array(stepSchema)),
  /** Painted before it is hung: its edges are cut in first. */
  isOff: v.optional(v.boolean()),
})
export const panelsSchema = v.object({
  body: v.string(),
  panels: v.array(panelSchema),
  other: v.string(),
})
export const textSchema = v.string()
