import type { Sheet } from '../../machines/sheet/schema.ts'
import type { Findings, Scene } from './randomJudge.ts'

/** Air limits and dew point: only of what was measured a short while ago. */

const AIR_MS = 30 * 60_000
const SURFACE_MS = 10 * 60_000

/** The inverse of the Magnus formula, WMO-No. 8 (2008). */
function dewPoint(c: number, rh: number): number {
  const g = Math.log(rh) + (17.62 * c) / (243.12 + c)
  return (243.12 * g) / (17.62 - g)
}

export function airFindings({ world, claim, known }: Scene, sheet: Sheet | undefined): Findings {
  const at = claim.startAt
  // The panel's own zone at the start.
  const stay = world.stays.findLast((s) => s.fromMs <= at) ?? world.stays[0]
  const air = stay?.readings.findLast((r) => r.at <= at)
  const isFresh = air !== undefined && at - air.at < AIR_MS
  const { minC = -Infinity, maxC = Infinity, maxRh = 1 } = sheet?.limits ?? {}
  const rh = air?.rh ?? 0
  const isIn = air !== undefined && air.airC >= minC && air.airC <= maxC && rh <= maxRh
  const surface = world.parts.findLast((p) => p.at <= at)
  const isTouched = surface !== undefined && at - surface.at < SURFACE_MS
  const settings = known.live.filter((e) => e.type === 'SettingsChanged' && e.at <= at)
  const least = settings.reduce((margin, e) => {
    const limits = e.data.limits as { dewMarginC?: number } | undefined
    return limits?.dewMarginC ?? margin
  }, 3)
  const canJudge = isFresh && isTouched && rh > 0
  const margin = canJudge ? surface.partC - dewPoint(air.airC, rh) : Infinity
  const hasLimits = Object.keys(sheet?.limits ?? {}).length > 0
  return {
    airOutside: isFresh && !isIn ? 'yes' : 'no',
    dewPoint: Math.abs(margin - least) < 1e-6 ? 'close' : margin < least ? 'yes' : 'no',
    'notJudged airOutside': hasLimits && !isFresh ? 'yes' : 'no',
    'notJudged dewPoint': canJudge ? 'no' : 'yes',
  }
}
