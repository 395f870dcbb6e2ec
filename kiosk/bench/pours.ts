import { offParts, weighedParts } from '../../machines/cup/ratio.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { overPour } from '../../machines/trade/overPour.ts'
import { pourTargets, ratioErrorPct, runningReadings } from '../../machines/trade/pour.ts'

/**
 * A cup being poured: what is in it, what the scale must show next, and what too much of something
 * does to the rest. Pure. Grams are as a scale shows them, the cup tared at the start.
 */

/** One pour into the cup. Without grams it was poured to the mark. */
export type Pour = { readonly part: number; readonly g: number | null; readonly at: number }

export type Mix = {
  readonly sheet: Sheet
  readonly totalMl: number
  /** The least that the scale shows. */
  readonly stepG: number
  /** What the cup holds to its brim; null where nobody said. */
  readonly cupMl: number | null
}

type PartLine = {
  /** Index of the sheet's component. */
  readonly part: number
  readonly targetMl: number
  /** Null without densities. */
  readonly targetG: number | null
  readonly pouredG: number | null
  readonly isPoured: boolean
  /** What the marks of the cup show after it, if nothing was poured too much. */
  readonly markMl: number
}

export type PourView = {
  readonly lines: readonly PartLine[]
  /** What is to be poured now; null when nothing is missing. */
  readonly next: {
    readonly part: number
    readonly readingG: number | null
    readonly isTopUp: boolean
  } | null
  /** What the scale shows now. */
  readonly readingG: number
  /** In the end, after what was poured too much. */
  readonly totalMl: number
  /** The component of which the most was poured too much, and by how many grams. */
  readonly over: { readonly part: number; readonly byG: number } | null
  readonly fits: boolean | null
  /** Of what is in the cup; null until every component is in. */
  readonly errorPct: number | null
  /** Outside the tolerance: no coat would start from it. */
  readonly isOff: boolean
  readonly isAllIn: boolean
}

/** Half a step shows as nothing on the scale. */
const SHOWS = 0.5

/** Every component's density, or null where one is missing. */
export function densitiesOf(sheet: Sheet): number[] | null {
  const known = sheet.components.flatMap((c) => c.densityGPerMl ?? [])
  return known.length === sheet.components.length ? known : null
}

/** Whether amounts can be calculated at all: parts by weight have no volume without densities. */
export const canCalculate = (sheet: Sheet): boolean =>
  sheet.by === 'volume' || densitiesOf(sheet) !== null

/** The components that the ratio has any of. */
const usedParts = (sheet: Sheet): number[] =>
  sheet.components.flatMap((c, i) => (c.parts > 0 ? [i] : []))

/** @throws RangeError for a sheet without the densities that its amounts need */
export function pourView(mix: Mix, pours: readonly Pour[]): PourView {
  const used = usedParts(mix.sheet)
  const densities = densitiesOf(mix.sheet)
  const isIn = (part: number) => pours.some((p) => p.part === part)
  return densities === null
    ? byMarks(mix, used, isIn)
    : byScale(
        mix,
        used,
        used.map((i) => densities[i] as number),
        pours,
      )
}

const partsOf = (mix: Mix, used: readonly number[]) =>
  used.map((i) => mix.sheet.components[i]?.parts ?? 0)

function byMarks(mix: Mix, used: readonly number[], isIn: (part: number) => boolean): PourView {
  const targets = pourTargets(partsOf(mix, used), mix.sheet.by, mix.totalMl)
  const marks = runningReadings(targets.map((t) => t.ml))
  const missing = used.find((part) => !isIn(part))
  return {
    lines: used.map((part, i) => ({
      part,
      targetMl: targets[i]?.ml ?? 0,
      targetG: null,
      pouredG: null,
      isPoured: isIn(part),
      markMl: marks[i] ?? 0,
    })),
    next: missing === undefined ? null : { part: missing, readingG: null, isTopUp: false },
    readingG: 0,
    totalMl: mix.totalMl,
    over: null,
    fits: mix.cupMl === null ? null : mix.totalMl <= mix.cupMl,
    errorPct: null,
    isOff: false,
    isAllIn: missing === undefined,
  }
}

function byScale(
  mix: Mix,
  used: readonly number[],
  densities: readonly number[],
  pours: readonly Pour[],
): PourView {
  const parts = partsOf(mix, used)
  const asked = pourTargets(parts, mix.sheet.by, mix.totalMl, densities).map((t) => t.g as number)
  const poured = used.map((part) =>
    pours.filter((p) => p.part === part).reduce((sum, p) => sum + (p.g ?? 0), 0),
  )
  const isIn = used.map((part) => pours.some((p) => p.part === part))
  const shows = SHOWS * mix.stepG
  // A reading to the scale's step is on target: only what shows on the scale is too much.
  const counted = poured.map((g, i) =>
    Math.abs(g - (asked[i] as number)) <= shows ? (asked[i] as number) : g,
  )
  const now = overPour.run({
    ratio: { parts, percents: [] },
    by: mix.sheet.by,
    totalMl: mix.totalMl,
    densities: [...densities],
    pouredG: counted.map((g, i) => (isIn[i] ? g : 0)),
    ...(mix.cupMl === null ? {} : { cupMl: mix.cupMl }),
  })
  const readingG = clean(poured.reduce((sum, g) => sum + g, 0))
  const addG = now.parts.map((p, i) => p.targetG - (poured[i] as number))
  const firstOut = isIn.indexOf(false)
  // Of what is short the most is missing of this; it is added first.
  const most = Math.max(...addG)
  const short = most > shows ? addG.indexOf(most) : -1
  const at = firstOut >= 0 ? firstOut : short
  const marks = runningReadings(now.parts.map((p, i) => p.targetG / (densities[i] as number)))
  return {
    lines: used.map((part, i) => ({
      part,
      targetMl: (now.parts[i]?.targetG ?? 0) / (densities[i] as number),
      targetG: now.parts[i]?.targetG ?? 0,
      pouredG: isIn[i] ? clean(poured[i] as number) : null,
      isPoured: isIn[i] ?? false,
      markMl: marks[i] ?? 0,
    })),
    next:
      at < 0
        ? null
        : {
            part: used[at] as number,
            // A scale too coarse for what is missing never asks to take something out again.
            readingG: Math.max(
              readingG,
              runningReadings([readingG, addG[at] as number], mix.stepG)[1] ?? readingG,
            ),
            isTopUp: firstOut < 0,
          },
    readingG,
    totalMl: now.totalMl,
    over: overOf(used, asked, poured, shows),
    fits: now.fits,
    isOff: firstOut < 0 && isOff(mix, pours),
    errorPct: firstOut < 0 && (poured[0] ?? 0) > 0 ? ratioErrorPct(asked, poured) : null,
    isAllIn: firstOut < 0,
  }
}

/** Judged as MIXED will be. */
function isOff({ sheet, stepG }: Mix, pours: readonly Pour[]): boolean {
  const parts = weighedParts(sheet, weighed(sheet, pours), stepG)
  return parts !== null && offParts(sheet, parts).length > 0
}

/** What was poured of each component of the sheet, g. */
const weighed = ({ components }: Sheet, pours: readonly Pour[]): number[] =>
  components.map((_, i) =>
    clean(pours.filter((p) => p.part === i).reduce((sum, p) => sum + (p.g ?? 0), 0)),
  )

const clean = (g: number) => Number(g.toFixed(3))

/** Of what was asked at first, the component that makes the total grow. */
function overOf(
  used: readonly number[],
  asked: readonly number[],
  poured: readonly number[],
  shows: number,
): PourView['over'] {
  const grow = poured.map((g, i) => g / (asked[i] as number))
  const worst = grow.indexOf(Math.max(...grow))
  const byG = (poured[worst] ?? 0) - (asked[worst] ?? 0)
  return byG > shows ? { part: used[worst] as number, byG: clean(byG) } : null
}

/** What the command says of a cup that was poured. */
type Poured = {
  readonly totalMl: number
  readonly pouredG?: readonly number[]
  /** When the activator went in, or the moment that counts instead: the pot life runs from then. */
  readonly activatedAt: number | null
}

/** @param pours in their order; each component may occur several times */
export function pouredOf(mix: Mix, pours: readonly Pour[]): Poured {
  const { components } = mix.sheet
  const densities = densitiesOf(mix.sheet)
  const activatedAt = pours.find((p) => components[p.part]?.role === 'activator')?.at ?? null
  const isWeighed = densities !== null && pours.length > 0 && pours.every((p) => p.g !== null)
  if (!isWeighed) return { totalMl: mix.totalMl, activatedAt }
  const pouredG = weighed(mix.sheet, pours)
  const totalMl = pouredG.reduce((sum, g, i) => sum + g / (densities[i] as number), 0)
  return { totalMl: Math.round(totalMl * 10) / 10, pouredG, activatedAt }
}

/** A time may be set this far back without a reason. */
const FREE_BACK_MS = 600_000

/**
 * When a cup was mixed: as its activator went in, else now. The reason of a time long gone is a
 * coded one, which every language has words for.
 */
export function whenMixed(activatedAt: number | null, now: number) {
  if (activatedAt === null) return {}
  return now - activatedAt > FREE_BACK_MS
    ? { at: activatedAt, reason: 'LATE_ENTRY' }
    : { at: activatedAt }
}

/**
 * When a cup was mixed that had been used before it was recorded: just before that, at the latest.
 * @param usedAt UTC ms; null where it was not used
 */
export function mixedBy(usedAt: number | null, mixed: ReturnType<typeof whenMixed>, now: number) {
  if (usedAt === null || ('at' in mixed && mixed.at < usedAt)) return mixed
  return whenMixed(usedAt - 1, now)
}
