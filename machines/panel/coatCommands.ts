import * as v from 'valibot'
import { above0, fields, id8, id40, list, number, oneOf, utcMs, yesNo } from '../accept.ts'
import { rule } from '../contract/wrongField.ts'
import { COAT_KINDS } from './context.ts'
import { override, routeIndex } from './handCommands.ts'

/** The data of the commands for coats. */

export const litresMl = above0(200_000, 'mL')
export const panels = v.pipe(
  list(id8, 1, 60),
  v.check((ids) => new Set(ids).size === ids.length, rule('noneTwice', {})),
)

export const COAT_COMMANDS = {
  StartCoat: fields({
    panels,
    cup: id8,
    kind: v.optional(oneOf(COAT_KINDS), 'full'),
    step: v.optional(routeIndex),
    gun: v.optional(id40),
    gunSet: v.optional(
      fields({
        inletKpa: v.optional(above0(1_500, 'kPa')),
        turns: v.optional(above0(20)),
        distanceCm: v.optional(above0(100, 'cm')),
      }),
    ),
    override,
  }),
  ContinueCoat: fields({ panels, cup: id8, override }),
  /** `doneShare`: how much of each panel is on. */
  BreakOffCoat: fields({ panels, doneShare: v.optional(number(0, 1, 'fraction')) }),
  FinishCoat: fields({
    panels,
    cup: v.optional(id8),
    kind: v.optional(oneOf(COAT_KINDS), 'full'),
    step: v.optional(routeIndex),
    startedAt: v.optional(utcMs),
    /** How far a blend reaches beyond the spot: its strokes without leaving the panel are one coat. */
    reachCm: v.optional(above0(500, 'cm')),
    usedMl: v.optional(litresMl),
    /** The panels were sprayed in this order. */
    ordered: v.optional(yesNo),
    override,
  }),
} as const
