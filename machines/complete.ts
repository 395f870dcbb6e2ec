import { type Around, withData } from './around.ts'
import type { Kind } from './catalog.ts'
import { completedContents, completedCup } from './completeCup.ts'
import type { Draft } from './envelope.ts'
import { isOutOfGun } from './gun/filled.ts'
import { loadOf } from './gun/load.ts'
import type { GunLoad } from './gun/machine.ts'
import { dueStep, type PanelContext } from './panel/context.ts'
import { bakePoint, cureEndsAt } from './panel/cureClock.ts'
import type { FactOf } from './panel/events.ts'
import { type Hold, holdOf, productOf } from './panel/hold.ts'
import { cureFiguresAt, opensAt } from './panel/opens.ts'
import {
  type CoatClaim,
  coveredStep,
  type Fits,
  placeCoat,
  placeCure,
  stepOfColour,
} from './panel/place.ts'
import { hasSettings, sprayMs } from './panel/spraying.ts'
import type { Folded } from './replay.ts'
import type { ContextOf, ValueOf } from './things.ts'

/**
 * Entries carry the figures that mattered when they were decided. An entry that was decided before
 * something earlier had arrived lacks them, or took them from the wrong place: a load of a cup that
 * nobody knew yet, a finish whose start came later. The fold takes such an entry with the figures of
 * what it names, as far as that is known by now, so that the order of arrival changes nothing. The
 * entry in the log stays as it is.
 */

function completedLoad(entry: Draft, around: Around): Draft {
  const load = entry.data.load as GunLoad | undefined
  const cup = load?.cup ? around.cupAt(load.cup, entry.at) : null
  if (!load?.cup || !cup) return entry
  const { paint, warns, ...before } = loadOf(load.cup, cup)
  // Loads of before did not say whose color it was, nor ring before their end: they stay so.
  const known = load.warns ? { ...before, warns, ...(paint ? { paint } : {}) } : before
  return JSON.stringify(known) === JSON.stringify(load) ? entry : withData(entry, { load: known })
}

const holdAt = (around: Around, cup: string | undefined, at: number): Hold | null =>
  cup === undefined ? null : holdOf(around.cupAt(cup, at))

/** A start from a cup that was not known, and the step that the color of a known one is for. */
function completedStart(entry: Draft, panel: PanelContext, around: Around): Draft {
  const { data } = entry as FactOf<'CoatStarted'>
  const isUnknown = data.sheet === null && data.mixes !== undefined
  const hold = isUnknown ? holdAt(around, entry.cup, entry.at) : null
  return hold ? withData(entry, hold) : withStep(entry, panel, data)
}

/** A coat of whose step nobody said more than the color of its cup. */
function withStep(entry: Draft, panel: PanelContext, claim: CoatClaim & { fits?: Fits }): Draft {
  const { fits, sheet, stage } = claim
  return fits ? withData(entry, { step: stepOfColour(panel, { sheet, stage }, fits) }) : entry
}

function completedContinue(entry: Draft, around: Around): Draft {
  const hold = entry.data.hold === null ? holdAt(around, entry.cup, entry.at) : null
  return hold ? withData(entry, { hold }) : entry
}

/** What the cup holds that a finish names itself. */
function ownOf(entry: Draft, around: Around): Hold | null {
  const { own, passEndsAt } = entry.data as FactOf<'CoatFinished'>['data']
  return own === null ? holdAt(around, entry.cup, passEndsAt ?? entry.at) : (own ?? null)
}

/** Whether nobody knew its panel when an entry was decided. */
const isOfUnknown = ({ outside = [] }: Draft): boolean =>
  outside.some(({ code }) => code === 'panelUnknown')

/** A finish opens what its coat's cups hold, or what its step names, wherever these became known. */
function completedFinish(given: Draft, panel: PanelContext, around: Around): Draft {
  const own = ownOf(given, around)
  const { fits } = given.data as FactOf<'CoatFinished'>['data']
  const ofCup = { sheet: own?.sheet ?? null, stage: own?.stage ?? null }
  const entry = withStep(given, panel, { ...ofCup, ...(fits ? { fits } : {}) })
  const { data } = entry as FactOf<'CoatFinished'>
  // Entries of before did not say what their figures were taken for: these stay.
  if (data.mixes === undefined) return entry
  const holds = [...(panel.open?.holds ?? []), ...(entry.cup === undefined ? [] : [own])]
  const claim = { step: data.step, ...ofCup }
  const step = panel.open?.step ?? placeCoat(panel, claim)?.step ?? dueStep(panel)
  const product = productOf(holds, panel.route[step]?.sheet)
  const kind = panel.open?.kind ?? data.ownKind ?? data.kind
  const isSame =
    (data.opens?.sheet ?? undefined) === product.sheet &&
    JSON.stringify(data.mixes) === JSON.stringify(product.mixes) &&
    (kind === 'heavy') === (data.kind === 'heavy')
  const opens = isSame ? data.opens : opensAt(around.state, product, entry.at, kind)
  const takes = data.sprayMs !== undefined && (hasSettings(around.state) || isOfUnknown(given))
  return withData(entry, {
    ...(takes ? { sprayMs: sprayMs(around.state, panel, data.passEndsAt ?? entry.at) } : {}),
    kind,
    ...ofCup,
    mixes: own?.mixes ?? [],
    opens,
  })
}

/** A cure belongs to the next cure of the route, and to the product that is on, as both are known by now. */
function completedCure(entry: Draft, panel: PanelContext, { state }: Around): Draft {
  const step = placeCure(panel)
  if (step === -1) return entry
  return withData(entry, { step, figures: cureFiguresAt(state, panel, step, entry.at) })
}

/** At the temperature of a bake that was recorded later. */
function completedPart(entry: Draft, panel: PanelContext): Draft {
  const point = entry.data.partC === undefined ? bakePoint(panel) : null
  if (!point) return entry
  return withData(entry, { partC: point.tempC, ...(point.basis === 'air' ? { ofAir: true } : {}) })
}

/** An end of a cure of a panel that nobody knew yet takes its meaning from where the panel stood. */
function completedEnd(entry: Draft, panel: PanelContext, { state }: Around): Draft {
  if (!isOfUnknown(entry)) return entry
  const endsAt = cureEndsAt(state, panel)
  return withData(entry, { isComplete: endsAt !== null && entry.at >= endsAt, endsAt })
}

/**
 * An entry that keeps what it took from a cup, for when that cup is evicted.
 * @returns the same entry where it says so itself
 */
export function settledBy(entry: Draft, around: Around): Draft {
  const { type, data, cup, at } = entry
  if (type === 'CupPoured' || type === 'GunPouredBack') return completedContents(entry, around)
  const whole = completedLoad(entry, around)
  if (type === 'CoatContinued') return completedContinue(whole, around)
  if (type === 'CoatFinished' && data.own === null) {
    return withData(whole, { own: ownOf(whole, around) })
  }
  const isUnknown = type === 'CoatStarted' && data.sheet === null && 'mixes' in data
  const hold = isUnknown ? holdAt(around, cup, at) : null
  return hold ? withData(whole, hold) : whole
}

/** Whether an entry's figures may come from another thing, so that it is folded again with it. */
export function looksAround(entry: Draft): boolean {
  const { type, data } = entry
  return (
    'load' in data ||
    'from' in data ||
    'cupZone' in data ||
    isOutOfGun(entry) ||
    (type === 'CoatStarted' && data.sheet === null && 'mixes' in data) ||
    (type === 'CoatContinued' && data.hold === null) ||
    ((type === 'CoatFinished' || type === 'CoatBrokenOff') && 'mixes' in data) ||
    type === 'CureStarted'
  )
}

type Naming = {
  readonly load?: GunLoad | null
  readonly from?: readonly { readonly cup: string }[]
  /** The cups of what came out of a gun. */
  readonly cups?: readonly string[]
  readonly parents?: readonly string[]
}

/** The cups that entries take their figures from, as far as these are not among their own. */
export function cupsNamedIn(entries: readonly Draft[]): string[] {
  const named = entries.filter(looksAround).flatMap(({ data, cup }) => {
    const { load, from = [], cups = [], parents = [] } = data as Naming
    return [cup, load?.cup, ...from.map((one) => one.cup), ...cups, ...parents]
  })
  return [...new Set(named)].filter((id) => typeof id === 'string')
}

const isForced = ({ data, override }: Draft): boolean =>
  data.isForced === true || override !== undefined

type Before<K extends Kind> = Folded<ContextOf<K>, ValueOf<K>>

/** How an entry of a kind gets its figures; the kinds that take none from others are not here. */
const COMPLETED: {
  readonly [K in Kind]?: (entry: Draft, before: Before<K>, around: Around) => Draft
} = {
  gun: (entry, _, around) => completedLoad(entry, around),
  cup: completedCup,
  panel(entry, { context: panel }, around) {
    if (entry.type === 'CoatStarted') return completedStart(entry, panel, around)
    if (entry.type === 'CoatContinued') return completedContinue(entry, around)
    if (entry.type === 'CureStarted') return completedCure(entry, panel, around)
    if (entry.type === 'PartRead') return completedPart(entry, panel)
    if (entry.type === 'CureEnded') return completedEnd(entry, panel, around)
    if (entry.type === 'CoverReached')
      return withData(entry, { step: coveredStep(panel, isForced(entry)) })
    return entry.type === 'CoatFinished' || entry.type === 'CoatBrokenOff'
      ? completedFinish(entry, panel, around)
      : entry
  },
}

/**
 * An entry with the figures that its thing is folded with.
 * @param before the thing just before it
 * @returns the same entry where it lacks nothing
 */
export const completed = <K extends Kind>(
  entry: Draft,
  kind: K,
  before: Before<K>,
  around: Around,
): Draft => COMPLETED[kind]?.(entry, before, around) ?? entry
