import type { Draft } from '../../machines/envelope.ts'
import type { BlendChoice, CardMeasured } from '../../machines/job/cards.ts'
import { whyIn } from '../words/colour.ts'
import type { Words } from '../words/en.ts'
import { historyIn } from '../words/historyIn.ts'
import { fullName } from './outline.ts'

/** What the history says of a color that was checked and of a neighbor that was decided. Pure. */

type Said = readonly (readonly [word: string, text: string | null])[]

/** @param number writes a figure in the shop's language */
export function colourFacts(
  { type, data }: Draft,
  words: Words,
  number: (value: number, digits: number) => string,
): Said {
  const { facts } = historyIn(words)
  // What decide made of it: an entry is stored as it was checked.
  if (type === 'ColourCardMeasured' || type === 'ColourCardChosen') {
    const card = data as unknown as Omit<CardMeasured, 'angles'> & Partial<CardMeasured>
    const angles = (card.angles ?? []).map(
      ({ deg, deltaE00 }) => `${number(deg, 0)}°: ΔE ${number(deltaE00, 1)}`,
    )
    return [
      [facts.colour, card.colour],
      [facts.card, card.card],
      [facts.angles, angles.join(', ')],
      [facts.variant, card.variant ?? null],
      [facts.tint, card.tint ?? null],
      [facts.midcoats, card.midcoats === undefined ? null : String(card.midcoats)],
    ]
  }
  if (type !== 'BlendDecided') return []
  const { beside, blend, reachCm, reason } = data as unknown as BlendChoice
  const reach = reachCm === undefined ? '' : `, ${reachCm} cm`
  return [
    [facts.beside, beside.map((panel) => fullName(words, panel)).join(', ')],
    [facts.decided, blend ? `${facts.blended}${reach}` : facts.leftOut],
    [facts.why, reason === undefined ? null : whyIn(words.locale, reason)],
  ]
}
