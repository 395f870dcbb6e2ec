import { scaleLinear } from 'd3-scale'
import type { ColourCard, Levels } from '../../machines/job/cards.ts'

/** Where the cards of a color stand in a small picture: angles from left to right, difference upwards. Pure. */

export const WIDTH = 560
export const HEIGHT = 260
export const FRAME = { left: 56, right: WIDTH - 92, top: 14, bottom: HEIGHT - 36 }
/** Cards at one angle stand side by side: two that are alike are both seen. */
const APART = 26
/** The scale reaches at least so far: a card that matches everywhere is not drawn as if it differed. */
const LEAST_TOP = 2

type Mark = { readonly x: number; readonly y: number; readonly card: string }
type Tick = { readonly at: number; readonly value: number }
export type Drawing = {
  readonly lines: readonly {
    readonly card: string
    readonly isChosen: boolean
    readonly d: string
  }[]
  readonly marks: readonly (Mark & { readonly isChosen: boolean })[]
  readonly xTicks: readonly Tick[]
  readonly yTicks: readonly Tick[]
  readonly levels: { readonly match: number; readonly blend: number } | null
}

/** The angles of all cards, each once, from the gloss on. */
export const anglesOf = (cards: readonly ColourCard[]): number[] =>
  [...new Set(cards.flatMap(({ angles }) => angles.map(({ deg }) => deg)))].sort((a, b) => a - b)

/** @param cards at least one; @param levels the shop's, drawn as two lines */
export function drawing(cards: readonly ColourCard[], levels: Levels | undefined): Drawing {
  const degs = anglesOf(cards)
  const all = cards.flatMap(({ angles }) => angles.map(({ deltaE00 }) => deltaE00))
  const top = Math.max(LEAST_TOP, ...all, (levels?.blend ?? 0) * 1.15)
  const y = scaleLinear([0, top], [FRAME.bottom, FRAME.top]).nice(4)
  const step = (FRAME.right - FRAME.left) / degs.length
  const x = (deg: number) => FRAME.left + step * (degs.indexOf(deg) + 0.5)
  const spread = Math.min(APART, (step * 0.8) / cards.length)
  const marksOf = (card: ColourCard, i: number): Mark[] =>
    card.angles
      .toSorted((a, b) => a.deg - b.deg)
      .map(({ deg, deltaE00 }) => ({
        x: x(deg) + (i - (cards.length - 1) / 2) * spread,
        y: y(deltaE00),
        card: card.card,
      }))
  const drawn = cards.map((card, i) => ({ card, marks: marksOf(card, i) }))
  return {
    lines: drawn.map(({ card, marks }) => ({
      card: card.card,
      isChosen: card.isChosen === true,
      d: marks.map((m, i) => `${i === 0 ? 'M' : 'L'}${m.x.toFixed(1)} ${m.y.toFixed(1)}`).join(''),
    })),
    marks: drawn.flatMap(({ card, marks }) =>
      marks.map((mark) => ({ ...mark, isChosen: card.isChosen === true })),
    ),
    xTicks: degs.map((value) => ({ at: x(value), value })),
    yTicks: y.ticks(4).map((value) => ({ at: y(value), value })),
    levels: levels === undefined ? null : { match: y(levels.match), blend: y(levels.blend) },
  }
}

/** The name of the next card: A, B, C. */
export function nextCard(names: readonly string[]): string {
  const free = [...'ABCDEFGHJKLMNPQRSTUVWXYZ'].find((letter) => !names.includes(letter))
  return free ?? String(names.length + 1)
}
