import { cupEndsAt, inductionEndsAt } from '../../machines/cup/ends.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { type Act, type ActOf, actsOf } from '../lanes/acts.ts'
import { type Lane, lanesOf } from '../lanes/lanes.ts'
import type { Words } from '../words/en.ts'

/** A start that a cup can make. `mayGoOn`: this coat is due, and neither panel nor cup has to wait. */
type Start = {
  readonly act: ActOf<'StartCoat'>
  readonly lane: Lane
  readonly mayGoOn: boolean
}

/**
 * Starts that a cup can make: first those that are ready, then those that have to wait. A lane's wait
 * does not apply to one more coat of the step before it.
 * @param now kiosk time, UTC ms
 */
export function startsFrom(state: State, cup: string, words: Words, now: number): Start[] {
  const isOfCup = (act: Act): act is ActOf<'StartCoat'> =>
    act.type === 'StartCoat' && act.data.cup === cup && act.group !== 'more'
  const isFit = isFitNow(state, cup, now)
  return lanesOf(state, now)
    .flatMap((lane) =>
      actsOf(state, lane, words, now)
        .filter(isOfCup)
        .map((act) => {
          const isAgain = act.data.step !== undefined
          const mayGoOn = isFit && lane.waits.for === (isAgain ? 'recoat' : 'coat')
          return { act, lane, mayGoOn }
        }),
    )
    .sort((a, b) => Number(b.mayGoOn) - Number(a.mayGoOn))
}

/** Neither past its pot life nor in its induction time. */
function isFitNow(state: State, id: string, now: number): boolean {
  const cup = contextOf(state, 'cup', id)
  if (!cup) return false
  const endsAt = cupEndsAt(state, cup) ?? Number.POSITIVE_INFINITY
  return now < endsAt && now >= (inductionEndsAt(state, cup) ?? 0)
}
