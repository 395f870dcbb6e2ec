import { airOf } from '../climate/fold.ts'
import type { Climate } from '../clock/air.ts'
import { endsAt, STALE_MS } from '../clock/line.ts'
import type { State } from '../state.ts'
import { earliest, keepEndsAt } from './keep.ts'
import type { CupContext, PotClock } from './machine.ts'

export { earliest }

type ZoneStay = { readonly fromMs: number; readonly zone: string }

/**
 * The zones that a clock runs in. Until its material is used these are the zones that it is in; from
 * then the one it was mixed in and, as a second line, those of its use, of which the warmer counts.
 */
export function tracksOf({ zone, moves = [] }: Omit<PotClock, 'interval'>): {
  readonly own: readonly ZoneStay[]
  readonly use: readonly ZoneStay[]
} {
  const use = moves.filter((move) => move.isUse)
  const own = [{ fromMs: 0, zone }, ...moves.filter((move) => !move.isUse)]
  const back = use[0] && own.length > 1 ? [{ fromMs: use[0].fromMs, zone }] : []
  return { own: [...own, ...back], use }
}

/** What was measured of a zone's air until an instant. */
function airUntil(state: State, zone: string, untilMs: number) {
  const { heated, cool, ...air } = airOf(state, zone)
  const begun = heated?.filter(({ fromMs }) => fromMs <= untilMs)
  return {
    ...air,
    readings: air.readings.filter(({ at }) => at <= untilMs),
    ...(cool ? { cool: cool.filter(({ at }) => at <= untilMs) } : {}),
    ...(begun ? { heated: begun } : {}),
  }
}

/**
 * The air that a clock runs in.
 * @param knownMs what was measured later is left out; without it nothing is
 */
export function potClimate(
  state: State,
  clock: Omit<PotClock, 'interval'>,
  knownMs: number | null = null,
): Climate {
  const { own, use } = tracksOf(clock)
  const airIn = (zone: string) =>
    knownMs === null ? airOf(state, zone) : airUntil(state, zone, knownMs)
  const of = (stays: readonly ZoneStay[]): Climate => ({
    stays: stays.map(({ fromMs, zone }) => ({ fromMs, ...airIn(zone) })),
    parts: [],
    staleMs: STALE_MS,
  })
  const [first] = use
  return first ? { ...of(own), also: { fromMs: first.fromMs, climate: of(use) } } : of(own)
}

type Air = ReturnType<typeof airOf>
type KnownEnd = { readonly airs: readonly Air[]; readonly endMs: number | null }
/** A start asks it of the cup, of its gun and of what is left: what it comes to is that of the clock and its air. */
const ends = new WeakMap<PotClock, KnownEnd>()

/** When a clock of a cup or gun ends in the air of where it was. */
export function clockEndsAt(state: State, clock: PotClock): number | null {
  const airs = [airOf(state, clock.zone)]
  for (const { zone } of clock.moves ?? []) airs.push(airOf(state, zone))
  const known = ends.get(clock)
  if (known && known.airs.length === airs.length && known.airs.every((air, i) => air === airs[i]))
    return known.endMs
  const endMs = endsAt(clock.interval, clock.startMs, potClimate(state, clock))
  ends.set(clock, { airs, endMs })
  return endMs
}

/** When the clock alone lets a cup end, without what its label says. Null without pot life. */
export const integralEndsAt = (state: State, cup: CupContext): number | null =>
  earliest([...cup.clocks.map((clock) => clockEndsAt(state, clock)), cup.untilMs])

/**
 * When a cup must not be sprayed any more: the earliest of its clocks and of what its labels and its
 * parents' labels say. UTC ms; null for a mix without pot life.
 */
export function cupEndsAt(state: State, cup: CupContext): number | null {
  return earliest([integralEndsAt(state, cup), ...cup.prints.map((p) => p.untilMs)])
}

/**
 * What a cup's label says: until when it may be used, as foreseen when it was printed. A label that is
 * sent late was printed in the air of then.
 */
export function labelOf(state: State, cup: CupContext, at: number) {
  const known = cup.clocks.map((clock) =>
    endsAt(clock.interval, clock.startMs, potClimate(state, clock, at)),
  )
  const untilMs = earliest([...known, cup.untilMs, ...cup.prints.map((p) => p.untilMs)])
  return {
    untilMs,
    keepUntilMs: untilMs === null ? keepEndsAt(state, cup, at) : null,
    copy: cup.prints.length + 1,
  }
}

/** When the induction time of a mix is over; null when it has none. */
export const inductionEndsAt = (state: State, cup: CupContext): number | null =>
  cup.induction === null ? null : clockEndsAt(state, cup.induction)
