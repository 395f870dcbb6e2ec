import { distinct } from '../distinct.ts'
import type { CupContents, CupContext, CupMove, PotClock } from './context.ts'
import { mixesIn } from './mixes.ts'

/** What comes back into a cup from a gun: of other cups, with their clocks and their labels' words. */
export type PouredBack = {
  readonly cups: readonly string[]
  readonly clocks: readonly PotClock[]
  readonly untilMs: number | null
  /** Of mixes without a clock: until when the first of them keeps, and when that was mixed. */
  readonly keepUntilMs: number | null
  readonly firstMixedAt?: number
  /** What was mixed into it. Entries of before name the cup's own besides. */
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

/**
 * Nothing extends a cup: what came back from a gun ends it with its own clocks, if these end first. They run on
 * where the cup is.
 * @param fromMs when it came back, UTC ms
 */
export function tookBack(cup: CupContext, back: PouredBack, fromMs: number): Partial<CupContext> {
  const { cups, firstMixedAt, ml = 0 } = back
  const move = { fromMs, zone: cup.zone, isUse: cup.isUsed }
  const clocks = distinct([...cup.clocks, ...back.clocks.map((clock) => movedClock(clock, move))])
  const mixes = distinct([...mixesIn(cup), ...(back.mixes ?? [])])
  const keeps = earlier(cup.keepUntilMs, back.keepUntilMs)
  // With a clock in it a mix keeps no date of its own, but never lasts beyond that either.
  const isNewlyLive = cup.clocks.length === 0 && clocks.length > 0
  const oldest = earlier(cup.firstMixedAt ?? cup.mixedAt, firstMixedAt ?? null)
  return {
    clocks,
    untilMs: earlier(cup.untilMs, back.untilMs, isNewlyLive ? keeps : null),
    keepUntilMs: clocks.length > 0 ? null : keeps,
    ...(firstMixedAt === undefined || oldest === null ? {} : { firstMixedAt: oldest }),
    ...(mixes.length > 1 ? { mixes } : {}),
    // What came out of the cup itself never counted as gone from it.
    pouredMl: cup.pouredMl - (cups.length > 0 ? ml : 0),
  }
}
