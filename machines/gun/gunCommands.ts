import * as v from 'valibot'
import { above0, fields, id8, id40, text, yesNo } from '../accept.ts'
import { litresMl } from '../panel/coatCommands.ts'
import { override } from '../panel/handCommands.ts'

/** The commands about what is in a gun, by the types of `machines/commands.ts`. */
export const GUN_COMMANDS = {
  LoadGun: fields({
    gun: id40,
    cup: id8,
    needleMm: v.optional(above0(10, 'mm')),
    inletKpa: v.optional(above0(1_500, 'kPa')),
    turns: v.optional(above0(20)),
    /** Where it will be sprayed. */
    zone: v.optional(id40),
    override,
  }),
  /**
   * What was left in it goes back into a cup, which takes the gun's clock. `ml` where it was measured.
   * `cleanCup`: into a clean one, which this makes; how much is in it has to be said.
   */
  PourBack: fields({
    gun: id40,
    cup: id8,
    ml: v.optional(litresMl),
    cleanCup: v.optional(yesNo),
    override,
  }),
  /** Drained, and thinner put through until it comes clear: for more of the same product and color. */
  RinseGun: fields({ gun: id40, solvent: v.optional(text(60)), zone: v.optional(id40) }),
  /** `zone`: where it is cleaned; without it where its last coat was sprayed. */
  CleanGun: fields({
    gun: id40,
    solvent: v.optional(text(60)),
    solventMl: v.optional(litresMl),
    zone: v.optional(id40),
  }),
} as const
