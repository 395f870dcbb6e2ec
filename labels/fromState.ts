import { readingAt } from '../machines/climate/fold.ts'
import { cupEndsAt, labelOf } from '../machines/cup/ends.ts'
import { keepEndsAt } from '../machines/cup/keep.ts'
import type { CupContext } from '../machines/cup/machine.ts'
import { mixedRatio } from '../machines/cup/ratio.ts'
import { shopTag } from '../machines/digest.ts'
import type { Draft } from '../machines/envelope.ts'
import type { Sheet } from '../machines/sheet/schema.ts'
import { settingsOf } from '../machines/shop/settings.ts'
import { contextOf, type State, thingOf } from '../machines/state.ts'
import type { CupLabel, LabelStyle } from './cupLabel.ts'
import { type Hazard, hazardOf } from './hazard.ts'
import { legible } from './legible.ts'

/** The sheet as it was when the cup was mixed: the product's data of that day. */
function sheetOf(state: State, cup: CupContext): Sheet | undefined {
  const versions = contextOf(state, 'sheet', cup.sheet)?.versions ?? []
  return (versions.find((v) => v.version === cup.sheetVersion) ?? versions.at(-1))?.sheet
}

/** An activator by its name, or as a part of the mix itself. */
const hasActivator = (cup: CupContext, sheet: Sheet | undefined): boolean =>
  cup.activator !== null || (sheet?.components.some((c) => c.role === 'activator') ?? false)

/** The air that the pot life was calculated in; without a reading, the sheet's own temperature. */
function potBasisC(state: State, cup: CupContext): number | null {
  const clock = cup.clocks[0]
  if (!clock) return null
  const air = readingAt(state, clock.zone, cup.mixedAt)
  return air?.airC ?? clock.interval.points[0]?.atC ?? null
}

/** Who mixed or poured it; nobody where the shop has no people. */
const madeBy = (entries: readonly Draft[]): string | undefined =>
  entries.find(
    ({ type, data }) => type === 'CupMixed' || (type === 'CupPoured' && data.role === 'child'),
  )?.by ?? undefined

/** A label has room for two or three letters. */
const initialsOf = (name: string): string =>
  name
    .split(/[\s-]+/)
    .map((part) => [...part][0] ?? '')
    .join('')
    .slice(0, 3)

const legibleHazard = (hazard: Hazard): Hazard => ({
  ...hazard,
  words: hazard.words.map(legible),
})

/**
 * What a cup's label says: as it was last printed, else by its clock as it is now. Drawing a label
 * records nothing.
 * @param nextAtMs UTC ms; then what the next label says if it is printed at that time
 * @returns null for a cup that the state does not hold
 */
export function cupLabelOf(state: State, id: string, nextAtMs?: number): CupLabel | null {
  const thing = thingOf(state, { kind: 'cup', id })
  if (!thing || thing.value === 'unmixed') return null
  const cup = thing.context
  const sheet = sheetOf(state, cup)
  const print = cup.prints.at(-1)
  const job = contextOf(state, 'job', cup.job ?? undefined)
  const colour = job?.colours.find((c) => c.key === cup.colour)?.code ?? cup.colour
  const next = nextAtMs === undefined ? null : labelOf(state, cup, nextAtMs)
  const mixedBy = initialsOf(contextOf(state, 'person', madeBy(thing.entries))?.name ?? '')
  const useByMs = next ? next.untilMs : print ? print.untilMs : cupEndsAt(state, cup)
  return {
    shopTag: shopTag(state.shop),
    cup: id,
    product: legible(cup.name),
    ...(colour === null ? {} : { colourCode: legible(colour) }),
    stage: cup.stage,
    hasActivator: hasActivator(cup, sheet),
    ratio: mixedRatio(cup),
    by: cup.by,
    totalMl: cup.totalMl,
    mixedAtMs: cup.mixedAt,
    useByMs,
    keepUntilMs: useByMs === null ? keepEndsAt(state, cup) : null,
    potBasisC: potBasisC(state, cup),
    hazard: legibleHazard(hazardOf(sheet?.hazards)),
    // One name of several would send the other jobs' painter away.
    job: cup.alsoFor ? null : cup.job,
    ...(cup.parents.length > 0 ? { parents: cup.parents } : {}),
    ...(mixedBy === '' ? {} : { mixedBy: legible(mixedBy) }),
    copy: Math.max(0, (next?.copy ?? cup.prints.length) - 1),
  }
}

/** How a shop's labels are written. */
export function labelStyleOf(state: State): LabelStyle {
  const { language = 'en', timeZone = 'UTC', clock = '24h', units } = settingsOf(state)
  return {
    language,
    timeZone,
    clock,
    temperature: units?.temperature ?? 'C',
    volume: units?.volume ?? 'mL',
  }
}
