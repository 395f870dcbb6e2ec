/** An object's own order of keys and JSON's differ for this one alone: it would set the prototype. */
const PROTO = '__proto__'
const OTHER = Symbol('what only JSON itself says')

function plain(value: unknown): unknown {
  if (typeof value === 'number') return Number.isFinite(value) ? value + 0 : null
  if (value === null || typeof value === 'string' || typeof value === 'boolean') return value
  if (typeof value !== 'object' || 'toJSON' in value) return OTHER
  if (Array.isArray(value)) {
    const items: unknown[] = []
    for (const item of value) items.push(item === undefined ? null : plain(item))
    return items.includes(OTHER) ? OTHER : items
  }
  const of = value as Readonly<Record<string, unknown>>
  const made: Record<string, unknown> = {}
  for (const key of Object.keys(of)) {
    const item = of[key]
    if (item === undefined) continue
    const own = key === PROTO ? OTHER : plain(item)
    if (own === OTHER) return OTHER
    made[key] = own
  }
  return made
}

/**
 * What JSON keeps of a value: nothing that is undefined, no number that is not finite, no zero below zero. The same
 * as writing and reading it, in half the time.
 */
export function asJson<T>(value: T): T {
  const made = plain(value)
  return (made === OTHER ? JSON.parse(JSON.stringify(value)) : made) as T
}
