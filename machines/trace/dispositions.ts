/** What is done about a deviation. Until somebody has said so it is watched. */
export const DISPOSITIONS = ['accept', 'rework', 'discard', 'watch'] as const
export type Disposition = (typeof DISPOSITIONS)[number]

/** Why, in a code; what fits none of them is written behind OTHER. They speak of conditions, not of people. */
export const SETTLE_REASONS = [
  'WAITED_FOR_BOOTH',
  'BREAK',
  'EQUIPMENT',
  'WRONG_MIX',
  'CLIMATE',
  'CUSTOMER_CHANGE',
  'DELIBERATE_TECHNIQUE',
  'UNKNOWN',
] as const
