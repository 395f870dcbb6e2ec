import { fitsColour } from '../../machines/cup/colours.ts'
import type { CupContext } from '../../machines/cup/machine.ts'
import { compareText } from '../../machines/envelope.ts'
import { dueStep, type PanelContext } from '../../machines/panel/context.ts'
import { isInWork, isPaused, routeState } from '../../machines/panel/where.ts'
import { isSprayed, type Sheet } from '../../machines/sheet/schema.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { cupsOf } from '../lanes/cups.ts'
import { type Draft, NEW_DRAFT } from './draft.ts'
import { NONE } from './options.ts'

/** What is mixed next: what the open job needs, or the last mix again. Pure. */

export type NextMix = Pick<Draft, 'sheet' | 'job' | 'colour'>

export const isJobOpen = ({ things }: State, job: string): boolean =>
  ['open', 'paused'].includes(things.job[job]?.value ?? '')

/** The steps of a panel that are still to be sprayed, from the one that is due. */
function toSpray(panel: PanelContext) {
  const due = dueStep(panel)
  return panel.route.flatMap(({ stage, sheet, colour }, i) =>
    i >= due && panel.status[i] === 'open' && sheet !== undefined && isSprayed(stage)
      ? [{ sheet, colour, steps: i - due }]
      : [],
  )
}

/**
 * The product that the panels in work need next and that no cup holds: of the panel that comes to it in
 * the fewest steps, of the job that was opened first.
 * @param sheets the shop's current ones: what was retired is not mixed
 * @param now UTC ms
 * @returns null where every coat to come has its cup, or none is to come
 */
export function nextMix(state: State, sheets: readonly Sheet[], now: number): NextMix | null {
  const cups = cupsOf(state, now).filter(({ endsAt }) => endsAt === null || endsAt > now)
  const hasCup = (job: string, sheet: string, colour: string | undefined) =>
    cups.some(({ cup }) => cup.sheet === sheet && fitsColour(state, job, colour, cup))
  const openedAt = (job: string) => contextOf(state, 'job', job)?.openedAt ?? 0
  const wanted = Object.values(state.things.panel).flatMap(({ context: panel, value }) => {
    const isOpen = state.things.job[panel.job]?.value === 'open'
    if (!isOpen || !isInWork(routeState(value)) || isPaused(value)) return []
    const step = toSpray(panel).find(
      ({ sheet, colour }) =>
        sheets.some((one) => one.sheet === sheet) && !hasCup(panel.job, sheet, colour),
    )
    return step ? [{ ...step, job: panel.job }] : []
  })
  const [first] = wanted.sort(
    (a, b) => a.steps - b.steps || openedAt(a.job) - openedAt(b.job) || compareText(a.job, b.job),
  )
  return first ? { sheet: first.sheet, job: first.job, colour: first.colour ?? '' } : null
}

/** The cup that was mixed last, also an emptied one as long as it is held; not one poured from others. */
export function lastMixed(state: State): CupContext | null {
  const mixed = Object.values(state.things.cup)
    .filter(({ context, value }) => value !== 'unmixed' && context.parents.length === 0)
    .map(({ context }) => context)
  return mixed.reduce<CupContext | null>(
    (last, cup) => (last === null || cup.mixedAt > last.mixedAt ? cup : last),
    null,
  )
}

/**
 * A draft for the same cup once more: product, job, color, activator, reducer and amount.
 * @returns null where its sheet is not in use any more
 */
export function repeated(state: State, cup: CupContext, sheets: readonly Sheet[]): Draft | null {
  if (!sheets.some(({ sheet }) => sheet === cup.sheet)) return null
  const hasJob = cup.job !== null && isJobOpen(state, cup.job)
  return {
    ...NEW_DRAFT,
    isOpen: false,
    sheet: cup.sheet,
    job: hasJob ? (cup.job ?? '') : '',
    colour: hasJob ? (cup.colour ?? '') : '',
    activator: cup.activator ?? NONE,
    reducer: cup.reducer ?? NONE,
    additives: [...(cup.withAdditives ?? [])],
    totalMl: cup.totalMl,
  }
}
