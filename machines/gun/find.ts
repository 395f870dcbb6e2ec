import { clockEndsAt, earliest } from '../cup/ends.ts'
import { type Deciding, thingThen } from '../deciding.ts'
import type { Problem } from '../refusals.ts'
import { isWithin } from '../spans.ts'
import { type State, thingOf } from '../state.ts'
import { type GunContext, type GunLoad, isSameMaterial, materialsIn } from './machine.ts'

/** When the activated material in a gun must be out of it; null for a clean gun or one without a clock. */
export function gunEndsAt(state: State, gun: GunContext): number | null {
  return firstToEnd(state, gun)?.endsAt ?? null
}

type Load = GunContext['loads'][number]

/** Of the loads in a gun the one that binds: whose material ends first. */
export function firstToEnd(
  state: State,
  { loads }: GunContext,
): { readonly load: Load; readonly endsAt: number } | null {
  const ends = loads.flatMap((load) => {
    const endsAt = earliest([
      load.untilMs,
      ...load.clocks.map((clock) => clockEndsAt(state, clock)),
    ])
    return endsAt === null ? [] : [{ load, endsAt }]
  })
  const first = Math.min(...ends.map(({ endsAt }) => endsAt))
  return ends.find(({ endsAt }) => endsAt === first) ?? null
}

/** Whether what a gun held at an instant is still known; its loads of long ago are evicted. */
export function isGunKnown(state: State, id: string, at: number): boolean {
  const heldMs = thingOf(state, { kind: 'gun', id })?.heldMs
  return heldMs === undefined || isWithin(heldMs, at)
}

/** That a gun holds what has to come out of it first. */
export function holding(
  id: string,
  gun: GunContext,
  value: string | null,
  isOver = false,
): Problem {
  const held = materialsIn(gun).at(-1)
  return {
    code: 'gunHolds',
    limit: held?.sheet ?? null,
    value,
    about: gun.spec?.name ?? id,
    held: { name: held?.name ?? '', colour: held?.colour ?? null, isOver },
  }
}

/** The problems of loading a gun: other material in it, or the same material past its time. */
export function gunProblems(d: Deciding, id: string, load: GunLoad, at: number): Problem[] {
  const thing = thingThen(d, { kind: 'gun', id })
  if (!thing || thing.value === 'clean') return []
  const gun = thing.context
  const held = gun.loads.at(-1)
  if (!materialsIn(gun).every((one) => isSameMaterial(one, load))) {
    return [holding(id, gun, load.sheet)]
  }
  if (!held) return []
  const ends = gunEndsAt(d.state, gun)
  // The cup itself says so when its own material is over.
  const isOver = ends !== null && at >= ends && gun.loads.some(({ cup }) => cup !== load.cup)
  return isOver ? [holding(id, gun, load.sheet, true)] : []
}
