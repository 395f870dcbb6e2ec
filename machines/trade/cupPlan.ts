import * as v from 'valibot'
import { airC, fields, number, whole } from '../accept.ts'
import type { Climate } from '../clock/air.ts'
import { type IntervalKind, type Point, pointsSchema } from '../clock/interval.ts'
import { endsAt } from '../clock/line.ts'
import { calculator, crossChecked, type Wrong } from './calculator.ts'
import { MINUTE_MS } from './times.ts'

type CupPlanInput = {
  readonly coats: number
  readonly sprayMinPerPanel: number
  readonly panels: number
  readonly flash: readonly Point[]
  readonly potLife: readonly Point[] | null
  readonly airC: number
}

/** How long an interval lasts in air that stays as it is. Only damp air can keep one from ending. */
function lengthMs(kind: IntervalKind, points: readonly Point[], airC: number): number {
  const steady: Climate = {
    stays: [{ fromMs: 0, readings: [{ at: 0, airC }] }],
    parts: [],
    staleMs: Number.POSITIVE_INFINITY,
  }
  return endsAt({ kind, points }, 0, steady) ?? Number.POSITIVE_INFINITY
}

const sprayMs = (input: CupPlanInput) => Math.round(input.sprayMinPerPanel * MINUTE_MS)
const flashMs = (input: CupPlanInput) => lengthMs('notBefore', input.flash, input.airC)
const potLifeMs = (input: CupPlanInput) =>
  input.potLife ? lengthMs('notAfter', input.potLife, input.airC) : Number.POSITIVE_INFINITY

/** A cup whose pot life ends before one panel is covered cannot be planned with, however many there are. */
function canBePlanned(input: CupPlanInput): Wrong | null {
  const livesMs = potLifeMs(input)
  if (sprayMs(input) <= livesMs) return null
  const minutes = livesMs / MINUTE_MS
  return { path: ['sprayMinPerPanel'], code: 'withinPotLife', params: { minutes } }
}

/**
 * When each coat on each panel starts, in ms, in the order sprayed. The painter goes round the
 * panels; a coat waits for the painter's hand and for that panel's own flash, whichever is later.
 */
function starts(input: CupPlanInput, waitMs: number): number[] {
  const durationMs = sprayMs(input)
  const finished = Array.from({ length: input.panels }, () => Number.NEGATIVE_INFINITY)
  const all: number[] = []
  let handFreeMs = 0
  for (let coat = 0; coat < input.coats; coat += 1) {
    for (const [panel, finishedMs] of finished.entries()) {
      const startMs = Math.max(handFreeMs, finishedMs + waitMs)
      all.push(startMs)
      handFreeMs = startMs + durationMs
      finished[panel] = handFreeMs
    }
  }
  return all
}

type Cup = { readonly mixMs: number; coats: number }

/**
 * Fills each cup with as many coats as its pot life allows, mixed when its first one starts. Taking
 * all a cup can give leaves the least for the next, so no plan has fewer cups, or later ones.
 */
function cupsFor(startsMs: readonly number[], durationMs: number, livesMs: number): Cup[] {
  const cups: Cup[] = []
  for (const startMs of startsMs) {
    const cup = cups.at(-1)
    if (cup && startMs + durationMs <= cup.mixMs + livesMs) cup.coats += 1
    else cups.push({ mixMs: startMs, coats: 1 })
  }
  return cups
}

/**
 * Whether one cup lasts for the work, and if not, when to mix which. In: coats a panel, minutes
 * to spray one panel once, panels, flash and pot life as the sheet's points (pot life null: none),
 * °C. Out: minutes from the first coat's start. lastCoatAtMin is the start of the very last coat;
 * a cup must live to its finish. A cup's `coats` counts one panel once; `share` is its part of the
 * whole material.
 */
export const cupPlan = calculator({
  name: 'cupPlan',
  schema: crossChecked(
    fields({
      coats: whole(1, 20, 'coats'),
      sprayMinPerPanel: number(0.1, 600, 'min'),
      panels: whole(1, 60, 'panels'),
      flash: pointsSchema,
      potLife: v.nullable(pointsSchema),
      airC,
    }),
    canBePlanned,
  ),
  about: {
    formula:
      'Simulated: each coat starts when the painter gets back to that panel or when it has flashed, whichever is later; a cup takes every coat that ends within its pot life, mixed when its first one starts',
    units: 'minutes from the start of the first coat; °C; share as a fraction of all the material',
    source: 'flash and pot life by the rules of interval and clock; the plan is this project’s own',
    caution:
      'Assumes that the air does not change. Mixing and induction come before the coat at mixAtMin. A forecast only: go by the running clocks.',
  },
  run: (input) => {
    const startsMs = starts(input, flashMs(input))
    const livesMs = potLifeMs(input)
    const cups = cupsFor(startsMs, sprayMs(input), livesMs)
    return {
      lastCoatAtMin: (startsMs.at(-1) as number) / MINUTE_MS,
      livesUntilMin: Number.isFinite(livesMs) ? livesMs / MINUTE_MS : null,
      enough: cups.length === 1,
      cups: cups.map(({ mixMs, coats }) => ({
        mixAtMin: mixMs / MINUTE_MS,
        coats,
        share: coats / startsMs.length,
      })),
    }
  },
})
