/**
 * A form made from a calculation's own schema, so that a new calculation has its form at once. Pure.
 */

export type Node =
  | { readonly kind: 'number' | 'text'; readonly isOptional: boolean }
  | { readonly kind: 'choice'; readonly options: readonly string[]; readonly isOptional: boolean }
  | { readonly kind: 'group'; readonly fields: readonly NamedNode[] }
  /** An optional list is left out where it has no rows. */
  | {
      readonly kind: 'list'
      readonly item: Node
      readonly least: number
      readonly most: number
      readonly isOptional: boolean
    }
  | { readonly kind: 'tuple'; readonly items: readonly Node[] }
  /** What is given or absent: a pot life, the humidity of a waterborne flash. */
  | { readonly kind: 'maybe'; readonly node: Node; readonly without: null | undefined }
export type NamedNode = { readonly key: string; readonly node: Node }

/** What is looked at of a schema; valibot keeps its parts as plain data. */
type Seen = {
  readonly type: string
  readonly entries?: Readonly<Record<string, unknown>>
  readonly wrapped?: unknown
  readonly item?: unknown
  readonly items?: readonly unknown[]
  readonly options?: readonly string[]
  readonly requirement?: unknown
  readonly pipe?: readonly Seen[]
}

const required = (seen: Seen, type: 'min_length' | 'max_length', otherwise: number): number => {
  const found = seen.pipe?.find((step) => step.type === type)?.requirement
  if (typeof found === 'number') return found
  // A list with one more check carries its own limits one pipe deeper.
  const inner: Seen | undefined = seen.pipe?.[0]
  return inner?.pipe ? required(inner, type, otherwise) : otherwise
}

/**
 * The form of a schema made with the helpers of machines/accept.ts.
 * @throws RangeError for a kind of schema that no calculation has yet
 */
export function nodeOf(schema: unknown, isOptional = false): Node {
  const seen = schema as Seen
  switch (seen.type) {
    case 'number':
      return { kind: 'number', isOptional }
    case 'string':
      return { kind: 'text', isOptional }
    case 'picklist':
      return { kind: 'choice', options: seen.options ?? [], isOptional }
    case 'strict_object':
      return { kind: 'group', fields: fieldsOf(seen) }
    case 'array': {
      const least = isOptional ? 0 : required(seen, 'min_length', 0)
      const most = required(seen, 'max_length', 20)
      return { kind: 'list', item: nodeOf(seen.item), least, most, isOptional }
    }
    case 'strict_tuple':
      return { kind: 'tuple', items: (seen.items ?? []).map((item) => nodeOf(item)) }
    case 'optional': {
      const node = nodeOf(seen.wrapped, true)
      return node.kind === 'group' ? { kind: 'maybe', node, without: undefined } : node
    }
    case 'nullable':
      return { kind: 'maybe', node: nodeOf(seen.wrapped), without: null }
    default:
      throw new RangeError(`No form is known for a schema of type ${seen.type}.`)
  }
}

const fieldsOf = (seen: Seen): NamedNode[] =>
  Object.entries(seen.entries ?? {}).map(([key, entry]) => ({ key, node: nodeOf(entry) }))

/** What was typed, by path: "points.0.atC". Rows of a list under "points#", a maybe under "waterborne?". */
export type Typed = Readonly<Record<string, string>>

export const under = (path: string, key: string | number): string =>
  path === '' ? String(key) : `${path}.${key}`
export const rowsKey = (path: string): string => `${path}#`
export const maybeKey = (path: string): string => `${path}?`

/** How many rows a list has: what was added, at first the fewest that are accepted. */
export function rowsOf(node: Extract<Node, { kind: 'list' }>, path: string, typed: Typed): number {
  const rows = Number(typed[rowsKey(path)] ?? node.least)
  return Math.min(node.most, Math.max(node.least, rows))
}

/** An optional part is there until it is removed, except what only few products have. */
export const stands = (
  node: Extract<Node, { kind: 'maybe' }>,
  path: string,
  typed: Typed,
): boolean => (typed[maybeKey(path)] ?? (node.without === null ? 'yes' : 'no')) === 'yes'

/** Takes one row out of a list; those behind it move up. */
export function withoutRow(typed: Typed, path: string, row: number, rows: number): Typed {
  const kept = Object.entries(typed).flatMap(([key, value]) => {
    const [, at, rest] = new RegExp(`^${path.replaceAll('.', '\\.')}\\.(\\d+)(.*)$`).exec(key) ?? []
    if (at === undefined || Number(at) < row) return [[key, value] as const]
    return Number(at) === row
      ? []
      : [[`${under(path, Number(at) - 1)}${rest ?? ''}`, value] as const]
  })
  return { ...Object.fromEntries(kept), [rowsKey(path)]: String(rows - 1) }
}
