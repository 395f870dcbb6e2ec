import type { Settings } from '../../machines/shop/settingsSchema.ts'
import { parseMeasure, typedMeasure } from '../units/measure.ts'
import { type Draft, type Field, type Fields, group, POINT, type Spec } from './spec.ts'

/** Between a stored value and the text in a form's fields. Pure. */

/** The shop's units and the language's mark before decimals. */
export type Env = { readonly units: Settings['units']; readonly comma: '.' | ',' }

/** The temperature that a maker's single figure is for. */
const USUAL_C = 20

const POINT_GROUP = group(POINT)
const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

/** A form's contents with nothing in them. */
export function blank(spec: Spec): Draft {
  switch (spec.kind) {
    case 'text':
    case 'number':
    case 'choice':
    case 'yesNo':
      return ''
    case 'group':
      return Object.fromEntries(Object.entries(spec.fields).map(([k, f]) => [k, blank(f.spec)]))
    case 'list':
      return []
    case 'points':
      return { word: '', points: [] }
  }
}

/** A stored value as a form shows it. */
export function written(spec: Spec, value: unknown, env: Env): Draft {
  if (value === undefined) return blank(spec)
  switch (spec.kind) {
    case 'text':
      return Array.isArray(value) ? value.join(', ') : String(value)
    case 'choice':
      return String(value)
    case 'yesNo':
      return value === true ? 'yes' : 'no'
    case 'number':
      return typeof value === 'number'
        ? typedMeasure(value, spec.measure, env.units, env.comma)
        : ''
    case 'group': {
      const given = isObject(value) ? value : {}
      return Object.fromEntries(
        Object.entries(spec.fields).map(([k, f]) => [k, written(f.spec, given[k], env)]),
      )
    }
    case 'list':
      return Array.isArray(value) ? value.map((item) => written(spec.item, item, env)) : []
    case 'points':
      return writtenPoints(spec.words, value, env)
  }
}

function writtenPoints(
  words: Readonly<Record<string, string | null>>,
  value: unknown,
  env: Env,
): Draft {
  const word = Object.keys(words).find((name) => words[name] === value) ?? ''
  const list = typeof value === 'number' ? [{ atC: USUAL_C, minutes: value }] : value
  const points = Array.isArray(list) ? list.map((p) => written(POINT_GROUP, p, env)) : []
  return { word, points }
}

/** Whether it is empty. */
export function isEmpty(draft: Draft): boolean {
  if (typeof draft === 'string') return draft.trim() === ''
  return (Array.isArray(draft) ? draft : Object.values(draft)).every(isEmpty)
}

/**
 * What a form says, for the schema to check. Text that is not a number stays text, so that the schema's
 * sentence can show what was given.
 * @param original the value that the form was filled from: what was not touched keeps every digit
 */
export function read(spec: Spec, draft: Draft, env: Env, original?: unknown): unknown {
  switch (spec.kind) {
    case 'text':
    case 'choice':
      return draft === '' ? undefined : draft
    case 'yesNo':
      return draft === '' ? undefined : draft === 'yes'
    case 'number': {
      if (typeof draft !== 'string' || draft.trim() === '') return undefined
      if (written(spec, original, env) === draft) return original
      return parseMeasure(draft, spec.measure, env.units) ?? draft
    }
    case 'group':
      return readGroup(spec.fields, draft, env, original)
    case 'list': {
      const items = Array.isArray(draft) ? draft : []
      const olds = Array.isArray(original) ? original : []
      return items.map((item, i) => read(spec.item, item, env, olds[i]))
    }
    case 'points':
      return readPoints(spec.words, draft, env, original)
  }
}

function readGroup(fields: Fields, draft: Draft, env: Env, original: unknown): unknown {
  const given = draft as Readonly<Record<string, Draft>>
  const olds = isObject(original) ? original : {}
  const entries = Object.entries(fields).flatMap(([key, field]): [string, unknown][] => {
    const own = given[key] ?? ''
    const value = field.optional && isEmpty(own) ? undefined : readField(field, own, env, olds[key])
    return value === undefined ? [] : [[key, value]]
  })
  return Object.fromEntries(entries)
}

const readField = (field: Field, draft: Draft, env: Env, original: unknown): unknown =>
  read(field.spec, draft, env, original)

function readPoints(
  words: Readonly<Record<string, string | null>>,
  draft: Draft,
  env: Env,
  original: unknown,
): unknown {
  const { word = '', points = [] } = draft as { word?: string; points?: readonly Draft[] }
  if (word !== '' && word in words) return words[word]
  if (JSON.stringify(writtenPoints(words, original, env)) === JSON.stringify({ word, points })) {
    return original
  }
  const olds = typeof original === 'number' ? [{ atC: USUAL_C, minutes: original }] : original
  return points.map((p, i) => read(POINT_GROUP, p, env, Array.isArray(olds) ? olds[i] : undefined))
}

/** A draft with one place changed. @param path keys and indices from the top */
export function changed(draft: Draft, path: readonly (string | number)[], to: Draft): Draft {
  const [key, ...rest] = path
  if (key === undefined) return to
  if (Array.isArray(draft)) {
    return draft.map((item, i) => (i === Number(key) ? changed(item, rest, to) : item))
  }
  const at = draft as Readonly<Record<string, Draft>>
  return { ...at, [key]: changed(at[key] ?? '', rest, to) }
}

/** An id from a name: its letters and digits, and a number where that is taken. */
export function idFrom(name: string, taken: readonly string[]): string {
  const plain = name
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 36)
  const base = plain === '' ? 'item' : plain
  if (!taken.includes(base)) return base
  let n = 2
  while (taken.includes(`${base}-${n}`)) n += 1
  return `${base}-${n}`
}
