import type { PouredBack } from '../../machines/cup/back.ts'
import type { CupContents } from '../../machines/cup/machine.ts'
import type { Draft } from '../../machines/envelope.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import type { Known } from './randomKnown.ts'

/** How long a mix keeps of which its sheet said nothing: by what the entries say was typed since. */

const DAY_MS = 86_400_000
const utcDay = (at: number): number => Math.floor(at / DAY_MS)

type Figures = Pick<Sheet, 'components' | 'keepDays' | 'keepDaysReduced'>

/** A ratio that has the reducer in every mix: one figure is enough, under either name. */
const hasReducer = ({ components }: Figures): boolean =>
  components.some(({ role, parts }) => role === 'reducer' && parts > 0)

const typedIn = (sheet: Figures, isReduced: boolean): number | undefined =>
  isReduced
    ? sheet.keepDaysReduced
    : (sheet.keepDays ?? (hasReducer(sheet) ? sheet.keepDaysReduced : undefined))

export type Kept = {
  /** Until when it keeps, UTC ms; null where no figure says it. */
  readonly untilMs: number | null
  /** Nobody said it, and it is used on a later day than it was mixed on. */
  readonly isAsked: boolean
}

/**
 * @param born the entry that made the cup
 * @param backs what came back into it from guns
 */
export function keptByFigure(
  known: Known,
  born: Draft,
  backs: readonly PouredBack[],
  at: number,
): Kept {
  const none = { untilMs: null, isAsked: false }
  const cup = born.data as CupContents
  const clocks = [...cup.clocks, ...backs.flatMap((one) => one.clocks)]
  if (clocks.length > 0 || cup.activator !== null) return none
  const ofSheet = known.live.filter((e) => e.sheet === cup.sheet)
  const saved = ofSheet.filter((e) => e.type === 'SheetSaved')
  const sheetIn = (e: Draft | undefined) => e?.data.sheet as Figures | undefined
  const own = sheetIn(saved.find((e) => e.data.version === cup.sheetVersion))
  if (!own) return none
  const isReduced = cup.reducer !== null && !hasReducer(own)
  if (typedIn(own, isReduced) !== undefined) return none
  const now = sheetIn(saved.findLast((e) => e.at <= at))
  type Keep = { readonly reduced: boolean; readonly days: number | 'unlimited' }
  const said = ofSheet
    .filter((e) => e.type === 'ShopFigureSet' && e.at <= at)
    .flatMap((e) => (e.data.keep as Keep | undefined) ?? [])
    .findLast((keep) => keep.reduced === isReduced)
  const days = (now && typedIn(now, isReduced)) ?? said?.days
  const mixedMs = Math.min(
    cup.firstMixedAt ?? born.at,
    ...backs.flatMap((one) => one.firstMixedAt ?? []),
  )
  if (days === undefined) return { untilMs: null, isAsked: utcDay(mixedMs) !== utcDay(at) }
  if (days === 'unlimited') return none
  const fromMs = isReduced ? (cup.reducedAt ?? mixedMs) : mixedMs
  return { untilMs: fromMs + days * DAY_MS, isAsked: false }
}
