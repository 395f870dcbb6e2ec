import { list, oneOf, text, yesNo } from '../accept.ts'

/** The bodies that are drawn, by their ids in `machines/trade/panels.ts`. */
export const BODIES = ['car', 'van', 'pick-up'] as const

/** What a painter decided of one neighbor: where it stands, what it is beside, blended or not. */
export const decideBlendFields = {
  body: oneOf(BODIES),
  on: text(40),
  beside: list(text(40), 1, 12),
  blend: yesNo,
} as const
