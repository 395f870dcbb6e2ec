import { KINDS, streamsOf, type ThingRef } from '../catalog.ts'
import type { Draft } from '../envelope.ts'
import { reloaded } from '../fold.ts'
import { emptyState, type State } from '../state.ts'

/** What things are folded in before others look them up. */
const FIRST = ['settings', 'sheet', 'zone', 'person', 'air', 'gun', 'job', 'cup', 'panel']

const rank = ({ kind }: ThingRef): number => {
  const place = FIRST.indexOf(kind)
  return place === -1 ? KINDS.length : place
}

/**
 * A job's past as the shop would have it with all that is known by now: each of its things folded
 * from the entries that count.
 * @param entries of the job, its cups and guns, the air of its zones and the sheets it was sprayed by
 */
export function retold(entries: readonly Draft[]): State {
  const byThing = new Map<string, { ref: ThingRef; own: Draft[] }>()
  for (const entry of entries) {
    for (const ref of streamsOf(entry)) {
      const name = `${ref.kind} ${ref.id}`
      const found = byThing.get(name) ?? { ref, own: [] }
      found.own.push(entry)
      byThing.set(name, found)
    }
  }
  const things = [...byThing.values()].sort((a, b) => rank(a.ref) - rank(b.ref))
  const blank = emptyState(entries[0]?.shop ?? '', '')
  // Bells were rung by what is told here; nothing rests on them.
  return things
    .filter(({ ref }) => ref.kind !== 'bell' && ref.kind !== 'devices')
    .reduce((state, { ref, own }) => reloaded(state, ref, own), blank)
}
