import type { Lab } from '../trade/lab.ts'

/** Sprayed cards of a job's colors, measured beside its panel; and what was decided of its neighbors. Pure. */

/** One angle of an instrument: panel and card, and how far they are apart (CIEDE2000). */
export type CardAngle = {
  readonly deg: number
  readonly panel: Lab
  readonly card: Lab
  readonly deltaE00: number
}

/** A shop's own levels, in CIEDE2000: up to which a card matches, and up to which it can be blended. */
export type Levels = { readonly match: number; readonly blend: number }

export type CardMeasured = {
  readonly colour: string
  readonly card: string
  readonly variant?: string
  readonly tint?: string
  /** Of a let-down panel: how many midcoats lie on this part of it. */
  readonly midcoats?: number
  readonly angles: readonly CardAngle[]
  /** The levels of that day; absent where the shop has set none. */
  readonly levels?: Levels
}
export type ColourCard = CardMeasured & { readonly at: number; readonly isChosen?: true }

export type BlendChoice = {
  readonly body: string
  readonly on: string
  readonly beside: readonly string[]
  readonly blend: boolean
  /** How far the color was to go over it. */
  readonly reachCm?: number
  readonly reason?: string
}

export type Verdict = 'match' | 'blendable' | 'retint'

/** The angle at which a card is furthest from its panel: what an eye sees walking past. */
export const worstOf = ({ angles }: Pick<CardMeasured, 'angles'>): number =>
  Math.max(...angles.map(({ deltaE00 }) => deltaE00))

/** By a shop's levels; null where it has set none. */
export function verdictOf(deltaE00: number, levels: Levels | undefined): Verdict | null {
  if (levels === undefined) return null
  if (deltaE00 <= levels.match) return 'match'
  return deltaE00 <= levels.blend ? 'blendable' : 'retint'
}

const isSame = (a: Pick<ColourCard, 'colour' | 'card'>, b: typeof a): boolean =>
  a.colour === b.colour && a.card === b.card

/** Measured again, a card's last figures count; that it was chosen does not hold for new figures. */
export const withCard = (cards: readonly ColourCard[], one: ColourCard): ColourCard[] => [
  ...cards.filter((card) => !isSame(card, one)),
  one,
]

/** One card of each color is the chosen one. */
export const withChosen = (
  cards: readonly ColourCard[],
  chosen: Pick<ColourCard, 'colour' | 'card'>,
): ColourCard[] =>
  cards.map(({ isChosen, ...card }) =>
    isSame(card, chosen)
      ? { ...card, isChosen: true }
      : card.colour === chosen.colour || isChosen === undefined
        ? card
        : { ...card, isChosen },
  )

/**
 * The card that speaks for a mix: of its color and its tint the chosen one, else the last measured.
 * @param tint of a mix that was tinted by hand
 */
export function cardFor(
  cards: readonly ColourCard[],
  colour: string,
  tint: string | undefined,
): ColourCard | undefined {
  const own = cards.filter((card) => card.colour === colour && card.tint === tint)
  return own.find(({ isChosen }) => isChosen) ?? own.at(-1)
}

/** The last word on a neighbor counts. */
export const withBlend = (
  blends: readonly BlendChoice[],
  one: BlendChoice,
): readonly BlendChoice[] => [...blends.filter(({ on }) => on !== one.on), one]
