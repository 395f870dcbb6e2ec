import type { Fields, Spec } from '../../kiosk/forms/spec.ts'

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
