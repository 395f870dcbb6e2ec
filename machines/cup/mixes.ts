import { distinct } from '../distinct.ts'
import type { CupContents } from './context.ts'
import { isWithoutActivator } from './ratio.ts'

/** The activator and the reducer of a mix, by the names that its sheet gives them. */
export type Mix = Pick<CupContents, 'activator' | 'reducer'> & {
  /** Those of them that the sheet has figures for. */
  readonly additives?: readonly string[]
  /** The product needs an activator, and none was poured. */
  readonly lacksActivator?: true
}

/** What was put into a pour as it was made. */
type Added = {
  readonly activator: string | null
  readonly reducer: string | null
  readonly additives: readonly string[]
}

/** The mixes that are in a cup: one, unless it was joined of different ones. */
export function mixesIn(cup: CupContents): readonly Mix[] {
  const { mixes, activator, reducer, withAdditives, off = [] } = cup
  const additives = withAdditives ? { additives: withAdditives } : {}
  const all: readonly Mix[] = mixes ?? [{ activator, reducer, ...additives }]
  return isWithoutActivator(off) ? all.map((mix) => ({ ...mix, lacksActivator: true })) : all
}

/** Names of additives as a mix has them: each once, in one order. */
export const additivesOf = (names: readonly string[]): Pick<Mix, 'additives'> =>
  names.length === 0 ? {} : { additives: [...new Set(names)].sort() }

/**
 * The mixes of a cup that is poured from others. What was put in, or another parent brings, activates
 * a parent whose clock does not run; one that runs keeps its own flash and cure beside the others'.
 * @param whole the activator and reducer that the child is judged by
 */
export function joinedMixes(parents: readonly CupContents[], added: Added, whole: Mix): Mix[] {
  const own = parents.flatMap((cup) =>
    mixesIn(cup).map(({ activator, reducer, additives = [] }) => ({
      activator: activator ?? (cup.clocks.length > 0 ? null : whole.activator),
      reducer: reducer ?? added.reducer,
      ...additivesOf([...additives, ...added.additives]),
    })),
  )
  const put =
    added.activator === null && added.reducer === null
      ? []
      : own.map((mix) => ({
          ...mix,
          activator: added.activator ?? mix.activator,
          reducer: added.reducer ?? mix.reducer,
        }))
  return distinct([...own, ...put])
}
