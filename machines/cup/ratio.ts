import type { Sheet } from '../sheet/schema.ts'

/** What was poured of a component, in the measure of its sheet: mL, or g where it mixes by mass. */
export type Part = {
  readonly name: string
  readonly role: string
  readonly amount: number
  /** How finely it was measured: closer than this to its target nobody can pour. */
  readonly slack: number
}

/** A component that is outside its tolerance. */
export type OffPart = {
  readonly name: string
  readonly role: string
  readonly amount: number
  readonly least: number
  readonly most: number
}

type Component = Sheet['components'][number]

/** Shares of a component that it may be short of or beyond its ratio, where the sheet says nothing. Common practice, no source. */
const TOLERANCE: Readonly<Record<string, readonly [number, number]>> = {
  activator: [0.05, 0.1],
  reducer: [0.15, 0.15],
  additive: [0.25, 0.1],
}
const OTHERS: readonly [number, number] = [0.05, 0.05]
/** A bench scale shows tenths of a gram. */
export const SCALE_STEP_G = 0.1
const DIVISIONS = 2
/** Of a printed mixing cup, the share of its full mark within which its marks can be read. Common practice, no source. */
export const MARK_SHARE = 0.03
/** A binary fraction must not turn a limit that is met into one that is broken. */
const HAIR = 1e-9

const baseOf = (components: readonly Component[]): Component | undefined =>
  components.find((c) => c.role === 'base' && c.parts > 0) ?? components.find((c) => c.parts > 0)

/**
 * What was weighed of each component. Components left out at the end: none of these was poured.
 * @param pouredG in the order of the sheet's components, g
 * @param stepG the step of the scale
 * @returns null where the sheet mixes by volume and does not give every density
 */
export function weighedParts(
  { components, by }: Pick<Sheet, 'components' | 'by'>,
  pouredG: readonly number[],
  stepG: number,
): Part[] | null {
  const of = (grams: number, { densityGPerMl }: Component) =>
    by === 'mass' ? grams : grams / (densityGPerMl ?? Number.NaN)
  const parts = components.map((c, i) => ({
    name: c.name,
    role: c.role,
    amount: of(pouredG[i] ?? 0, c),
    slack: of(DIVISIONS * stepG, c),
  }))
  return parts.every(({ amount, slack }) => Number.isFinite(amount + slack)) ? parts : null
}

/** The limits of a component beside the base that is really in the cup. */
function limitsOf(sheet: Sheet, component: Component, part: Part | undefined, each: number) {
  const target = component.parts * each
  const shared = sheet.ratioTolerance
  const [short, over] =
    shared === undefined ? (TOLERANCE[component.role] ?? OTHERS) : [shared, shared]
  const slack = part?.slack ?? 0
  return {
    least: Math.max(0, target - Math.max(short * target, slack)),
    most: target + Math.max(over * target, slack),
  }
}

/** The components that are outside their tolerance, by the base that was really poured and not by what was planned. */
export function offParts(sheet: Sheet, parts: readonly Part[]): OffPart[] {
  const base = baseOf(sheet.components)
  const poured = parts.find(({ name }) => name === base?.name)?.amount ?? 0
  if (!base) return []
  const each = poured / base.parts
  return sheet.components.flatMap((component) => {
    if (component === base || component.parts === 0) return []
    const part = parts.find(({ name }) => name === component.name)
    const amount = part?.amount ?? 0
    const { least, most } = limitsOf(sheet, component, part, each)
    const isIn = amount >= least - HAIR && amount <= most + HAIR
    const { name, role } = component
    return isIn ? [] : [{ name, role, amount, least, most }]
  })
}

/**
 * What brings a mix back to its ratio, the largest amount first. Nothing can be taken out.
 * @returns amounts in the measure of the sheet
 */
export function toAdd(
  { components }: Pick<Sheet, 'components'>,
  parts: readonly Pick<Part, 'name' | 'amount'>[],
): { readonly name: string; readonly role: string; readonly amount: number }[] {
  const amountOf = (name: string) => parts.find((part) => part.name === name)?.amount ?? 0
  const inRatio = components.filter((c) => c.parts > 0)
  const each = Math.max(...inRatio.map((c) => amountOf(c.name) / c.parts))
  return inRatio
    .map(({ name, role, parts: share }) => ({ name, role, amount: share * each - amountOf(name) }))
    .filter(({ amount }) => amount > HAIR)
    .sort((a, b) => b.amount - a.amount)
}

/** The parts of a cup that is poured from others, with what was put in. */
export function joinedParts(
  poured: readonly { readonly parts: readonly Part[]; readonly share: number }[],
  add: readonly Part[],
): Part[] {
  const all = [
    ...poured.flatMap(({ parts, share }) =>
      parts.map((p) => ({ ...p, amount: p.amount * share, slack: p.slack * share })),
    ),
    ...add,
  ]
  const names = [...new Set(all.map(({ name }) => name))]
  return names.map((name) => {
    const own = all.filter((part) => part.name === name)
    const sum = (of: (part: Part) => number) => own.reduce((total, part) => total + of(part), 0)
    return { ...(own[0] as Part), amount: sum((p) => p.amount), slack: sum((p) => p.slack) }
  })
}

type Mixed = {
  readonly ratio: string
  readonly parts?: readonly Part[]
  readonly off?: readonly OffPart[]
}

/** The ratio of what is in a cup: its sheet's, or where it is outside the tolerance that of what was poured, "4:5.55". */
export function mixedRatio({ ratio, parts = [], off = [] }: Mixed): string {
  const at = parts.findIndex(({ amount }) => amount > HAIR)
  const first = parts[at]
  if (off.length === 0 || !first) return ratio
  const each = first.amount / (Number(ratio.split(':')[at]) || 1)
  return parts.map(({ amount }) => Math.round((100 * amount) / each) / 100).join(':')
}

/** Whether an activated product has none of its activator in it: it never cures. */
export const isWithoutActivator = (off: readonly OffPart[]): boolean =>
  off.some(({ role, amount }) => role === 'activator' && amount <= HAIR)
