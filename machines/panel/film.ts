import type { CommandData } from '../commands.ts'
import { wrongAt } from '../contract/wrongField.ts'
import { type Deciding, type Decision, refused } from '../deciding.ts'
import { judge } from '../judge.ts'
import type { Problem } from '../refusals.ts'
import { sheetAt } from '../sheet/fold.ts'
import type { Sheet } from '../sheet/schema.ts'
import type { State } from '../state.ts'
import {
  type CoatKind,
  dueStep,
  type FinishedCoat,
  lastCoat,
  type PanelContext,
} from './context.ts'
import { type FoundPanel, findPanel, isFound, keysOf } from './find.ts'
import { notFrom } from './notFrom.ts'

/** How thick the film is: as planned by the sheet, or as it was measured. */

/** What a coat of a kind lays down of a full one. Common practice, no source. */
export const SHARE: { readonly [K in CoatKind]: number } = {
  full: 1,
  light: 0.5,
  drop: 0.5,
  blend: 0.5,
  heavy: 1.5,
}

const tenths = (um: number): number => Math.round(10 * um) / 10

const sheetOf = (state: State, coat: FinishedCoat): Sheet | undefined =>
  sheetAt(state, coat.opens?.sheet, coat.finishedAt)?.sheet

/** The dry film of one coat, µm: measured wet, else planned; null where neither is known. */
export function coatUm(state: State, panel: PanelContext, coat: FinishedCoat): number | null {
  const sheet = sheetOf(state, coat)
  const wet = panel.films?.findLast(
    ({ entry, method }) => entry === coat.entry && method === 'wetComb',
  )
  if (wet && sheet?.solids !== undefined) return wet.um * sheet.solids
  if (sheet?.dryUmPerCoat === undefined) return null
  return sheet.dryUmPerCoat * SHARE[coat.kind]
}

/**
 * The dry film of a product on a face of a panel, µm.
 * @returns null where the sheet does not say how much a coat of it is
 */
function filmOf(state: State, panel: PanelContext, sheet: string, face: string): number | null {
  let sum = 0
  for (const coat of panel.coats) {
    // One that was broken off is on as a part of the coat that continues it.
    if (
      coat.part ||
      coat.opens?.sheet !== sheet ||
      (panel.route[coat.step]?.face ?? 'whole') !== face
    )
      continue
    const um = coatUm(state, panel, coat)
    if (um === null) return null
    sum += um
  }
  return sum
}

/**
 * All the dry film on a panel, µm: what a gauge showed last, and what was sprayed since.
 * @returns null where nobody laid a gauge on it and nothing was sprayed, or a sheet does not say how much a coat is
 */
export function dryUmOn(state: State, panel: PanelContext): number | null {
  const gauge = panel.films?.findLast(({ method }) => method === 'gauge')
  const since = panel.coats.filter(({ startedAt }) => !gauge || startedAt >= gauge.at)
  if (!gauge && since.length === 0) return null
  let sum = gauge?.um ?? 0
  for (const coat of since) {
    const um = coatUm(state, panel, coat)
    if (um === null) return null
    sum += um
  }
  return sum
}

/** A coat to come: of which product, of which kind, and the route index of its step where it is named. */
type Coming = {
  readonly sheet: string | undefined
  readonly kind: CoatKind
  readonly step: number | undefined
}

/**
 * The dry film of a product once a coat more is on, and the most that its sheet allows, µm.
 * @returns null where the sheet does not say both
 */
export function filmAfter(
  state: State,
  panel: PanelContext,
  { sheet: id, kind, step }: Coming,
  at: number,
): { readonly um: number; readonly mostUm: number } | null {
  const sheet = sheetAt(state, id, at)?.sheet
  if (!sheet || sheet.maxFilmUm === undefined || sheet.dryUmPerCoat === undefined) return null
  const face = panel.route[step ?? dueStep(panel)]?.face ?? 'whole'
  const on = filmOf(state, panel, sheet.sheet, face)
  if (on === null) return null
  return { um: tenths(on + sheet.dryUmPerCoat * SHARE[kind]), mostUm: sheet.maxFilmUm }
}

/** That a coat to come takes the film of its product beyond what the sheet allows: said and marked. */
export function filmProblems(d: Deciding, { id, panel }: FoundPanel, coming: Coming): Problem[] {
  const film = filmAfter(d.state, panel, coming, d.at)
  if (film === null || film.um <= film.mostUm) return []
  const { um: value, mostUm: limit } = film
  return [{ code: 'filmOver', limit, value, panel: id, about: panel.name }]
}

/**
 * The most that a gauge may show: what it showed before the first of the coats, and of each product on
 * the panel the most of its sheet. Null where that is not known of all of them.
 */
function gaugeLimit(state: State, panel: PanelContext): number | null {
  const [first] = panel.coats
  const before = panel.films?.findLast(
    ({ at, method }) => method === 'gauge' && first !== undefined && at < first.startedAt,
  )
  let limit = before?.um ?? 0
  const seen = new Set<string>()
  for (const coat of panel.coats) {
    const sheet = sheetOf(state, coat)
    if (sheet?.maxFilmUm === undefined) return null
    if (!seen.has(sheet.sheet)) limit += sheet.maxFilmUm
    seen.add(sheet.sheet)
  }
  return seen.size === 0 ? null : limit
}

function readProblems(
  d: Deciding,
  { id, panel }: FoundPanel,
  { um, method }: Pick<CommandData<'ReadFilm'>, 'um' | 'method'>,
): Problem[] {
  const about = { panel: id, about: panel.name }
  if (method === 'gauge') {
    const limit = gaugeLimit(d.state, panel)
    return limit !== null && um > limit ? [{ code: 'filmOver', limit, value: um, ...about }] : []
  }
  const last = lastCoat(panel)
  const sheet = last && sheetOf(d.state, last)
  if (!last || !sheet || sheet.maxFilmUm === undefined || sheet.solids === undefined) return []
  const others = { ...panel, coats: panel.coats.slice(0, -1) }
  const on = filmOf(d.state, others, sheet.sheet, panel.route[last.step]?.face ?? 'whole') ?? 0
  const value = tenths(on + um * sheet.solids)
  const limit = sheet.maxFilmUm
  return value > limit ? [{ code: 'filmOver', limit, value, ...about }] : []
}

/** A film as measured: wet with a comb in the last coat, or all of it dry with a gauge. */
export function readFilm(d: Deciding<'ReadFilm', CommandData<'ReadFilm'>>): Decision {
  const { panel: id, um, method } = d.data
  const found = findPanel(d, id)
  if (!isFound(found)) return refused(found.problem)
  const last = lastCoat(found.panel)
  if (method === 'wetComb' && !last && d.isLive)
    return wrongAt('data.method', method, 'wetFilm', {})
  const data = { um, method, ...(last ? { coat: last.entry } : {}) }
  const verdict = judge({
    isLive: d.isLive,
    now: d.now,
    problems: [
      ...notFrom(d, found, { type: 'FilmRead', data }, um),
      ...readProblems(d, found, { um, method }),
    ],
  })
  if ('refusal' in verdict) return verdict
  const marks = verdict.marks(id)
  return { facts: [{ type: 'FilmRead', keys: keysOf(found), data, marks }] }
}
