import { distinct } from '../distinct.ts'
import type { CupContents, CupContext, CupMove, PotClock } from './context.ts'

/** What comes back into a cup from a gun: of other cups, with their clocks and their labels' words. */
export type PouredBack = {
  readonly cups: readonly string[]
  readonly clocks: readonly PotClock[]
  readonly untilMs: number | null
  /** Of mixes without a clock: until when the first of them keeps, and when that was mixed. */
  readonly keepUntilMs: number | null
  readonly firstMixedAt?: number
  /** All mixes that are in the cup then, where these are several. */
  readonly mixes?: NonNullable<CupContents['mixes']>
  readonly ml?: number
}

/** A clock that runs on in another zone; the same where it runs there already. */
export function movedClock(clock: PotClock, move: CupMove): PotClock {
  const { zone, moves = [] } = clock
  const last = moves.at(-1)
  const isUse = move.isUse || moves.some((one) => one.isUse)
  const isThere = last ? last.zone === move.zone && last.isUse === isUse : zone === move.zone
  return isThere ? clock : { ...clock, moves: [...moves, { ...move, isUse }] }
}

const earlier = (...all: readonly (number | null)[]): number | null => {
  const known = all.filter((one) => one !== null)
  return known.length === 0 ? null : Math.min(...known)
}

/** Nothing extends a cup: what came back from a gun ends it with its own clocks, if these end first. */
export function tookBack(cup: CupContext, back: PouredBack): Partial<CupContext> {
  const { cups, mixes, firstMixedAt, ml = 0 } = back
  const clocks = distinct([...cup.clocks, ...back.clocks])
  const keeps = earlier(cup.keepUntilMs, back.keepUntilMs)
  // With a clock in it a mix keeps no date of its own, but never lasts beyond that either.
  const isNewlyLive = cup.clocks.length === 0 && clocks.length > 0
  const oldest = earlier(cup.firstMixedAt ?? cup.mixedAt, firstMixedAt ?? null)
  return {
    clocks,
    untilMs: earlier(cup.untilMs, back.untilMs, isNewlyLive ? keeps : null),
    keepUntilMs: clocks.length > 0 ? null : keeps,
    ...(firstMixedAt === undefined || oldest === null ? {} : { firstMixedAt: oldest }),
    ...(mixes ? { mixes } : {}),
    // What came out of the cup itself never counted as gone from it.
    pouredMl: cup.pouredMl - (cups.length > 0 ? ml : 0),
  }
}
