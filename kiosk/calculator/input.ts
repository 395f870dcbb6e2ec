import { dusted, readNumber, type Unit } from '../units/measure.ts'
import { type Node, rowsOf, stands, type Typed, under } from './form.ts'

/** The unit in which a field is typed, by its name. */
export type UnitFor = (key: string) => Unit

/** A path's own name: "points.0.atC" is atC, "densities.1" is densities. */
export const nameOf = (path: string): string =>
  path.split('.').findLast((part) => !/^\d+$/.test(part)) ?? path

function numberIn(text: string, path: string, unitFor: UnitFor): unknown {
  if (text.trim() === '') return undefined
  const shown = readNumber(text)
  // Text that is not a number is passed on unchanged: the schema says what would be accepted.
  return shown === null ? text : dusted(unitFor(nameOf(path)).toSi(shown))
}

/**
 * The input of a calculation from what was typed, in SI.
 * @returns JSON that has yet to pass the calculation's schema
 */
export function inputOf(node: Node, typed: Typed, unitFor: UnitFor, path = ''): unknown {
  switch (node.kind) {
    case 'number':
      return numberIn(typed[path] ?? '', path, unitFor)
    case 'text': {
      const text = (typed[path] ?? '').trim()
      if (text === '') return undefined
      // A ratio's parts are numbers: comma and point both mark their decimals, as everywhere.
      return nameOf(path) === 'ratio' ? text.replaceAll(',', '.') : text
    }
    case 'choice':
      return typed[path] ?? (node.isOptional ? undefined : node.options[0])
    case 'group':
      return Object.fromEntries(
        node.fields
          .map(({ key, node: of }) => [key, inputOf(of, typed, unitFor, under(path, key))] as const)
          .filter(([, value]) => value !== undefined),
      )
    case 'list': {
      const rows = rowsOf(node, path, typed)
      if (rows === 0 && node.isOptional) return undefined
      return Array.from({ length: rows }, (_, i) =>
        inputOf(node.item, typed, unitFor, under(path, i)),
      )
    }
    case 'tuple':
      return node.items.map((item, i) => inputOf(item, typed, unitFor, under(path, i)))
    case 'maybe':
      return stands(node, path, typed) ? inputOf(node.node, typed, unitFor, path) : node.without
  }
}
