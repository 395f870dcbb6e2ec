import { type Draft, type Fact, isFact } from '../../machines/envelope.ts'
import type { BlendChoice, CardMeasured } from '../../machines/job/cards.ts'
import { whyIn } from '../words/colour.ts'
import type { Words } from '../words/en.ts'
import { historyIn } from '../words/historyIn.ts'
import { fullName } from './outline.ts'

/** What the history says of a color that was checked and of a neighbor that was decided. Pure. */

type Said = readonly (readonly [word: string, text: string | null])[]

type Card = Pick<CardMeasured, 'colour' | 'card'> & Partial<CardMeasured>

const isMeasured = isFact<Fact<'ColourCardMeasured', Card>>('ColourCardMeasured')
const isChosen = isFact<Fact<'ColourCardChosen', Card>>('ColourCardChosen')
const isDecided = isFact<Fact<'BlendDecided', BlendChoice>>('BlendDecided')

/** @param number writes a figure in the shop's language */
export function colourFacts(
  entry: Draft,
  words: Words,
  number: (value: number, digits: number) => string,
): Said {
  const { facts } = historyIn(words)
  if (isMeasured(entry) || isChosen(entry)) {
    const { colour, card, angles = [], variant, tint, midcoats } = entry.data
    const apart = angles.map(({ deg, deltaE00 }) => `${number(deg, 0)}°: ΔE ${number(deltaE00, 1)}`)
    return [
      [facts.colour, colour],
      [facts.card, card],
      [facts.angles, apart.join(', ')],
      [facts.variant, variant ?? null],
      [facts.tint, tint ?? null],
      [facts.midcoats, midcoats === undefined ? null : String(midcoats)],
    ]
  }
  if (!isDecided(entry)) return []
  const { beside, blend, reachCm, reason } = entry.data
  const reach = reachCm === undefined ? '' : `, ${reachCm} cm`
  return [
    [facts.beside, beside.map((panel) => fullName(words, panel)).join(', ')],
    [facts.decided, blend ? `${facts.blended}${reach}` : facts.leftOut],
    [facts.why, reason === undefined ? null : whyIn(words.locale, reason)],
  ]
}
