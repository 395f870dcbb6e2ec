import type { RouteStep } from '../commands.ts'
import type { Operation } from '../panel/context.ts'
import type { Sheet, SprayedStage, Stage } from '../sheet/schema.ts'
import type { Settings } from '../shop/settingsSchema.ts'

/**
 * The usual route of a panel, from the shop's sheets. A proposal: the painter changes it. General
 * trade practice, no source; a maker's sheet always wins.
 */

/** The usual stages of an operation; those that the shop has no sheet for are left out. */
function stagesOf(operation: Operation, isPlastic: boolean): readonly Stage[] {
  switch (operation) {
    case 'new-part':
      return isPlastic
        ? ['prep', 'adhesion-promoter', 'base', 'clear', 'cure']
        : ['prep', 'sealer', 'base', 'clear', 'cure', 'polish']
    case 'repair':
      return ['prep', 'primer', 'cure', 'sand', 'prep', 'base', 'clear', 'cure', 'polish']
    case 'blend':
      return ['prep', 'base', 'clear', 'cure', 'polish']
    case 'clear-only':
      return ['prep', 'clear', 'cure', 'polish']
  }
}

/**
 * @param sheets the shop's, one of which is taken for each sprayed stage: the first
 * @param color the key of the job's color, for stages that carry one
 * @param kept the shop's own routes: where one is for this, it is taken as far as its sheets are still in use
 * @returns steps as AddPanel takes them; a primer that need not cure is not cured or sanded
 */
export function usualRoute(
  operation: Operation,
  isPlastic: boolean,
  sheets: readonly Sheet[],
  colour?: string,
  kept: Settings['usualRoutes'] = [],
): RouteStep[] {
  const own = kept.find((one) => one.operation === operation && one.isPlastic === isPlastic)
  if (own) return keptRoute(own.route, sheets, colour)

  const sheetFor = (stage: Stage): Sheet | undefined => sheets.find((s) => s.stage === stage)
  const hasPrimer = sheetFor('primer') !== undefined
  const sprayedBy = (stage: Stage): RouteStep[] => {
    const sheet = sheetFor(stage)
    if (!sheet) return []
    const isColoured = colour !== undefined && COLOURED.includes(sheet.stage)
    const face = operation === 'blend' && sheet.stage === 'base' ? 'spot' : 'whole'
    return [{ stage, sheet: sheet.sheet, face, ...(isColoured ? { colour } : {}) }]
  }
  const steps: RouteStep[] = []
  let last: Sheet | undefined
  for (const stage of stagesOf(operation, isPlastic)) {
    const isUndercoatWork = stage === 'sand' || (stage === 'cure' && last?.stage === 'primer')
    if (isUndercoatWork && !hasPrimer) continue
    if (stage === 'prep' || stage === 'sand' || stage === 'polish')
      steps.push({ stage, face: 'whole' })
    else if (stage === 'cure') {
      if (last) steps.push({ stage, sheet: last.sheet, face: 'whole' })
    } else {
      steps.push(...sprayedBy(stage))
      last = sheetFor(stage) ?? last
    }
  }
  // Two preparations with nothing between them are one.
  return steps.filter((step, i) => step.stage !== 'prep' || steps[i - 1]?.stage !== 'prep')
}

/** A kept route for a job: its color, and of a sheet that is out of use another one of its stage. */
function keptRoute(
  route: readonly RouteStep[],
  sheets: readonly Sheet[],
  colour: string | undefined,
): RouteStep[] {
  return route.map(({ sheet, colour: _, ...step }) => {
    const isInUse = sheets.some((one) => one.sheet === sheet)
    const other = sheets.find(({ stage }) => stage === step.stage)?.sheet
    const named = isInUse ? sheet : other
    const isColoured = colour !== undefined && COLOURED.some((stage) => stage === step.stage)
    return {
      ...step,
      ...(named === undefined ? {} : { sheet: named }),
      ...(isColoured ? { colour } : {}),
    }
  })
}

const COLOURED: readonly SprayedStage[] = ['base', 'midcoat', 'single-stage']
