import type { Draft } from './envelope.ts'

/** The ids that a thing's voids name. */
export function voidedIn(entries: readonly Draft[]): Set<unknown> {
  const voided = new Set<unknown>()
  for (const { type, data } of entries) if (type === 'EntryVoided') voided.add(data.entry)
  return voided
}

/** The entries of a thing that count: neither voided nor voids. */
export function liveIn(entries: readonly Draft[]): Draft[] {
  const voided = voidedIn(entries)
  return entries.filter((e) => e.type !== 'EntryVoided' && !voided.has(e.id))
}
