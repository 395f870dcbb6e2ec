import { sheetAt } from '../sheet/fold.ts'
import { chosenOptions, waitOf } from '../sheet/intervals.ts'
import { factorOf, potLives, stretched } from '../sheet/potLife.ts'
import type { Sheet } from '../sheet/schema.ts'
import type { State } from '../state.ts'
import { colourOf } from './colours.ts'
import { earliest } from './ends.ts'
import { keepEndsAt } from './keep.ts'
import type { Added, CupContents, CupContext, PotClock } from './machine.ts'
import { additivesOf, joinedMixes, type Mix } from './mixes.ts'
import type { Paint } from './paint.ts'
import { isWithoutActivator, joinedParts, MARK_SHARE, offParts, type Part } from './ratio.ts'
import { reducedAt } from './reduced.ts'

const DAY_MS = 86_400_000

/** A cup that is poured from, as it was just before, and how much was taken; without it, all that was left. */
export type Parent = {
  readonly id: string
  readonly cup: CupContext
  readonly ml: number | undefined
}

/** A pour: from which cups, what was put in besides, and when. */
export type Poured = {
  readonly state: State
  readonly at: number
  readonly parents: readonly Parent[]
  readonly add: readonly Added[]
  /** The full mark of the printed cup in which it was measured. */
  readonly markMl?: number | undefined
}

export const leftMl = (cup: CupContext): number => Math.max(0, cup.totalMl - cup.pouredMl)
const takenMl = ({ cup, ml }: Parent): number => ml ?? leftMl(cup)

/** What a pour takes from one of its cups, in mL, and whether that is all of it. */
export const outOf = (p: Parent): { ml: number; isAll: boolean } => ({
  ml: takenMl(p),
  isAll: p.ml === undefined || takenMl(p) >= leftMl(p.cup),
})

type Fresh = { clocks: PotClock[]; activator: string | null; induction: PotClock | null }

/** The additives put in that the sheet has figures for. */
const addedNames = ({ state, at, add }: Poured, sheet: string): string[] => {
  const known = sheetAt(state, sheet, at)?.sheet.additives ?? []
  return add.flatMap(({ name }) => (known.some((one) => one.name === name) ? [name] : []))
}

/** An additive put into what lives already: its figures count from when that began to. Nothing extends a cup. */
function shortened(pour: Poured, clocks: readonly PotClock[], sheet: string): PotClock[] {
  const saved = sheetAt(pour.state, sheet, pour.at)?.sheet
  const names = addedNames(pour, sheet)
  if (!saved || names.length === 0) return []
  const options = chosenOptions(saved, undefined, undefined, names)
  const own = options.flatMap((one) => one.potLife ?? [])
  const factor = factorOf(options)
  return clocks.flatMap((clock) => [
    ...(factor === 1
      ? []
      : [
          {
            ...clock,
            interval: { ...clock.interval, points: stretched(clock.interval.points, factor) },
          },
        ]),
    ...(own.length === 0 ? [] : [{ ...clock, interval: { ...clock.interval, points: own } }]),
  ])
}

/** Activator put in now starts its own clocks, and the induction time. */
function activated(pour: Poured, first: CupContext): Fresh {
  const { state, at, add } = pour
  const added = add.find((a) => a.role === 'activator')
  const saved = sheetAt(state, first.sheet, at)
  if (!added || !saved) return { clocks: [], activator: null, induction: null }
  const reducer = add.find((a) => a.role === 'reducer')?.name ?? first.reducer ?? undefined
  const intervals = potLives(
    saved.sheet,
    chosenOptions(saved.sheet, added.name, reducer, addedNames(pour, first.sheet)),
  )
  const started = (interval: PotClock['interval']) => ({
    startMs: at,
    zone: first.zone,
    interval,
  })
  const { induction } = saved.sheet
  return {
    clocks: intervals.map(started),
    activator: added.name,
    induction: induction ? started(waitOf(induction)) : null,
  }
}

/** Of several induction times, the one that began last. */
const latestOf = (clocks: readonly (PotClock | null)[]): PotClock | null =>
  clocks
    .filter((clock) => clock !== null)
    .reduce<PotClock | null>((a, b) => (a !== null && a.startMs >= b.startMs ? a : b), null)

/** What any of the parents has in it: a stored base joined to an activated one is activated. */
const named = (parents: readonly Parent[], of: (cup: CupContext) => string | null) =>
  parents.map((p) => of(p.cup)).find((name) => name !== null) ?? null

const hundredths = (value: number): number => Math.round(100 * value) / 100

/** Where in a ratio something that is put in counts; -1 for what the ratio does not have. */
function placeIn(components: Sheet['components'], { name, role }: Added): number {
  const named = components.findIndex((c) => c.name === name)
  return named >= 0 ? named : components.findIndex((c) => c.role === role && c.parts > 0)
}

/**
 * The ratio with what was put in, in parts of the same volume: that of a component counts with it, all else stands
 * behind. Of a cup that was weighed the sheet's ratio stays: what is in it says more (mixedRatio). Parts by mass stay as
 * they were: what was added is known in mL only, and the entry carries it.
 */
function ratioWith(pour: Poured, cup: CupContext, parentsMl: number, isWeighed: boolean): string {
  const { components = [] } = sheetAt(pour.state, cup.sheet, pour.at)?.sheet ?? {}
  const shares = cup.ratio.split(':').map(Number)
  // What is activated now had no activator in it.
  const isActivated = pour.add.some(({ role }) => role === 'activator')
  const isPlain = isActivated && cup.clocks.length === 0 && cup.activator === null
  const isIn = (at: number) => !(isPlain && components[at]?.role === 'activator')
  const inIt = shares.map((share, at) => (isIn(at) ? share : 0))
  const partMl = parentsMl / inIt.reduce((sum, share) => sum + share, 0)
  if (cup.by === 'mass' || !Number.isFinite(partMl) || partMl === 0) return cup.ratio
  const behind: number[] = []
  const now = [...inIt]
  for (const added of pour.add) {
    const at = placeIn(components, added)
    const share = added.ml / partMl
    if (at < 0 || shares[at] === undefined) behind.push(hundredths(share))
    else now[at] = (now[at] ?? 0) + share
  }
  if (isWeighed || behind.length === pour.add.length) return [...shares, ...behind].join(':')
  // As many parts of the first as the sheet says.
  const first = shares.findIndex((share) => share > 0)
  const scale = (shares[first] ?? 1) / (now[first] || 1)
  return [...now, ...behind].map((share) => hundredths(share * scale)).join(':')
}

/** What was put in, in the measure of the sheet; null where its density is not known. */
function addedParts(
  { components, by }: Sheet,
  add: readonly Added[],
  markMl: number,
): Part[] | null {
  const parts = add
    .filter((a) => a.role !== 'tint')
    .map(({ role, name, ml }) => {
      const own = components.find((c) => c.name === name) ?? components.find((c) => c.role === role)
      const density = by === 'mass' ? (own?.densityGPerMl ?? Number.NaN) : 1
      const slack = MARK_SHARE * markMl * density
      return { name: own?.name ?? name, role: own?.role ?? role, amount: ml * density, slack }
    })
  return parts.every(({ amount }) => Number.isFinite(amount)) ? parts : null
}

/** What the new cup holds of each component, where that is known of all that went into it. */
function partsWith(pour: Poured, first: CupContext): Pick<CupContents, 'parts' | 'off'> {
  const sheet = sheetAt(pour.state, first.sheet, pour.at)?.sheet
  const add = sheet && addedParts(sheet, pour.add, pour.markMl ?? 0)
  const poured = pour.parents.flatMap((p) =>
    p.cup.parts ? [{ parts: p.cup.parts, share: takenMl(p) / p.cup.totalMl }] : [],
  )
  if (!sheet || !add || poured.length < pour.parents.length) return {}
  const parts = joinedParts(poured, add)
  return { parts, off: offParts(sheet, parts) }
}

/** The color of a pour: hand-tinted once anything in it is, or tint is put in. */
function paintWith({ state, parents, add }: Poured, first: CupContext): { paint?: Paint } {
  const { paint } = colourOf(state, first)
  if (first.colour === null || paint === undefined) return {}
  const tints = parents.flatMap(({ cup }) => cup.paint?.tint ?? [])
  const tint = add.find((a) => a.role === 'tint')?.name ?? tints[0]
  return { paint: { ...paint, ...(tint === undefined ? {} : { tint }) } }
}

/** What was done with all of the cups of a pour. */
function checkedIn(parents: readonly Parent[]): Pick<CupContents, 'checked'> {
  const all = parents.flatMap(({ cup }) => cup.checked ?? [])
  const [one, ...others] = all
  if (!one || all.length < parents.length) return {}
  const done = one.done.filter((check) => others.every((other) => other.done.includes(check)))
  return { checked: { at: Math.min(...all.map(({ at }) => at)), done } }
}

/** A pour is for the jobs that every cup in it is for. */
function alsoForAll(parents: readonly Parent[]): Pick<CupContents, 'alsoFor'> {
  const forOne = ({ cup }: Parent) => [cup.job, ...(cup.alsoFor ?? [])]
  const alsoFor = (parents[0]?.cup.alsoFor ?? []).filter((job) =>
    parents.every((parent) => forOne(parent).includes(job)),
  )
  return alsoFor.length > 0 ? { alsoFor } : {}
}

const withNames = (names: readonly string[]): Pick<CupContents, 'withAdditives'> => {
  const { additives } = additivesOf(names)
  return additives ? { withAdditives: additives } : {}
}

/** A mix of a cup that has its activator by now. */
const activatedMix = ({ lacksActivator: _, ...mix }: Mix): Mix => mix

/**
 * The new cup's contents. Its clocks are all those of its parents, with their labels' use-by: nothing
 * extends a cup.
 * @param pour with at least one parent
 */
export function childOf(pour: Poured): CupContents {
  const { parents, add } = pour
  const first = (parents[0] as Parent).cup
  const fresh = activated(pour, first)
  const parentsMl = parents.reduce((sum, p) => sum + takenMl(p), 0)
  const addedMl = add.reduce((sum, a) => sum + a.ml, 0)
  const running = parents.flatMap((p) => p.cup.clocks)
  const clocks = [...running, ...shortened(pour, running, first.sheet), ...fresh.clocks]
  const addedAdditives = addedNames(pour, first.sheet)
  const labels = parents.flatMap(({ cup }) => [cup.untilMs, ...cup.prints.map((p) => p.untilMs)])
  const reducerIn = add.find((a) => a.role === 'reducer')?.name ?? null
  const saved = sheetAt(pour.state, first.sheet, pour.at)?.sheet
  const keepsReduced =
    saved?.keepDaysReduced === undefined || reducerIn === null
      ? null
      : pour.at + saved.keepDaysReduced * DAY_MS
  const keeps = earliest([
    ...parents.map((p) => keepEndsAt(pour.state, p.cup, pour.at)),
    keepsReduced,
  ])
  const whole = {
    activator: fresh.activator ?? named(parents, (cup) => cup.activator),
    reducer: reducerIn ?? named(parents, (cup) => cup.reducer),
  }
  const added = { activator: fresh.activator, reducer: reducerIn, additives: addedAdditives }
  const mixes = joinedMixes(
    parents.map((p) => p.cup),
    added,
    whole,
  )
  const ofRatio = partsWith(pour, first)
  const isWhole = ofRatio.off !== undefined && !isWithoutActivator(ofRatio.off)
  return {
    ...ofRatio,
    sheet: first.sheet,
    sheetVersion: first.sheetVersion,
    stage: first.stage,
    name: first.name,
    totalMl: parentsMl + addedMl,
    ratio: ratioWith(pour, first, parentsMl, ofRatio.parts !== undefined),
    by: first.by,
    zone: first.zone,
    colour: first.colour,
    ...alsoForAll(parents),
    ...paintWith(pour, first),
    ...whole,
    ...withNames([...parents.flatMap((p) => p.cup.withAdditives ?? []), ...addedAdditives]),
    ...(mixes.length > 1 ? { mixes: isWhole ? mixes.map(activatedMix) : mixes } : {}),
    clocks,
    keepUntilMs: clocks.length > 0 || whole.activator !== null ? null : keeps,
    firstMixedAt: Math.min(...parents.map(({ cup }) => cup.firstMixedAt ?? cup.mixedAt)),
    ...reducedAt(
      parents.map(({ cup }) => cup),
      reducerIn === null ? null : pour.at,
    ),
    ...checkedIn(parents),
    induction: latestOf([...parents.map((p) => p.cup.induction), fresh.induction]),
    untilMs: earliest(clocks.length > 0 ? [...labels, keeps] : labels),
  }
}
