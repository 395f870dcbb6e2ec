import { startOf } from '../../kiosk/calculator/inAndOut.ts'
import { blank, pointsIn } from '../../kiosk/forms/draft.ts'
import type { Draft, Fields, Spec } from '../../kiosk/forms/spec.ts'

/** What was typed, by the path that a schema names: "points.0.atC"; rows and optional parts are added as needed. */
export type Typed = Readonly<Record<string, string>>

/** A form with something typed into it. */
export function typedInto(fields: Fields, typed: Typed): Draft {
  let draft = startOf(fields)
  for (const [path, text] of Object.entries(typed))
    draft = put({ kind: 'group', fields }, draft, path.split('.'), text)
  return draft
}

function put(spec: Spec, draft: Draft, [key, ...rest]: readonly string[], text: string): Draft {
  if (key === undefined) return text
  const inRows = (item: Spec, rows: readonly Draft[]): Draft[] => {
    const grown = [...rows]
    while (grown.length <= Number(key)) grown.push(blank(item))
    return grown.map((row, i) => (i === Number(key) ? put(item, row, rest, text) : row))
  }
  switch (spec.kind) {
    case 'group': {
      const field = spec.fields[key]
      if (field === undefined) throw new Error(`There is no field ${key}.`)
      const given = draft as Readonly<Record<string, Draft>>
      const own = given[key] ?? blank(field.spec, field.optional)
      return { ...given, [key]: put(field.spec, own, rest, text) }
    }
    case 'list':
      return inRows(spec.item, draft as readonly Draft[])
    case 'points':
      if (key === 'word') return { ...pointsIn(draft), word: text }
      return { word: '', points: inRows(spec.item, pointsIn(draft).points) }
    case 'maybe':
      return put(spec.of, draft === '' ? blank(spec.of) : draft, [key, ...rest], text)
    default:
      throw new Error(`${key} is inside of ${spec.kind}.`)
  }
}
