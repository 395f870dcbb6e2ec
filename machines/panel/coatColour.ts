import { colourOf, colourText, fitsColour, textOf, wantedColour } from '../cup/colours.ts'
import type { CupContext } from '../cup/machine.ts'
import type { Deciding } from '../deciding.ts'
import type { Problem } from '../refusals.ts'
import { contextOf, type State } from '../state.ts'
import type { Coat, PanelContext } from './context.ts'
import type { FoundPanel } from './find.ts'
import { type Fits, stepOfColour } from './place.ts'

/**
 * The color of a cup that does not fit a step of a panel. Two jobs may both call a color "body": a key
 * counts within its job only.
 * @param colour the color of the step; of one without, no color of another job fits
 */
function colourProblems(
  { state }: Deciding,
  { id, panel }: FoundPanel,
  cup: CupContext | null,
  colour: string | undefined,
): Problem[] {
  if (!cup || fitsColour(state, panel.job, colour, cup)) return []
  const wanted = wantedColour(state, panel.job, colour)
  const held = colourOf(state, cup)
  const limit = wanted && colourText(state, wanted, held)
  const value = colourText(state, held, wanted)
  return [{ code: 'wrongColour', limit, value, panel: id, about: panel.name }]
}

/** The hand-made variant that a coat was sprayed from; undefined for a mix as the code has it. */
const tintIn = (state: State, { tint, cups }: Coat): string | undefined =>
  tint ?? contextOf(state, 'cup', cups.at(-1))?.paint?.tint

/**
 * Which steps of a panel a cup is for by its color, kept with its coat: at which of them the panel stood may become
 * known later.
 * @returns nothing where the step was named, the cup is not known or has no color
 */
export function fitsOf(
  { state }: Pick<Deciding, 'state'>,
  panel: PanelContext,
  cup: CupContext | null,
  named: number | undefined,
): { fits?: Fits } {
  if (named !== undefined || !cup || cup.colour === null) return {}
  const keys = contextOf(state, 'job', panel.job)?.colours.map(({ key }) => key) ?? []
  const all = new Set([null, ...keys, ...panel.route.map(({ colour }) => colour ?? null)])
  const fits = [...all].filter((key) => fitsColour(state, panel.job, key ?? undefined, cup))
  return { fits }
}

/** The step that a coat from a cup is meant for by its color, where its product alone would put it elsewhere. */
export function stepMeant(
  d: Deciding,
  { panel }: FoundPanel,
  cup: CupContext | null,
): number | undefined {
  const { fits } = fitsOf(d, panel, cup, undefined)
  return cup && fits ? stepOfColour(panel, { sheet: cup.sheet, stage: cup.stage }, fits) : undefined
}

/** The last coat of a step's color that is on, or is being sprayed, if it was tinted by hand. */
export function tintUnder(
  state: State,
  { coats, open, route }: PanelContext,
  target: number,
): { readonly tint: string; readonly startedAt: number } | null {
  const step = route[target]
  const isOfStep = (coat: Coat) =>
    route[coat.step]?.stage === step?.stage && route[coat.step]?.colour === step?.colour
  const on = coats.filter((coat) => coat.counts || coat.part !== undefined)
  const last = [...on, ...(open ? [open] : [])].findLast(isOfStep)
  const tint = step?.colour === undefined || !last ? undefined : tintIn(state, last)
  return last && tint !== undefined ? { tint, startedAt: last.startedAt } : null
}

/** Whether a cup goes on over a tinted coat: of the same variant, or of one that was made since. */
export const fitsTint = (cup: CupContext, under: ReturnType<typeof tintUnder>): boolean =>
  under === null ||
  cup.colour === null ||
  cup.paint?.tint === under.tint ||
  (cup.paint?.tint !== undefined && cup.mixedAt > under.startedAt)

/** Another color, or else the same code without its tint: one of the two is said. */
export function colourOrTint(
  d: Deciding,
  p: FoundPanel,
  cup: CupContext | null,
  target: number,
): Problem[] {
  const other = colourProblems(d, p, cup, p.panel.route[target]?.colour)
  return other.length > 0 ? other : tintProblems(d, p, cup, target)
}

/**
 * A coat over one that was tinted by hand, from a cup of the same code without that tint: the code is the
 * same, and the color is not. A variant that was made after that coat is meant.
 */
function tintProblems(
  { state }: Deciding,
  { id, panel }: FoundPanel,
  cup: CupContext | null,
  target: number,
): Problem[] {
  const under = tintUnder(state, panel, target)
  const wanted = wantedColour(state, panel.job, panel.route[target]?.colour)
  if (!cup || !under || !wanted || fitsTint(cup, under)) return []
  const paint = { job: panel.job, ...wanted.paint, tint: under.tint }
  const limit = textOf({ ...wanted, paint })
  const value = textOf(colourOf(state, cup))
  return [{ code: 'wrongColour', limit, value, panel: id, about: panel.name }]
}
