import type { CommandData } from '../commands.ts'
import { type Deciding, type NewFact, unknown } from '../deciding.ts'
import type { Problem } from '../refusals.ts'
import { contextOf } from '../state.ts'
import { paintOf } from './colours.ts'
import { isSameCode } from './paint.ts'

/** A cup that is mixed for several jobs: one color of one code for all of them. */

/**
 * Jobs that do not have the color of the cup by its code and variant.
 * @param data a mix whose jobs are known and open
 */
export function severalProblems(d: Deciding, data: CommandData<'MixCup'>): Problem[] {
  const { job, colour, alsoFor = [] } = data
  if (colour === undefined) return []
  const own = paintOf(d.state, job ?? null, colour)
  return alsoFor.flatMap((other): Problem[] => {
    const colours = contextOf(d.state, 'job', other)?.colours ?? []
    const isThere = colours.some(({ key }) => isSameCode(own, paintOf(d.state, other, key)))
    const codes = colours.map(({ code }) => code)
    return isThere ? [] : [unknown('colour', own.code ?? colour, codes)]
  })
}

/**
 * What each other job is told of a cup that was made for it as well: an entry names one job only, and a
 * job's history is read by its own.
 */
export const sharedWith = (
  cup: string,
  { sheet, alsoFor = [] }: { readonly sheet: string; readonly alsoFor?: readonly string[] },
): NewFact[] =>
  [...new Set(alsoFor)].map((job) => ({ type: 'CupShared', keys: { cup, sheet, job }, data: {} }))
