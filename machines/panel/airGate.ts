import { wasHeatedIn } from '../climate/heats.ts'
import type { Climate } from '../clock/air.ts'
import { airAt, lastBefore, STALE_MS } from '../clock/line.ts'
import { dewPointC } from '../clock/moistAir.ts'
import type { Deciding } from '../deciding.ts'
import type { Standing } from '../judge.ts'
import { liveIn } from '../live.ts'
import { MINUTE_MS, type Problem } from '../refusals.ts'
import type { Sheet, Stage } from '../sheet/schema.ts'
import { DEW_MARGIN_C, settingsAt } from '../shop/settings.ts'
import { type AirNow, dewMargin, isAirKnown } from './climate.ts'
import { zoneOf } from './context.ts'
import type { FoundPanel } from './find.ts'
import { partTempProblems } from './partTemp.ts'
import { airOfCoats, surfaceNow } from './surface.ts'

/**
 * What air and surface say of a coat that starts. What was never measured refuses nothing; what was
 * measured and forbade goes on forbidding after it has grown old.
 */

/** A reading that forbade forbids for so long, or until a newer one. Common practice, no source. */
export const FORBIDS_MS = 240 * MINUTE_MS

export type AirVerdict = {
  readonly problems: readonly Problem[]
  readonly notJudged: readonly string[]
  /** Overrides of before that cover the same. */
  readonly standing: readonly Standing[]
  readonly air: AirNow | null
  readonly dewMarginC: number | null
  /** What the surface was taken to have, °C, where nobody measured it; else null. */
  readonly surfaceAssumedC: number | null
}

export const hundredths = (value: number): number => Math.round(value * 100) / 100

/** The last reading of the zone's air, however old; null where none is known. */
function lastAir(climate: Climate, at: number): AirNow | null {
  const air = airAt(climate, at)
  if (!air || air.rh === undefined || air.at > at || !isAirKnown(climate, at, at)) return null
  return { airC: air.airC, rh: air.rh, at: air.at }
}

/** How far the air itself is above its dew point, in °C; null for air without any humidity. */
export const airMargin = ({ airC, rh }: Pick<AirNow, 'airC' | 'rh'>): number | null =>
  rh === 0 ? null : airC - dewPointC(airC, rh)

export function isOutside(
  { airC, rh }: Pick<AirNow, 'airC' | 'rh'>,
  limits: Sheet['limits'],
): boolean {
  const { minC = -Infinity, maxC = Infinity, maxRh = 1 } = limits
  return airC < minC || airC > maxC || rh > maxRh
}

function airOutside(p: FoundPanel, { minC, maxC, maxRh = 1 }: Sheet['limits'], air: AirNow) {
  return {
    code: 'airOutside' as const,
    limit: {
      ...(minC === undefined ? {} : { minC }),
      ...(maxC === undefined ? {} : { maxC }),
      maxRh,
    },
    value: { airC: air.airC, rh: air.rh },
    panel: p.id,
    about: p.panel.name,
  }
}

/**
 * The margin of a surface that forbade and was not measured again: still too small in the last air
 * that was read. A drier or warmer reading since then leaves it open.
 */
function forbiddenMargin(
  climate: Climate,
  at: number,
  leastC: number,
  wasHeated: (sinceMs: number) => boolean,
): number | null {
  const part = lastBefore(climate.parts, at)
  const air = lastAir(climate, at)
  if (!part || !air || air.rh === 0) return null
  const marginC = part.partC - dewPointC(air.airC, air.rh)
  if (marginC >= leastC) return null
  const judgedAt = [part.at, air.at].filter((t) => t >= part.at && t <= at)
  const forbadeAt = judgedAt.filter((t) => {
    const then = dewMargin(climate, t, wasHeated)
    return then !== null && then < leastC
  })
  return forbadeAt.some((t) => at - t < FORBIDS_MS) ? marginC : null
}

/**
 * Overrides that still stand: of the same job, zone and stage, since the reading that forbade. A panel
 * that was measured since then is asked about again.
 */
function standingOverrides(
  d: Deciding,
  p: FoundPanel,
  stage: Stage | null,
  sinceMs: number,
): Standing[] {
  const zone = zoneOf(p.panel)
  const ofJob = Object.values(d.state.things.panel).filter(
    ({ context }) => context.job === p.panel.job,
  )
  const coats = ofJob.flatMap(({ entries }) =>
    liveIn(entries).filter(
      (e) =>
        (e.type === 'CoatStarted' || e.type === 'CoatFinished') &&
        e.override !== undefined &&
        e.zone === zone &&
        e.data.stage === stage &&
        e.at >= sinceMs &&
        e.at <= d.at,
    ),
  )
  return (['airOutside', 'dewPoint', 'partTemp'] as const).flatMap((code) => {
    const last = coats.findLast(({ override }) => override?.codes.includes(code))
    return last?.override ? [{ code, reason: last.override.reason, panel: p.id }] : []
  })
}

/**
 * Judges the air of a coat's zone and the surface under it.
 * @param sheet that is sprayed; undefined where it is not known
 * @param stage what the coat is for: an override covers one stage
 */
export function judgeAir(
  d: Deciding,
  p: FoundPanel,
  sheet: Sheet | undefined,
  stage: Stage | null,
): AirVerdict {
  const { at } = d
  const limits = sheet?.limits ?? {}
  const climate = airOfCoats(d.state, p.panel)
  const last = lastAir(climate, at)
  const fresh = last && at - last.at < STALE_MS ? last : null
  const leastC = settingsAt(d.state, at).limits?.dewMarginC ?? DEW_MARGIN_C
  const hasLimits = Object.keys(limits).length > 0
  const isForbidden = last !== null && at - last.at < FORBIDS_MS && isOutside(last, limits)
  const wasHeated = (sinceMs: number) => wasHeatedIn(d.state, zoneOf(p.panel), sinceMs, at)
  const freshMarginC = dewMargin(climate, at, wasHeated)
  const surface = surfaceNow(d.state, p.panel, at)
  const assumed = surface?.isAssumed && fresh && fresh.rh > 0 ? surface : null
  const assumedMarginC = assumed && fresh ? assumed.partC - dewPointC(fresh.airC, fresh.rh) : null
  const forbadeC = freshMarginC === null ? forbiddenMargin(climate, at, leastC, wasHeated) : null
  const surfaceMarginC = freshMarginC ?? forbadeC ?? assumedMarginC
  const ownMarginC = last && at - last.at < FORBIDS_MS ? airMargin(last) : null
  // Air so damp that whatever stands in it is too near to the dew point, however warm it was measured.
  const isTooDamp = ownMarginC !== null && ownMarginC < leastC
  const marginC = isTooDamp ? Math.min(ownMarginC, surfaceMarginC ?? ownMarginC) : surfaceMarginC
  const problems: Problem[] = [
    ...(isForbidden && last ? [airOutside(p, limits, last)] : []),
    ...(marginC === null || marginC >= leastC
      ? []
      : [
          {
            code: 'dewPoint' as const,
            limit: leastC,
            value: hundredths(marginC),
            ...(isTooDamp && marginC === ownMarginC ? { why: 'air' as const } : {}),
            panel: p.id,
            about: p.panel.name,
          },
        ]),
    ...partTempProblems(d, p, sheet, surface),
  ]
  const readAt = Math.max(last?.at ?? 0, lastBefore(climate.parts, at)?.at ?? 0)
  return {
    problems,
    notJudged: [
      ...(hasLimits && fresh === null && !isForbidden ? ['airOutside'] : []),
      ...(marginC === null ? ['dewPoint'] : []),
    ],
    standing: problems.length === 0 ? [] : standingOverrides(d, p, stage, readAt),
    air: fresh ?? (isForbidden ? last : null),
    dewMarginC: marginC,
    surfaceAssumedC: forbadeC === null && assumed ? hundredths(assumed.partC) : null,
  }
}
