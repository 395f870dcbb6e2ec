import type { CupContext } from '../../machines/cup/machine.ts'
import { gunEndsAt } from '../../machines/gun/find.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import type { State } from '../../machines/state.ts'
import { type CupView, cupsOf } from '../lanes/cups.ts'

/** Every cup and gun with something in it, and what may be done with it. Pure. */

export const leftMl = (cup: CupContext): number => Math.max(0, cup.totalMl - cup.pouredMl)

/** Cups that can be poured together with one: the same product and color. */
export function partnersOf(state: State, id: string, cup: CupContext, now: number): CupView[] {
  return cupsOf(state, now).filter(
    (view) => view.id !== id && view.cup.sheet === cup.sheet && view.cup.colour === cup.colour,
  )
}

type Addition = {
  readonly role: string
  readonly name: string
  /** By the sheet's ratio, for what has none of it yet; null where the ratio does not say. */
  readonly ml: number | null
}

/** A part of a cup. */
export type Taken = { readonly cup: CupContext; readonly ml: number }

/**
 * What may be put into a cup: activators and reducers that its sheet names. The ratio gives the
 * amount for what is not activated yet. All else was mixed by it already: how much more goes in is
 * for the painter and the sheet to say.
 */
export function additionsFor(sheet: Sheet | undefined, taken: readonly Taken[]): Addition[] {
  if (!sheet) return []
  const { components } = sheet
  const part = components.find((c) => c.role === 'activator')?.parts ?? 0
  const others = components.filter((c) => c.role !== 'activator')
  const all = others.reduce((sum, c) => sum + c.parts, 0)
  const plainMl = taken
    .filter(({ cup }) => cup.clocks.length === 0)
    .reduce((sum, { ml }) => sum + ml, 0)
  // Parts by weight are not volumes.
  const isSaid = sheet.by === 'volume' && part > 0 && all > 0 && plainMl > 0
  return (['activator', 'reducer'] as const).flatMap((role) => {
    const options = role === 'activator' ? sheet.activators : sheet.reducers
    const own = components.filter((c) => c.role === role)
    const ml = role === 'activator' && isSaid ? Math.round((plainMl * part) / all) : null
    return (options.length > 0 ? options : own).map(({ name }) => ({ role, name, ml }))
  })
}

export type PourPlan = {
  /** Cup by cup; null for all that is in it. */
  readonly from: Readonly<Record<string, number | null>>
  /** Null as long as no other amount than the ratio's was put. */
  readonly add: readonly {
    readonly role: string
    readonly name: string
    readonly ml: number | null
  }[]
}

/** How much of an addition goes in, mL; null where neither the ratio nor the painter gave it. */
export const addedMl = (
  add: PourPlan['add'][number],
  additions: readonly Addition[],
): number | null =>
  add.ml ?? additions.find((a) => a.name === add.name && a.role === add.role)?.ml ?? null

/** The command that pours them into a new cup. */
export const pourData = (
  cup: string,
  { from, add }: PourPlan,
  additions: readonly Addition[] = [],
) => ({
  cup,
  from: Object.entries(from).map(([id, ml]) => (ml === null ? { cup: id } : { cup: id, ml })),
  // A missing amount is asked for by the rules' own sentence.
  ...(add.length > 0 ? { add: add.map((a) => ({ ...a, ml: addedMl(a, additions) ?? 0 })) } : {}),
})

export type GunLine = {
  readonly id: string
  readonly name: string
  readonly state: 'clean' | 'loaded' | 'dirty'
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
      state: thing.value === 'dirty' ? 'dirty' : load ? 'loaded' : 'clean',
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
