import type { Json } from '../../machines/envelope.ts'
import type { Problem, RefusalCode } from '../../machines/refusals.ts'

/**
 * What refusals say. The rules say them in English, so that English needs its own only for figures
 * in the shop's units and for times, which run on while the sentence stands (what is left is counted
 * down beside it); every other language needs all.
 */

/** How the shop writes what stands in a problem. */
export type Figures = {
  /** How long ago an instant was. */
  readonly ago: (atMs: Json) => string
  readonly degrees: (c: Json) => string
  readonly volume: (ml: Json) => string
  /** The air, or what a sheet allows of it: "12 °C 50 %", "15 °C - 30 °C". */
  readonly air: (air: Json) => string
  /** Stages and ways of curing by their names; null for what is neither. */
  readonly names: (list: Json) => string | null
}

export type Say = (problem: Problem, figures: Figures) => string
export type RefusalWords = Partial<Record<RefusalCode, Say>>

/** What a problem is about, or nothing. */
export const about = ({ about }: Problem): string => about ?? ''

const english = {
  windowShut: ({ limit, clearsAt }, { ago }) =>
    `The recoat window shut ${ago(limit)} ago.${clearsAt === undefined ? ' Abrade it, or follow the sheet.' : ''}`,
  flashNotOver: ({ clearsAt }) =>
    clearsAt === undefined
      ? 'It does not flash in this air: it is too humid.'
      : 'It has not flashed yet.',
  cupEmptied: ({ limit, value }, { ago }) => `Cup ${value} was emptied ${ago(limit)} ago.`,
  inductionNotOver: () => 'The mix must still stand.',
  potLifeOver: (p, { ago }) => `The pot life of cup ${about(p)} ended ${ago(p.limit)} ago.`,
  keepOver: (p, { ago }) => `Cup ${about(p)} was to be kept until ${ago(p.limit)} ago.`,
  cureNotOver: () => 'It is not cured yet.',
  airOutside: ({ limit, value }, { air }) =>
    `The air is ${air(value)}; the sheet allows ${air(limit)}.`,
  dewPoint: ({ limit, value }, { degrees }) =>
    `The surface is ${degrees(value)} above the dew point; ${degrees(limit)} is the least.`,
  noRoom: (p, { volume }) =>
    `Cup ${about(p)} holds ${volume(p.limit)}; ${volume(p.value)} cannot be taken from it.`,
} satisfies RefusalWords

export const en: RefusalWords = english
