import { startOf } from '../../kiosk/calculator/inAndOut.ts'
import { blank, groupIn, meantBy, pointsIn } from '../../kiosk/forms/draft.ts'
import type { Draft, Fields, Spec } from '../../kiosk/forms/spec.ts'
import type { Settings } from '../../machines/shop/settingsSchema.ts'

/** What was typed, by the path that a schema names: "points.0.atC"; rows and optional parts are added as needed. */
export type Typed = Readonly<Record<string, string>>

type Units = Settings['units']

/** A form with something typed into it. */
export function typedInto(fields: Fields, typed: Typed, units: Units): Draft {
  let draft = startOf(fields)
  for (const [path, text] of Object.entries(typed))
    draft = put({ kind: 'group', fields }, draft, path.split('.'), text, units)
  return draft
}

/** A form's contents after something was typed into one of its fields. */
export function put(
  spec: Spec,
  draft: Draft,
  [key, ...rest]: readonly string[],
  text: string,
  units: Units,
): Draft {
  if (key === undefined) return spec.kind === 'number' ? meantBy(text, spec.measure, units) : text
  const inRows = (item: Spec, rows: readonly Draft[]): Draft[] => {
    const grown = [...rows]
    while (grown.length <= Number(key)) grown.push(blank(item))
    return grown.map((row, i) => (i === Number(key) ? put(item, row, rest, text, units) : row))
  }
  switch (spec.kind) {
    case 'group': {
      const field = spec.fields[key]
      if (field === undefined) throw new Error(`There is no field ${key}.`)
      const given = groupIn(draft)
      const own = given[key] ?? blank(field.spec, field.optional)
      return { ...given, [key]: put(field.spec, own, rest, text, units) }
    }
    case 'list':
      return inRows(spec.item, draft as readonly Draft[])
    case 'points':
      if (key === 'word') return { ...pointsIn(draft), word: text }
      return { word: '', points: inRows(spec.item, pointsIn(draft).points) }
    case 'maybe':
      return put(spec.of, draft === '' ? blank(spec.of) : draft, [key, ...rest], text, units)
    default:
      throw new Error(`${key} is inside of ${spec.kind}.`)
  }
}
