import type { RouteStep } from '../commands.ts'
import { coatsOn, dueStep, type PanelContext } from '../panel/context.ts'
import { isSprayed, type Sheet } from '../sheet/schema.ts'
import type { State } from '../state.ts'
import { currentSheets } from './route.ts'

/**
 * A step of a route that no work can end: a cure that its sheet knows no way for, a coat without a product,
 * a product that its sheet forbids over what is under it. Told when the route is made, and on the
 * lane as long as the step is to come. Pure.
 */
export type RouteProblem =
  | { readonly code: 'noCure'; readonly at: number; readonly sheet: Sheet }
  /** `sheet`: the id of one that is out of use; undefined where none was chosen. */
  | { readonly code: 'noSheet'; readonly at: number; readonly sheet: string | undefined }
  | { readonly code: 'never'; readonly at: number; readonly sheet: Sheet; readonly under: Sheet }

type Cure = Sheet['cure']

const hasWay = (cure: Cure | undefined): boolean =>
  cure !== undefined &&
  (cure.air !== undefined || (cure.bake ?? []).length > 0 || cure.infrared !== undefined)

/** What an activator or reducer carries replaces the sheet's. */
const canCure = ({ cure, activators, reducers }: Sheet): boolean =>
  hasWay(cure) || [...activators, ...reducers].some((option) => hasWay(option.cure))

const isNever = ({ over }: Sheet, under: Sheet): boolean =>
  over.some(
    ({ stage, sheet, recoatWithin }) =>
      recoatWithin === 'never' && (stage === under.stage || sheet === under.sheet),
  )

/**
 * @param sheets those in use in the shop
 * @param isSkipped whether nothing is done in a step
 * @returns in the order of the steps
 */
export function routeProblems(
  route: readonly Pick<RouteStep, 'stage' | 'sheet'>[],
  sheets: readonly Sheet[],
  isSkipped: (at: number) => boolean = () => false,
): RouteProblem[] {
  const sheetOf = (step: { readonly sheet?: string | undefined }) =>
    sheets.find(({ sheet }) => sheet === step.sheet)
  let film: Sheet | undefined
  return route.flatMap((step, at): RouteProblem[] => {
    if (isSkipped(at)) return []
    const sheet = sheetOf(step)
    if (step.stage === 'cure') {
      const cured = film ?? sheet
      return cured && !canCure(cured) ? [{ code: 'noCure', at, sheet: cured }] : []
    }
    if (!isSprayed(step.stage)) return []
    if (!sheet) return [{ code: 'noSheet', at, sheet: step.sheet }]
    const under = film
    film = sheet
    return under && isNever(sheet, under) ? [{ code: 'never', at, sheet, under }] : []
  })
}

/**
 * Those that a panel still comes to. Of a cure that is due, what is on the panel says more than its route:
 * the lane waits for that.
 */
export function problemsAhead(state: State, panel: PanelContext): RouteProblem[] {
  const due = dueStep(panel)
  const all = routeProblems(
    panel.route,
    currentSheets(state),
    (at) => panel.status[at] === 'skipped',
  )
  // A coat that went on over it all the same was overridden: its step goes on.
  const isOver = coatsOn(panel, due) > 0
  return all.filter(
    ({ at, code }) =>
      at > due || (at === due && code !== 'noCure' && !(code === 'never' && isOver)),
  )
}
