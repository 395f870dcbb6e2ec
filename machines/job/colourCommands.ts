import * as v from 'valibot'
import { above0, fields, id8, list, number, text, whole } from '../accept.ts'
import { rule } from '../contract/wrongField.ts'
import { decideBlendFields } from '../plan/blendFields.ts'
import { labSchema } from '../trade/lab.ts'

/** As many as an instrument gives. */
export const ANGLES_MOST = 5

/** `deg`: from the gloss, as an instrument for effect colors says its angles; 45 for one that has no other. */
const angle = fields({ deg: number(-20, 120, '°'), panel: labSchema, card: labSchema })

/** A card as it is measured: what was sprayed on it, and its angles. */
const cardFields = {
  colour: text(40),
  /** What is written on its back. */
  card: text(20),
  variant: v.optional(text(60)),
  /** As that of the cup it was sprayed from. */
  tint: v.optional(text(20)),
  midcoats: v.optional(whole(1, 8)),
  angles: v.pipe(
    list(angle, 1, ANGLES_MOST),
    v.check((all) => new Set(all.map(({ deg }) => deg)).size === all.length, rule('noneTwice', {})),
  ),
} as const

/** The commands about a job's colors, by the types of `machines/commands.ts`. */
export const COLOUR_COMMANDS = {
  /** What is done with a neighbor of a panel in full color. Leaving it out wants a reason. */
  DecideBlend: v.pipe(
    fields({
      job: id8,
      ...decideBlendFields,
      reachCm: v.optional(above0(500, 'cm')),
      reason: v.optional(text(200)),
    }),
    v.forward(
      v.partialCheck(
        [['blend'], ['reason']],
        ({ blend, reason }) => blend || reason !== undefined,
        rule('text', { max: 200 }),
      ),
      ['reason'],
    ),
  ),
  /** A sprayed card beside its panel, at one to five angles. */
  MeasureColourCard: fields({ job: id8, ...cardFields }),
  ChooseColourCard: fields({ job: id8, colour: text(40), card: text(20) }),
} as const
