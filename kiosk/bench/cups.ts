import * as v from 'valibot'
import { ratioText } from '../../labels/code.ts'
import type { CommandType } from '../../machines/commands.ts'
import { type AnyCommand, PROTOCOL, parseCommand } from '../../machines/contract.ts'
import { cupEndsAt } from '../../machines/cup/ends.ts'
import { type CupContents, type CupContext, newCup } from '../../machines/cup/machine.ts'
import { decide } from '../../machines/decide.ts'
import { gunEndsAt } from '../../machines/gun/find.ts'
import type { Refusal } from '../../machines/refusals.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { contextOf, type State } from '../../machines/state.ts'
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
type Taken = { readonly cup: CupContext; readonly ml: number }

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

const amount = v.nullable(v.number())
export const planSchema = v.object({
  /** Cup by cup; null for all that is in it. */
  from: v.record(v.string(), amount),
  /** Null as long as no other amount than the ratio's was put. */
  add: v.array(v.object({ role: v.string(), name: v.string(), ml: amount })),
})
export type PourPlan = v.InferOutput<typeof planSchema>

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

/**
 * What a command would make, by the same rules as the server's: to be shown before it is pressed,
 * and where the server cannot say. Pure.
 */
type Preview =
  | { readonly kind: 'cup'; readonly cup: CupContext }
  | { readonly kind: 'refused'; readonly refusal: Refusal }
  | { readonly kind: 'wrong' }

/**
 * The cup that MixCup or PourCup would make.
 * @param at when it happens, UTC ms
 */
export function previewCup(
  state: State,
  type: Extract<CommandType, 'MixCup' | 'PourCup'>,
  data: object,
  at: number,
): Preview {
  const parsed = parseCommand({ id: 'preview', protocol: PROTOCOL, type, data })
  if (!parsed.ok) return { kind: 'wrong' }
  const command: AnyCommand = parsed.value
  const decided = decide(state, command, at)
  if ('refusal' in decided) return { kind: 'refused', refusal: decided.refusal }
  if ('error' in decided) return { kind: 'wrong' }
  const made = decided.drafts.find((draft) => draft.cup === (data as { cup: string }).cup)
  if (!made) return { kind: 'wrong' }
  return {
    kind: 'cup',
    cup: newCup(made.data as CupContents & typeof made.data, made.job ?? null, made.at),
  }
}

/** What has to be written on a cup whose label does not print. Pure. */
export type HandCopy = {
  readonly id: string
  readonly name: string
  readonly ratio: string
  readonly by: 'volume' | 'mass'
  /** Null for a mix without pot life. */
  readonly useByMs: number | null
  readonly keepUntilMs: number | null
  readonly hazards: NonNullable<Sheet['hazards']> | null
  /** How many labels were printed after the first. */
  readonly copies: number
}

/** The sheet by which a cup was mixed. */
export function sheetOfCup(state: State, cup: CupContents): Sheet | undefined {
  const versions = contextOf(state, 'sheet', cup.sheet)?.versions ?? []
  return (versions.find((v) => v.version === cup.sheetVersion) ?? versions.at(-1))?.sheet
}

/**
 * @param cup as the state holds it, or as it will when the server hears of it
 * @param more the word after the count of a ratio's parts that are left out
 */
export function handCopyOf(state: State, id: string, cup: CupContext, more: string): HandCopy {
  const print = cup.prints.at(-1)
  const useByMs = print ? print.untilMs : cupEndsAt(state, cup)
  return {
    id,
    name: cup.name,
    ratio: ratioText(cup.ratio, more),
    by: cup.by,
    useByMs,
    keepUntilMs: useByMs === null ? cup.keepUntilMs : null,
    hazards: sheetOfCup(state, cup)?.hazards ?? null,
    copies: Math.max(0, cup.prints.length - 1),
  }
}

/** Which cautions a mix calls for. */
type Caution = 'isocyanate' | 'solvent' | 'sealed' | 'first'

const FLAME = /0?2$|flam/i

/**
 * Hazards that nobody typed in are treated as danger: every caution is shown.
 * @param sheet undefined where it is not known
 */
export function cautionsFor(
  sheet: Sheet | undefined,
  isActivated: boolean,
): { readonly isMissing: boolean; readonly names: readonly Caution[] } {
  const hazards = sheet?.hazards
  const isMissing = hazards === undefined
  const hasIsocyanate = isMissing || hazards.isocyanate
  const hasSolvent =
    isMissing ||
    sheet?.medium === 'solvent' ||
    hazards.pictograms.some((pictogram) => FLAME.test(pictogram))
  return {
    isMissing,
    names: [
      ...(hasIsocyanate ? (['isocyanate'] as const) : []),
      ...(hasSolvent ? (['solvent'] as const) : []),
      ...(isActivated || isMissing ? (['sealed'] as const) : []),
      'first',
    ],
  }
}
