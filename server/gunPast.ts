import { cupsNamedIn } from '../machines/complete.ts'
import type { Entry } from '../machines/envelope.ts'
import { isOutOfGun } from '../machines/gun/filled.ts'
import { withHeld } from '../machines/held.ts'
import { liveIn } from '../machines/live.ts'
import { loadsSince } from '../machines/refold.ts'
import { settledFromGun } from '../machines/settle.ts'
import { isWithin, joined } from '../machines/spans.ts'
import { type State, thingOf, withThing } from '../machines/state.ts'
import type { Reader } from './reading.ts'
import { nextTurn } from './turn.ts'
import { withEntries } from './withEntries.ts'

/**
 * What came out of a gun into a cup is what was in the gun then. For a cup that is read back that past of the gun is
 * read with it, gives the cup what it held, and is evicted again.
 */

const gunRef = (id: string) => ({ kind: 'gun', id }) as const

const WEEK_MS = 7 * 86_400_000
/** Of a gun that is hardly ever cleaned no more is looked for: what went into it before is over. */
const ENTRIES_MOST = 200

/** What a gun was told since it was cleaned before an instant. */
async function pastOf(gun: string, at: number, reader: Reader): Promise<Entry[]> {
  const cleaned = await reader.lastBefore('gun', gun, 'GunCleaned', at)
  const sinceMs = cleaned?.at ?? 0
  const found: Entry[] = []
  // Most are cleaned within days. Where one is not, each look goes back twice as far.
  for (
    let [toAt, stretchMs] = [at, WEEK_MS];
    toAt >= sinceMs && found.length < ENTRIES_MOST;
    [toAt, stretchMs] = [toAt - stretchMs, stretchMs * 2]
  ) {
    const fromAt = Math.max(sinceMs, toAt - stretchMs + 1)
    await nextTurn()
    found.push(...(await reader.byThing('gun', gun, { fromAt, toAt })))
  }
  return [...found, ...(await reader.voidsOf(found.map(({ id }) => id)))]
}

/** The state with a gun that holds what was in it at an instant. */
async function withPast(state: State, gun: string, at: number, reader: Reader): Promise<State> {
  const ref = gunRef(gun)
  const heldMs = thingOf(state, ref)?.heldMs
  if (heldMs === undefined || isWithin(heldMs, at)) return state
  const past = await pastOf(gun, at, reader)
  const whole = withEntries(state, ref, past)
  const thing = thingOf(whole, ref)
  const fromMs = Math.min(at, ...past.map((entry) => entry.at))
  return thing
    ? withThing(whole, ref, { ...thing, heldMs: joined([...heldMs, { fromMs, toMs: at }]) })
    : whole
}

/** A state with more of the past of some guns, and the cups that were in them. */
type WithPasts = {
  readonly state: State
  readonly guns: readonly string[]
  readonly cups: readonly string[]
}

/**
 * The state with what was in the guns from which something came into a cup.
 * @throws LogError
 */
export async function withGunsOf(state: State, cup: string, reader: Reader): Promise<WithPasts> {
  const entries = thingOf(state, { kind: 'cup', id: cup })?.entries ?? []
  let whole = state
  const guns: string[] = []
  const cups: string[] = []
  for (const { gun, at } of liveIn(entries).filter(isOutOfGun)) {
    if (gun === undefined) continue
    whole = await withPast(whole, gun, at, reader)
    cups.push(...cupsNamedIn(loadsSince(thingOf(whole, gunRef(gun))?.entries ?? [], at)))
    guns.push(gun)
  }
  return { state: whole, guns, cups }
}

/** The state with cups that keep what came into them out of some guns, as far as that is known by now. */
export const keptFromGuns = (state: State, cups: Iterable<string>, guns: Iterable<string>): State =>
  [...guns].reduce(
    settledFromGun,
    [...cups].reduce((next, id) => withEntries(next, { kind: 'cup', id }, []), state),
  )

/** The state with some guns that hold of their past what they did before. */
export function withoutPasts(state: State, before: State, guns: Iterable<string>): State {
  let whole = state
  for (const id of guns) {
    const ref = gunRef(id)
    const thing = thingOf(whole, ref)
    const heldMs = thingOf(before, ref)?.heldMs
    if (thing && heldMs) whole = withThing(whole, ref, withHeld(whole, ref, thing, heldMs))
  }
  return whole
}
