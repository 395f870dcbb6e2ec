import type { Measure } from '../units/measure.ts'

/**
 * What a form asks for, as data: one description from which a form is drawn, filled from a stored
 * value and read back. What is accepted is the schema's business, not the form's.
 */

export type Spec =
  | { readonly kind: 'text' }
  /** `unit` is written after a plain number. */
  | { readonly kind: 'number'; readonly measure: Measure; readonly unit?: string }
  | { readonly kind: 'choice'; readonly of: readonly string[] }
  | { readonly kind: 'yesNo' }
  | { readonly kind: 'group'; readonly fields: Fields }
  | { readonly kind: 'list'; readonly item: Spec; readonly most: number }
  /** Minutes at temperatures, or one of a few words that stand for a value of their own. */
  | { readonly kind: 'points'; readonly words: Readonly<Record<string, string | null>> }

export type Field = {
  readonly spec: Spec
  /** Left out of the value when nothing is given. */
  readonly optional?: boolean
  /** Folded away: a sheet is of use without it. */
  readonly more?: boolean
}
export type Fields = Readonly<Record<string, Field>>

/** A form's contents: text as typed, lists, groups. Plain JSON, so that it can be kept. */
export type Draft = string | readonly Draft[] | { readonly [key: string]: Draft }

export const text: Spec = { kind: 'text' }
export const yesNo: Spec = { kind: 'yesNo' }
export const number = (unit = ''): Spec => ({ kind: 'number', measure: 'plain', unit })
export const measured = (measure: Measure): Spec => ({ kind: 'number', measure })
export const choice = (...of: readonly string[]): Spec => ({ kind: 'choice', of })
export const group = (fields: Fields): Spec => ({ kind: 'group', fields })
export const list = (item: Spec, most: number): Spec => ({ kind: 'list', item, most })
export const points = (words: Readonly<Record<string, string | null>> = {}): Spec => ({
  kind: 'points',
  words,
})

export const need = (spec: Spec): Field => ({ spec })
export const may = (spec: Spec): Field => ({ spec, optional: true })
export const fold = (spec: Spec): Field => ({ spec, optional: true, more: true })

/** One point of an interval. Whole curves are typed in a row of such pairs. */
export const POINT: Fields = {
  atC: need(measured('temperature')),
  minutes: need(number()),
}
export const POINTS_MOST = 12
