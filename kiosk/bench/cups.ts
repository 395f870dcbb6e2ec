import { ratioText } from '../../labels/code.ts'
import type { CommandType } from '../../machines/commands.ts'
import { type AnyCommand, PROTOCOL, parseCommand } from '../../machines/contract.ts'
import { colourOf } from '../../machines/cup/colours.ts'
import { cupEndsAt } from '../../machines/cup/ends.ts'
import { keepEndsAt } from '../../machines/cup/keep.ts'
import { leftIn } from '../../machines/cup/left.ts'
import { type CupContents, type CupContext, newCup } from '../../machines/cup/machine.ts'
import { isSameColour } from '../../machines/cup/paint.ts'
import { joinedParts, mixedRatio, offParts, toAdd } from '../../machines/cup/ratio.ts'
import { decide } from '../../machines/decide.ts'
import { fitProblems } from '../../machines/gun/pourBack.ts'
import type { Refusal } from '../../machines/refusals.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { groupIn, rowsIn } from '../forms/draft.ts'
import type { Draft } from '../forms/spec.ts'
import { type CupView, cupsOf } from '../lanes/cups.ts'
import type { GunLine } from '../lanes/gunLines.ts'

/** Every cup and gun with something in it, and what may be done with it. Pure. */

export const leftMl = (cup: CupContext): number => Math.max(0, cup.totalMl - cup.pouredMl)

/** A cup of which as much is gone as was poured out of it or is estimated to have been sprayed. */
export function asLeft(state: State, id: string, cup: CupContext): CupContext {
  const { ml, isEstimate } = leftIn(state, id, cup)
  return isEstimate ? { ...cup, pouredMl: cup.totalMl - ml } : cup
}

/** Cups that can be poured together with one: the same product and color. */
export function partnersOf(state: State, id: string, cup: CupContext, now: number): CupView[] {
  return cupsOf(state, now).filter(
    (view) =>
      view.id !== id &&
      view.cup.sheet === cup.sheet &&
      isSameColour(colourOf(state, view.cup), colourOf(state, cup)),
  )
}

type Addition = {
  readonly role: string
  readonly name: string
  /** By the sheet's ratio, for what has none of it yet or was weighed; null where the ratio does not say. */
  readonly ml: number | null
  /** The same on a scale, of what was weighed and has a density. */
  readonly g?: number
}

/** What the form of a pour says; an amount that is not given is the proposed one. */
export type PourPlan = {
  readonly from: readonly { readonly cup: string; readonly ml?: unknown }[]
  readonly add?: readonly { readonly role: string; readonly name: string; readonly ml?: unknown }[]
}
type Cups = ReadonlyMap<string, CupContext>

/** What brings weighed cups that are off their ratio back to it once they are together; nothing where they are not off. */
export function missingIn(
  sheet: Sheet | undefined,
  from: PourPlan['from'],
  cups: Cups,
): Addition[] {
  const poured = from.flatMap(({ cup: id, ml }) => {
    const cup = cups.get(id)
    const share = cup && (typeof ml === 'number' ? ml : leftMl(cup)) / cup.totalMl
    return cup?.parts && share !== undefined ? [{ parts: cup.parts, share }] : []
  })
  if (!sheet || poured.length < from.length) return []
  const parts = joinedParts(poured, [])
  if (offParts(sheet, parts).length === 0) return []
  return toAdd(sheet, parts).map(({ name, role, amount }) => {
    const density = sheet.components.find((c) => c.name === name)?.densityGPerMl
    const ml = sheet.by === 'volume' ? amount : density && amount / density
    const known = { name, role, ml: ml === undefined ? null : Math.round(ml) }
    return density === undefined || ml === undefined ? known : { ...known, g: density * ml }
  })
}

/**
 * What may be put into a cup: activators and reducers that its sheet names, and what else it is short of. The ratio gives
 * the amount for what is not activated yet or was weighed. All else was mixed by it already: how much more goes in is
 * for the painter and the sheet to say.
 */
export function additionsFor(
  sheet: Sheet | undefined,
  from: PourPlan['from'],
  cups: Cups,
): Addition[] {
  if (!sheet) return []
  const { components } = sheet
  const part = components.find((c) => c.role === 'activator')?.parts ?? 0
  const others = components.filter((c) => c.role !== 'activator')
  const all = others.reduce((sum, c) => sum + c.parts, 0)
  const plainMl = from.reduce((sum, { cup, ml }) => {
    const of = cups.get(cup)
    return of?.clocks.length === 0 ? sum + (typeof ml === 'number' ? ml : leftMl(of)) : sum
  }, 0)
  // Parts by weight are not volumes.
  const isSaid = sheet.by === 'volume' && part > 0 && all > 0 && plainMl > 0
  const missing = missingIn(sheet, from, cups)
  const roles = ['activator', 'reducer'] as const
  const named = roles.flatMap((role) => {
    const options = role === 'activator' ? sheet.activators : sheet.reducers
    const own = components.filter((c) => c.role === role)
    const short = missing.find((one) => one.role === role)
    const ml = role === 'activator' && isSaid ? Math.round((plainMl * part) / all) : null
    return (options.length > 0 ? options : own).map(({ name }) => ({
      ...{ role, name, ml: short?.ml ?? ml },
      ...(short?.g === undefined ? {} : { g: short.g }),
    }))
  })
  return [...named, ...missing.filter(({ role }) => !roles.some((one) => one === role))]
}

/** What the form of a pour begins with: all of a cup, and what it is short of. */
export function pourStart(sheet: Sheet | undefined, id: string, cup: CupContext, left: CupContext) {
  const cups = new Map([[id, left]])
  const from = [{ cup: id, ml: '' }]
  const options = additionsFor(sheet, from, cups)
  const add = missingIn(sheet, from, cups).flatMap(({ role }) => {
    const own = options.filter((one) => one.role === role)
    const isIn = ({ name }: Addition) => name === cup.activator || name === cup.reducer
    const one = own.find(isIn) ?? own[0]
    return one === undefined ? [] : [{ role, name: one.name, ml: '' }]
  })
  return { from, add }
}

/** Tint, dropped in by hand: the color becomes a variant of its own, T1 and so on in its job. */
export function tintFor(state: State, { colour, job }: CupContext): Addition[] {
  if (colour === null) return []
  const tints = Object.values(state.things.cup).flatMap(({ context }) =>
    context.job === job && context.colour === colour ? (context.paint?.tint ?? []) : [],
  )
  let n = 1
  while (tints.includes(`T${n}`)) n += 1
  return [{ role: 'tint', name: `T${n}`, ml: null }]
}

const additionIn = (additions: readonly Addition[], name: string) =>
  additions.find((a) => a.name === name)

/** What counts where no amount is given, by the form's paths: all that is in a cup, and the ratio's share. */
export const proposedIn = (
  { from, add = [] }: PourPlan,
  additions: readonly Addition[],
  cups: Cups,
): Readonly<Record<string, number | null>> => ({
  ...Object.fromEntries(
    from.map(({ cup }, i) => {
      const of = cups.get(cup)
      return [`from.${i}.ml`, of ? leftMl(of) : null]
    }),
  ),
  ...Object.fromEntries(
    add.map(({ name }, i) => [`add.${i}.ml`, additionIn(additions, name)?.ml ?? null]),
  ),
})

/** The command that pours them into a new cup. Without an amount a cup is poured whole. */
export const pourData = (
  cup: string,
  { from, add = [] }: PourPlan,
  additions: readonly Addition[] = [],
) => ({
  cup,
  from,
  // A missing amount is asked for by the rules' own sentence.
  ...(add.length > 0
    ? {
        add: add.map((a) => ({ ...a, ml: a.ml ?? additionIn(additions, a.name)?.ml ?? undefined })),
      }
    : {}),
})

/** A form of a pour without the cups that are not there any more; the same where all are. */
export function withoutGone(draft: Draft, cups: Cups): Draft {
  const rows = rowsIn(groupIn(draft).from)
  const left = rows.filter((row) => cups.has(String(groupIn(row).cup)))
  return left.length === rows.length ? draft : { ...groupIn(draft), from: left }
}

/** One activator and one reducer: one that is chosen replaces the other. What is not needed together any more is gone. */
export function oneOfEachRole(draft: Draft, additions: readonly Addition[]): Draft {
  const rows = rowsIn(groupIn(draft).add).flatMap((row) => {
    const one = additionIn(additions, String(groupIn(row).name))
    return one ? [{ ...groupIn(row), role: one.role }] : []
  })
  const add = rows.filter((row, i) => !rows.slice(i + 1).some((later) => later.role === row.role))
  return { ...groupIn(draft), add }
}

/** A cup into which the rest of a gun may go, and when that ends it sooner, UTC ms. */
type BackInto = { readonly id: string; readonly soonerMs: number | null }

/** The cups of the product and color that a gun holds, its own first. */
export function backInto(state: State, gun: GunLine, now: number): BackInto[] {
  const loads = contextOf(state, 'gun', gun.id)?.loads ?? []
  if (gun.state !== 'loaded' || loads.length === 0) return []
  return cupsOf(state, now)
    .filter(({ cup }) => fitProblems(state, loads, cup, gun.name).length === 0)
    .filter(({ endsAt }) => endsAt === null || endsAt > now)
    .toSorted((a, b) => Number(b.id === gun.cup) - Number(a.id === gun.cup))
    .map(({ id, endsAt }) => {
      const isForeign = loads.some(({ cup }) => cup !== id)
      const isSooner = gun.endsAt !== null && (endsAt === null || gun.endsAt < endsAt)
      return { id, soonerMs: isForeign && isSooner ? gun.endsAt : null }
    })
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
    ratio: ratioText(mixedRatio(cup), more),
    by: cup.by,
    useByMs,
    keepUntilMs: useByMs === null ? keepEndsAt(state, cup) : null,
    hazards: sheetOfCup(state, cup)?.hazards ?? null,
    copies: Math.max(0, cup.prints.length - 1),
  }
}
