/** What was made of a thing before, by how it was made: for as long as the thing is there. */
export type Remembered<K extends object, V> = WeakMap<K, Map<string, V>>

export function remembered<K extends object, V>(
  known: Remembered<K, V>,
  thing: K,
  by: string,
  make: () => V,
): V {
  const of = known.get(thing) ?? new Map<string, V>()
  if (of.size === 0) known.set(thing, of)
  const found = of.get(by)
  if (found !== undefined) return found
  const made = make()
  of.set(by, made)
  return made
}
