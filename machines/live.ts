import type { Draft } from './envelope.ts'

/** The ids that a thing's voids name. */
export function voidedIn(entries: readonly Draft[]): Set<unknown> {
  return new Set(entries.filter((e) => e.type === 'EntryVoided').map((e) => e.data.entry))
}

/** The entries of a thing that count: neither voided nor voids. */
export function liveIn(entries: readonly Draft[]): Draft[] {
  const voided = voidedIn(entries)
  return entries.filter((e) => e.type !== 'EntryVoided' && !voided.has(e.id))
}
