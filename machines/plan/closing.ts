import { cupEndsAt } from '../cup/ends.ts'
import type { CupContext } from '../cup/machine.ts'
import { deadlines } from '../deadlines.ts'
import { gunEndsAt } from '../gun/find.ts'
import { cureEndsAt } from '../panel/cureClock.ts'
import { isJobClosed } from '../panel/find.ts'
import { isCoating, isInWork, routeState } from '../panel/where.ts'
import { nextAt } from '../shop/hours.ts'
import type { Settings } from '../shop/settingsSchema.ts'
import { contextOf, type State } from '../state.ts'

/** What must not be left overnight, to check before closing. Instants are UTC ms. */
export type Closing = {
  /** Cups whose pot life runs, the one that ends first before the others. */
  readonly cups: readonly {
    readonly id: string
    readonly cup: CupContext
    readonly endsAt: number | null
  }[]
  /** Guns with material in them, activated or not. */
  readonly guns: readonly {
    readonly id: string
    readonly name: string
    readonly holds: string
    readonly endsAt: number | null
  }[]
  /** Panels whose window closes before that. */
  readonly windows: readonly {
    readonly panel: string
    readonly name: string
    readonly job: string
    readonly shutsAt: number
  }[]
  /** A coat that nobody finished, or a cure that goes on. */
  readonly running: readonly {
    readonly panel: string
    readonly name: string
    readonly job: string
    readonly what: 'coat' | 'cure'
    readonly endsAt: number | null
  }[]
}

const last = Number.MAX_SAFE_INTEGER

/**
 * What is to be done before the shop closes.
 * @param untilMs when somebody is there again
 */
export function closingOf(state: State, untilMs: number): Closing {
  return {
    cups: cupsOf(state),
    guns: gunsOf(state),
    windows: windowsOf(state, untilMs),
    running: runningOf(state),
  }
}

const cupsOf = (state: State): Closing['cups'] =>
  Object.entries(state.things.cup)
    .filter(
      ([, { value, context }]) =>
        value === 'live' || (value === 'stored' && context.clocks.length > 0),
    )
    .map(([id, thing]) => {
      const cup = thing.context
      return { id, cup, endsAt: cupEndsAt(state, cup) }
    })
    .sort((a, b) => (a.endsAt ?? last) - (b.endsAt ?? last))

const gunsOf = (state: State): Closing['guns'] =>
  Object.entries(state.things.gun).flatMap(([id, thing]) => {
    const gun = thing.context
    const load = gun.loads.at(-1)
    if (!load) return []
    return [{ id, name: gun.spec?.name ?? id, holds: load.name, endsAt: gunEndsAt(state, gun) }]
  })

const windowsOf = (state: State, untilMs: number): Closing['windows'] =>
  deadlines(state)
    .filter((due) => due.bell === 'windowShut' && due.dueAt <= untilMs)
    .flatMap(({ thing, dueAt }) => {
      const panel = contextOf(state, 'panel', thing.id)
      return panel ? [{ panel: thing.id, name: panel.name, job: panel.job, shutsAt: dueAt }] : []
    })

const runningOf = (state: State): Closing['running'] =>
  Object.entries(state.things.panel).flatMap(([id, thing]): Closing['running'] => {
    const panel = thing.context
    const where = routeState(thing.value)
    if (!isInWork(where) || isJobClosed(state, panel.job)) return []
    const of = { panel: id, name: panel.name, job: panel.job }
    if (isCoating(where)) return [{ ...of, what: 'coat', endsAt: null }]
    if (where === 'cure.running') return [{ ...of, what: 'cure', endsAt: cureEndsAt(state, panel) }]
    return []
  })

/**
 * When the shop opens next, in its own time zone.
 * @param now UTC ms
 * @returns UTC ms; null where the shop has set no hours
 */
export const opensNextAt = ({ hours, timeZone }: Settings, now: number): number | null =>
  hours ? nextAt(hours.opensAt, timeZone, now) : null
