import { cupEndsAt } from '../../machines/cup/ends.ts'
import type { Draft } from '../../machines/envelope.ts'
import { firstToEnd } from '../../machines/gun/find.ts'
import { contextOf, type State } from '../../machines/state.ts'

/** The cups, guns and bells of a job as they stood at a moment. Pure. */

export type CupThen = {
  readonly id: string
  readonly name: string
  readonly isEmpty: boolean
  /** Null where it has no end. */
  readonly endsAt: number | null
}
export type GunThen = {
  readonly id: string
  readonly called: string
  /** What is in it; null for none. */
  readonly name: string | null
  readonly rinsedOf: string | null
  readonly endsAt: number | null
}
export type BellThen = {
  readonly key: string
  readonly bell: string
  readonly rangAt: number
  readonly answer: 'BellAcknowledged' | 'BellSnoozed' | null
  readonly answeredAt: number | null
}

/** @param state folded from what was known then */
export function cupsThen(state: State): CupThen[] {
  return Object.entries(state.things.cup).flatMap(([id, { context, value }]) =>
    value === 'unmixed'
      ? []
      : [
          {
            ...{ id, name: context.name, isEmpty: context.emptiedAt !== null },
            endsAt: cupEndsAt(state, context),
          },
        ],
  )
}

/** @param used the guns that the job's coats name: others of the entries are no part of it */
export function gunsThen(state: State, used: readonly string[]): GunThen[] {
  return used.flatMap((id) => {
    const gun = contextOf(state, 'gun', id)
    if (!gun) return []
    return [
      {
        ...{ id, called: gun.spec?.name ?? id },
        ...{ name: gun.loads.at(-1)?.name ?? null, rinsedOf: gun.rinsed?.name ?? null },
        endsAt: firstToEnd(state, gun)?.endsAt ?? null,
      },
    ]
  })
}

/** Each bell that had rung, the last first, and how it was last answered. @param known by then, with the job's id */
export function bellsThen(known: readonly Draft[]): BellThen[] {
  const bells = new Map<string, BellThen>()
  for (const { type, at, data, job } of known.toSorted((a, b) => a.at - b.at)) {
    const key = String(data.key ?? '')
    if (job === undefined || key === '') continue
    const [bell = ''] = key.split(':')
    if (type === 'BellRang')
      bells.set(key, { key, bell, rangAt: at, answer: null, answeredAt: null })
    const rung = bells.get(key)
    if (rung && (type === 'BellAcknowledged' || type === 'BellSnoozed'))
      bells.set(key, { ...rung, answer: type, answeredAt: at })
  }
  return [...bells.values()].toSorted((a, b) => b.rangAt - a.rangAt)
}
