import type { RouteStep } from '../commands.ts'
import { isSprayed, type Sheet } from '../sheet/schema.ts'

/**
 * A step of a route that no work can end: a cure that its sheet knows no way for, a coat without a product,
 * a product that its sheet forbids over what is under it. Told when the route is made, not when the panel
 * stands there. Pure.
 */
export type RouteProblem =
  | { readonly code: 'noCure'; readonly at: number; readonly sheet: Sheet }
  | { readonly code: 'noSheet'; readonly at: number }
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

/** @param sheets those in use in the shop @returns in the order of the steps */
export function routeProblems(
  route: readonly RouteStep[],
  sheets: readonly Sheet[],
): RouteProblem[] {
  const sheetOf = (step: RouteStep) => sheets.find(({ sheet }) => sheet === step.sheet)
  let film: Sheet | undefined
  return route.flatMap((step, at): RouteProblem[] => {
    const sheet = sheetOf(step)
    if (step.stage === 'cure') {
      const cured = film ?? sheet
      return cured && !canCure(cured) ? [{ code: 'noCure', at, sheet: cured }] : []
    }
    if (!isSprayed(step.stage)) return []
    if (!sheet) return [{ code: 'noSheet', at }]
    const under = film
    film = sheet
    return under && isNever(sheet, under) ? [{ code: 'never', at, sheet, under }] : []
  })
}
