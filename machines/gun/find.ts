import { clockEndsAt, earliest } from '../cup/ends.ts'
import { type Deciding, thingThen } from '../deciding.ts'
import type { Problem } from '../refusals.ts'
import { isWithin } from '../spans.ts'
import { type State, thingOf } from '../state.ts'
import { type GunContext, type GunLoad, isSameMaterial } from './machine.ts'

/** When the activated material in a gun must be out of it; null for a clean gun or one without a clock. */
export function gunEndsAt(state: State, gun: GunContext): number | null {
  return earliest(
    gun.loads.flatMap((load) => [
      load.untilMs,
      ...load.clocks.map((clock) => clockEndsAt(state, clock)),
    ]),
  )
}

/** Whether what a gun held at an instant is still known; its loads of long ago are evicted. */
export function isGunKnown(state: State, id: string, at: number): boolean {
  const heldMs = thingOf(state, { kind: 'gun', id })?.heldMs
  return heldMs === undefined || isWithin(heldMs, at)
}

/** The problems of loading a gun: other material in it, or the same material past its time. */
export function gunProblems(d: Deciding, id: string, load: GunLoad, at: number): Problem[] {
  const thing = thingThen(d, { kind: 'gun', id })
  if (!thing || thing.value === 'clean') return []
  const gun = thing.context
  const held = gun.loads.at(-1)
  if (!held) return []
  const problem = (isOver: boolean): Problem[] => [
    {
      code: 'gunHolds',
      limit: held.sheet,
      value: load.sheet,
      about: gun.spec?.name ?? id,
      held: { name: held.name, colour: held.colour, isOver },
    },
  ]
  if (!gun.loads.every((l) => isSameMaterial(l, load))) return problem(false)
  const ends = gunEndsAt(d.state, gun)
  // The cup itself says so when its own material is over.
  const isOver = ends !== null && at >= ends && held.cup !== load.cup
  return isOver ? problem(true) : []
}
