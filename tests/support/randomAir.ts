import type { Sheet } from '../../machines/sheet/schema.ts'
import { isBaked } from './randomHeat.ts'
import type { Findings, Scene } from './randomJudge.ts'
import { assumedC, partTemp } from './randomSurface.ts'

/** Air limits and dew point: only of what was measured a short while ago. */

const AIR_MS = 30 * 60_000
/** What forbade and was not read again goes on forbidding. */
const FORBIDS_MS = 4 * 3_600_000
const SURFACE_MS = 10 * 60_000
/** In air that stays as it was. */
const STEADY_MS = 60 * 60_000

/** The inverse of the Magnus formula, WMO-No. 8 (2008). */
function dewPoint(c: number, rh: number): number {
  const g = Math.log(rh) + (17.62 * c) / (243.12 + c)
  return (243.12 * g) / (17.62 - g)
}

export function airFindings(scene: Scene, sheet: Sheet | undefined): Findings {
  const { world, claim, known, zone } = scene
  const at = claim.startAt
  // The panel's own zone at an instant. What was read in a bake says nothing of the air of a coat.
  const readingsAt = (then: number) => {
    const i = Math.max(
      0,
      world.stays.findLastIndex((s) => s.fromMs <= then),
    )
    const there = scene.panel.stays[i]?.zone ?? ''
    return world.stays[i]?.readings.filter((r) => !isBaked(known, there, r.at)) ?? []
  }
  const readings = readingsAt(at)
  const air = readings.findLast((r) => r.at <= at)
  const isFresh = air !== undefined && at - air.at < AIR_MS
  const { minC = -Infinity, maxC = Infinity, maxRh = 1 } = sheet?.limits ?? {}
  const rh = air?.rh ?? 0
  const isIn = air !== undefined && air.airC >= minC && air.airC <= maxC && rh <= maxRh
  const surface = world.parts.findLast((p) => p.at <= at)
  // How long a surface measured at an instant holds at another.
  const held = (from: number, to: number): number => {
    const first = until(readingsAt(from), from)
    const isHeated = known.heats.some((h) => h.zone === zone && h.fromMs <= at && h.toMs >= from)
    const there = world.stays.findLast((s) => s.fromMs <= to) ?? world.stays[0]
    const isMoved = there !== world.stays[0] && (there?.fromMs ?? 0) > from
    if (!first || from - first.at >= AIR_MS || isHeated || isMoved) return SURFACE_MS
    for (const r of readingsAt(to)) {
      if (r.at <= from || r.at > to) continue
      const isOff =
        Math.abs(r.airC - first.airC) > 2 + 1e-9 ||
        Math.abs((r.rh ?? 0) - (first.rh ?? 0)) > 0.05 + 1e-9
      if (isOff) return SURFACE_MS
    }
    return STEADY_MS
  }
  const isTouched = surface !== undefined && at - surface.at < held(surface.at, at)
  const settings = known.live.filter((e) => e.type === 'SettingsChanged' && e.at <= at)
  const least = settings.reduce((margin, e) => {
    const limits = e.data.limits as { dewMarginC?: number } | undefined
    return limits?.dewMarginC ?? margin
  }, 3)
  const partC = isTouched ? surface.partC : isFresh ? assumedC(scene, air.airC) : null
  const isMeasured = isFresh && isTouched && rh > 0
  const canJudge = isFresh && partC !== null && rh > 0
  const stillForbids = air !== undefined && !isIn && at - air.at < FORBIDS_MS
  const margin = canJudge ? partC - dewPoint(air.airC, rh) : Infinity
  const hasLimits = Object.keys(sheet?.limits ?? {}).length > 0
  const own =
    air !== undefined && rh > 0 && at - air.at < FORBIDS_MS
      ? air.airC - dewPoint(air.airC, rh)
      : Infinity
  const isDamp = own < least
  const nearDamp = Math.abs(own - least) < 1e-6
  const old = isMeasured ? null : forbade(readingsAt, world.parts, at, least, held)
  return {
    airOutside: stillForbids ? 'yes' : 'no',
    partTemp: partTemp(sheet, partC),
    dewPoint: nearDamp
      ? 'close'
      : isDamp
        ? 'yes'
        : Math.abs(margin - least) < 1e-6
          ? 'close'
          : old !== null
            ? old
            : margin < least
              ? 'yes'
              : 'no',
    'notJudged airOutside': hasLimits && !isFresh && !stillForbids ? 'yes' : 'no',
    'notJudged dewPoint': nearDamp
      ? 'close'
      : canJudge || isDamp
        ? 'no'
        : old === null
          ? 'yes'
          : old === 'close'
            ? 'close'
            : 'no',
  }
}

type Timed = { readonly at: number }
const until = <T extends Timed>(all: readonly T[], at: number): T | undefined =>
  all.findLast((one) => one.at <= at)

/** Whether the last surface measured forbade when it could be judged, and would still in the last air read. */
function forbade(
  readingsAt: (then: number) => Scene['world']['stays'][number]['readings'],
  parts: Scene['world']['parts'],
  at: number,
  least: number,
  held: (from: number, to: number) => number,
): 'yes' | 'close' | null {
  const surface = until(parts, at)
  const air = until(readingsAt(at), at)
  if (!surface || !air?.rh) return null
  const margins = [air, ...[surface.at, air.at].map((t) => (t >= surface.at ? t : NaN))].map(
    (t) => {
      if (typeof t !== 'number') return surface.partC - dewPoint(t.airC, t.rh ?? 0)
      const then = until(readingsAt(t), t)
      const isHeld = t - surface.at < held(surface.at, t) && at - t < FORBIDS_MS
      if (!then?.rh || t - then.at >= AIR_MS || !isHeld) return Infinity
      return surface.partC - dewPoint(then.airC, then.rh)
    },
  )
  const [now = Infinity, ...then] = margins
  if (Math.abs(now - least) < 1e-6) return 'close'
  return now < least && then.some((margin) => margin < least) ? 'yes' : null
}
