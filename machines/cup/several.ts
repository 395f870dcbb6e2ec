import type { CommandData } from '../commands.ts'
import { type Deciding, type NewFact, unknown } from '../deciding.ts'
import type { Problem } from '../refusals.ts'
import { contextOf, type State, thingOf } from '../state.ts'
import { paintOf } from './colours.ts'
import { isSameCode } from './paint.ts'

const isJobKnown = (state: State, id: string): boolean => {
  const job = thingOf(state, { kind: 'job', id })
  return job !== undefined && job.value !== 'unknown'
}

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
    // Of a job that is not known yet nobody can say which colors it has: that alone speaks for itself.
    if (!isJobKnown(d.state, other)) return []
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
  { state }: Pick<Deciding, 'state'>,
  cup: string,
  { sheet, alsoFor = [] }: { readonly sheet: string; readonly alsoFor?: readonly string[] },
): NewFact[] =>
  [...new Set(alsoFor)].map((job) => ({
    type: 'CupShared',
    keys: { cup, sheet, job },
    data: {},
    // A job that is not known yet is waited for by what names it.
    ...(isJobKnown(state, job) ? {} : { marks: { outside: [notKnown(job)] } }),
  }))

const notKnown = (job: string) => ({ code: 'jobUnknown', limit: null, value: job }) as const
