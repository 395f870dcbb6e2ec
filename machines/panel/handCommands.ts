import * as v from 'valibot'
import { above0, fields, id8, list, oneOf, text, whole, yesNo } from '../accept.ts'
import { PADS } from '../sheet/schema.ts'
import { FILM_METHODS, WORKS } from './context.ts'

/** The data of the commands for what is done by hand between coats. */

export const routeIndex = whole(0, 59)
export const override = v.optional(
  fields({ reason: text(200), codes: v.optional(list(text(40), 1, 20)) }),
)

export const HAND_COMMANDS = {
  DoPrepStep: fields({
    panel: id8,
    step: routeIndex,
    grit: v.optional(whole(16, 10_000)),
    pad: v.optional(oneOf(PADS)),
    work: v.optional(oneOf(WORKS)),
    override,
  }),
  /** The whole panel, by paper or by a pad. */
  AbradePanel: fields({
    panel: id8,
    grit: v.optional(whole(16, 10_000)),
    pad: v.optional(oneOf(PADS)),
    /** What drifted from the edges onto the face alone was abraded. */
    overspray: v.optional(yesNo),
    override,
  }),
  /** A spot of it; `toGround` where it went through a midcoat to the ground coat. */
  DenibPanel: fields({
    panel: id8,
    grit: v.optional(whole(16, 10_000)),
    toGround: v.optional(yesNo),
    override,
  }),
  /** Wet in the last coat with a comb, or all of it dry with a gauge. */
  ReadFilm: fields({ panel: id8, um: above0(5_000, 'µm'), method: oneOf(FILM_METHODS) }),
  PolishPanel: fields({ panel: id8, override }),
} as const
