import type { Fields, Spec } from '../../kiosk/forms/spec.ts'
import * as forms from '../../kiosk/setup/forms.ts'

/** The paths of all fields that a form draws, without indices. */
function paths(spec: Spec, path: readonly string[]): string[] {
  switch (spec.kind) {
    case 'group':
      return Object.entries(spec.fields).flatMap(([name, one]) => paths(one.spec, [...path, name]))
    case 'list':
      return paths(spec.item, path)
    case 'maybe':
      return paths(spec.of, path)
    default:
      return [path.join('.')]
  }
}

/** What a form asks for. */
export const askedIn = (fields: Fields): string[] => [
  ...new Set(Object.entries(fields).flatMap(([name, { spec }]) => paths(spec, [name]))),
]

const FORMS: Readonly<Record<string, unknown>> = { ...forms }
const isForm = (value: unknown): value is Fields => typeof value === 'object' && value !== null

/** A form of Setup by its name; without fields where there is none of that name. */
export function formNamed(name: string): Fields {
  const form = FORMS[name]
  return isForm(form) ? form : {}
}
