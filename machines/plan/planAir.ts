import { readingAt } from '../climate/fold.ts'
import { airMargin, isOutside } from '../panel/airGate.ts'
import { type PanelContext, zoneOf } from '../panel/context.ts'
import { LATEST } from '../panel/gate.ts'
import { sheetAt } from '../sheet/fold.ts'
import { DEW_MARGIN_C, settingsAt } from '../shop/settings.ts'
import type { State } from '../state.ts'
import type { Cannot } from './forecastTypes.ts'

/** Air as it is supposed to stay, in which a product must not be sprayed; null where nothing is known against it. */
export function airProblem(
  state: State,
  panel: PanelContext,
  sheet: string,
  now: number,
): Cannot | null {
  const zone = zoneOf(panel)
  const air = readingAt(state, zone, now)
  if (!air) return null
  const limits = sheetAt(state, sheet, LATEST)?.sheet.limits ?? {}
  if (isOutside(air, limits)) {
    const { minC = null, maxC = null, maxRh = null } = limits
    return { code: 'airOutside', airC: air.airC, rh: air.rh, minC, maxC, maxRh, zone, sheet }
  }
  const leastC = settingsAt(state, now).limits?.dewMarginC ?? DEW_MARGIN_C
  const marginC = airMargin(air)
  return marginC !== null && marginC < leastC ? { code: 'dewPoint', marginC, leastC, zone } : null
}
