import { movedClock, type PouredBack } from '../cup/back.ts'
import { childOf, type Parent } from '../cup/contents.ts'
import { earliest } from '../cup/ends.ts'
import type { CupContents, CupContext } from '../cup/machine.ts'
import { mixesIn } from '../cup/mixes.ts'
import { distinct } from '../distinct.ts'
import type { Draft } from '../envelope.ts'
import type { State } from '../state.ts'
import { filledSince, isOutOfGun } from './filled.ts'
import type { GunLoad } from './machine.ts'

type Mixed = Pick<PouredBack, 'keepUntilMs' | 'firstMixedAt' | 'mixes'>

/** What a gun holds from other cups: what came from the cup itself brings it no other clock. */
export const foreign = <L extends GunLoad>(loads: readonly L[], cupId: string): readonly L[] =>
  loads.filter(({ cup }) => cup !== cupId)

/** The cups of which something is in a gun. */
export const cupsOf = (loads: readonly GunLoad[]): string[] => [
  ...new Set(loads.flatMap((load) => load.cup ?? [])),
]

/**
 * The cups that took what was in a gun.
 * @param since an entry of the gun: those that took something before it are left out, unless it is a void
 */
export function cupsBackFrom({ things }: State, gun: string, since?: Draft): string[] {
  const fromMs = since === undefined || since.type === 'EntryVoided' ? 0 : since.at
  return filledSince(things.cup, fromMs, (e) => e.gun === gun && isOutOfGun(e))
}

/**
 * What comes out of a gun into a cup: the clocks of what is in it, and what was mixed into that.
 * @param others the loads that are not of that cup (foreign)
 * @param cupOf a cup by its id; null for one that is not known
 * @param was what was known of it before: it counts where one of the cups is not known any more
 */
export function backOf(
  others: readonly GunLoad[],
  cupOf: (id: string) => CupContext | null,
  was?: PouredBack,
): PouredBack {
  const cups = cupsOf(others)
  const known = cups.flatMap((one) => cupOf(one) ?? [])
  const mixed = known.map((cup): Mixed => {
    const { keepUntilMs, mixedAt, firstMixedAt = mixedAt } = cup
    return { keepUntilMs, firstMixedAt, mixes: mixesIn(cup) }
  })
  if (was && known.length < cups.length) mixed.push(was)
  const firstMixedAt = earliest(mixed.map((one) => one.firstMixedAt ?? null))
  // In one order, whichever of the cups are known by now.
  const mixes = distinct(mixed.flatMap((one) => one.mixes ?? [])).sort((a, b) =>
    JSON.stringify(a) < JSON.stringify(b) ? -1 : 1,
  )
  return {
    cups,
    clocks: others.flatMap((load) => load.clocks),
    untilMs: earliest(others.map(({ untilMs }) => untilMs)),
    keepUntilMs: earliest(mixed.map(({ keepUntilMs }) => keepUntilMs)),
    ...(firstMixedAt === null ? {} : { firstMixedAt }),
    ...(mixes.length > 0 ? { mixes } : {}),
  }
}

/**
 * What a clean cup holds of a gun: what its cups held, with the clocks that went on in the gun whatever became
 * of these.
 * @param parents the cups of the loads, with what came of each, mL
 */
export function heldIn({ state, at, parents, loads }: InGun): CupContents {
  const contents = childOf({ state, at, parents, add: [] })
  const move = { fromMs: at, zone: contents.zone, isUse: parents.some(({ cup }) => cup.isUsed) }
  const inGun = loads.flatMap((load) => load.clocks).map((clock) => movedClock(clock, move))
  return {
    ...contents,
    clocks: distinct([...contents.clocks, ...inGun]),
    untilMs: earliest([contents.untilMs, ...loads.map(({ untilMs }) => untilMs)]),
  }
}

type InGun = {
  readonly state: State
  readonly at: number
  readonly parents: readonly Parent[]
  readonly loads: readonly GunLoad[]
}
