import { contextOf, type State } from '../state.ts'
import type { CupContext } from './context.ts'

/** How long a mix without a clock keeps: by its sheet, else as the shop said once. */

export const DAY_MS = 86_400_000
/** Later than any entry. */
const LATEST = Number.MAX_SAFE_INTEGER

export type Keeping = {
  readonly components: readonly { readonly role: string; readonly parts: number }[]
  readonly keepDays?: number | undefined
  readonly keepDaysReduced?: number | undefined
}
/** A product of which nobody typed how long it keeps, mixed or with its reducer in it. */
export type KeepAsk = { readonly sheet: string; readonly isReduced: boolean }

export const isAlwaysReduced = ({ components }: Keeping): boolean =>
  components.some(({ role, parts }) => role === 'reducer' && parts > 0)

/** The earliest of some ends; null when there is none. */
export const earliest = (all: readonly (number | null)[]): number | null => {
  const known = all.filter((one) => one !== null)
  return known.length === 0 ? null : Math.min(...known)
}

export const mixedAt = (cup: CupContext): number => cup.firstMixedAt ?? cup.mixedAt

/** Where every mix has its reducer in it there is one figure, under whichever name it was typed. */
function figureIn(sheet: Keeping, ask: KeepAsk): number | undefined {
  const { keepDays, keepDaysReduced } = sheet
  if (ask.isReduced) return keepDaysReduced
  return keepDays ?? (isAlwaysReduced(sheet) ? keepDaysReduced : undefined)
}

/** The figure that says how long a cup's mix keeps: null where a clock runs on it, or a sheet said it when it was mixed. */
export function missing(state: State, cup: CupContext): KeepAsk | null {
  if (cup.clocks.length > 0 || cup.activator !== null) return null
  const versions = contextOf(state, 'sheet', cup.sheet)?.versions ?? []
  const sheet = versions.find(({ version }) => version === cup.sheetVersion)?.sheet
  if (!sheet) return null
  const ask = { sheet: cup.sheet, isReduced: cup.reducer !== null && !isAlwaysReduced(sheet) }
  return figureIn(sheet, ask) === undefined ? ask : null
}

/** What has been typed of it since, on the sheet or by the shop, by an instant; undefined where nobody did. */
export function saidSince(
  state: State,
  ask: KeepAsk,
  at: number,
): number | 'unlimited' | undefined {
  const { versions = [], figures = [] } = contextOf(state, 'sheet', ask.sheet) ?? {}
  const sheet = versions.findLast((one) => one.at <= at)?.sheet
  const said = figures.findLast(
    (one) => one.at <= at && one.keep !== undefined && one.keep.reduced === ask.isReduced,
  )
  return (sheet && figureIn(sheet, ask)) ?? said?.keep?.days
}

/**
 * Until when a mix without a clock keeps, UTC ms; null where no limit is known.
 * @param at by what was said until then
 */
export function keepEndsAt(state: State, cup: CupContext, at: number = LATEST): number | null {
  const ask = missing(state, cup)
  const days = ask && saidSince(state, ask, at)
  if (!ask || typeof days !== 'number') return cup.keepUntilMs
  const fromMs = ask.isReduced ? (cup.reducedAt ?? mixedAt(cup)) : mixedAt(cup)
  return earliest([cup.keepUntilMs, fromMs + days * DAY_MS])
}
