import { gunEndsAt } from '../../machines/gun/find.ts'
import type { State } from '../../machines/state.ts'
import type { ValueOf } from '../../machines/things.ts'

/** The guns of a shop as the Bench and a scan show them. */

export type GunLine = {
  readonly id: string
  readonly name: string
  readonly state: ValueOf<'gun'>
  readonly holds: string | null
  readonly colour: string | null
  readonly cup: string | null
  readonly sheet: string | null
  readonly endsAt: number | null
  readonly needleMm: number | null
  readonly inletKpa: number | null
}

/** The gun to clean first comes first; then guns without an end, last the clean ones. */
export function gunLines(state: State): GunLine[] {
  const lines = Object.entries(state.things.gun).map(([id, thing]): GunLine => {
    const gun = thing.context
    const load = gun.loads.at(-1)
    return {
      id,
      name: gun.spec?.name ?? id,
      state: thing.value,
      holds: load?.name ?? null,
      colour: load?.colour ?? null,
      cup: load?.cup ?? null,
      sheet: load?.sheet ?? null,
      endsAt: gunEndsAt(state, gun),
      needleMm: gun.spec?.needleMm ?? null,
      inletKpa: gun.spec?.inletKpa ?? null,
    }
  })
  const rank = ({ state: is, endsAt }: GunLine) =>
    is === 'clean' ? Number.MAX_VALUE : (endsAt ?? Number.MAX_SAFE_INTEGER)
  return lines.toSorted((a, b) => rank(a) - rank(b) || a.name.localeCompare(b.name))
}

/** Whether what is in a gun can still be used, so that it may go into a clean cup. */
export const mayPourOut = ({ state, cup, endsAt }: GunLine, now: number): boolean =>
  state === 'loaded' && cup !== null && (endsAt === null || now < endsAt)
