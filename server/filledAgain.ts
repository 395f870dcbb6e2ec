import type { ThingRef } from '../machines/catalog.ts'
import type { Entry } from '../machines/envelope.ts'
import { filledOtherwise } from '../machines/gun/filledOtherwise.ts'
import type { State } from '../machines/state.ts'
import { type Reader, understood } from './reading.ts'
import { reload } from './reload.ts'

/** A log as if some more entries were stored in it. */
function withTold(reader: Reader, told: readonly Entry[]): Reader {
  const voids = told.filter(({ type }) => type === 'EntryVoided')
  const voided = new Set(voids.map(({ data }) => data.entry))
  return {
    ...reader,
    async byThing(key, id, between) {
      const { fromAt = 0, toAt = Number.POSITIVE_INFINITY } = between ?? {}
      const more = told.filter((e) => e[key] === id && fromAt <= e.at && e.at <= toAt)
      return [...(await reader.byThing(key, id, between)), ...more]
    },
    async voidsOf(ids) {
      const more = voids.filter(({ data }) => ids.some((id) => id === data.entry))
      return [...(await reader.voidsOf(ids)), ...more]
    },
    async lastBefore(key, id, type, toAt) {
      for (let until = toAt; ; ) {
        const found = await reader.lastBefore(key, id, type, until)
        if (found === null || !voided.has(found.id)) return found
        until = found.at - 1
      }
    },
  }
}

/**
 * The state with the cups read again into which something came out of a gun, where an entry says otherwise of what was
 * in the gun then and that holds it no more.
 * @param state with the entry
 * @param told entries that are not in the log yet, this one among them
 * @returns the same state where there is no such cup
 * @throws LogError
 */
export async function withFilledAgain(
  state: State,
  entry: Entry,
  told: readonly Entry[],
  reader: Reader,
): Promise<State> {
  const what = `entry ${entry.position}`
  const cups = understood(state.shop, what, () => filledOtherwise(state, entry))
  if (cups.size === 0) return state
  const others = Object.entries(state.things.cup).filter(([id]) => !cups.has(id))
  const without = { ...state, things: { ...state.things, cup: Object.fromEntries(others) } }
  const refs = [...cups].map((id): ThingRef => ({ kind: 'cup', id }))
  return await reload(without, refs, withTold(reader, told))
}
