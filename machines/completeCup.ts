import { type Around, withData } from './around.ts'
import type { PouredBack } from './cup/back.ts'
import { childOf, outOf, type Parent } from './cup/contents.ts'
import { labelOf } from './cup/ends.ts'
import type { Added, CupContents, CupContext, PotClock, PouredOut } from './cup/machine.ts'
import type { Draft } from './envelope.ts'
import { backOf, cupsOf, foreign, heldIn } from './gun/back.ts'
import { isOutOfGun } from './gun/filled.ts'
import { contextOf } from './state.ts'
import type { ValueOf } from './things.ts'

/** What the entries of a cup take from others: what came into it, and where it was used (complete.ts). */

/** What a label says of a cup that nobody knew when it was printed. */
const completedPrint = (entry: Draft, cup: CupContext, { state }: Around): Draft =>
  entry.outside?.some(({ code }) => code === 'cupUnknown')
    ? withData(entry, labelOf(state, cup, entry.at))
    : entry

type Child = {
  readonly from: readonly { readonly cup: string; readonly ml?: number }[]
  readonly add?: readonly Added[]
  readonly markMl?: number
} & Partial<CupContents>

/** What was poured out of a cup: all that was left is what was left then. */
function completedOut(entry: Draft, cup: CupContext, isKnown: boolean): Draft {
  const { asked } = entry.data as PouredOut
  // Entries of before did not say what was asked of a cup: these stay.
  if (!isKnown || asked === undefined) return entry
  return withData(entry, outOf({ id: entry.cup ?? '', cup, ml: asked ?? undefined }))
}

/** Where a cup was used is where its panel was then, as far as that is known by now. */
export function completedUse(entry: Draft, { state }: Around): Draft {
  const { cupZone } = entry.data
  if (cupZone === undefined || entry.panel === undefined) return entry
  const stays = contextOf(state, 'panel', entry.panel)?.stays ?? []
  const zone = (stays.findLast(({ fromMs }) => fromMs <= entry.at) ?? stays[0])?.zone
  return zone === undefined || zone === cupZone ? entry : withData(entry, { cupZone: zone })
}

/** What is made of a cup is for that cup's job. */
function ofJobOf([first]: readonly Parent[], entry: Draft): Draft {
  const job = first?.cup.job ?? null
  return job === null ? entry : { ...entry, job }
}

/** A cup poured from others: its contents where they were not known, and what depends on the others' past. */
function completedChild(entry: Draft, around: Around): Draft {
  const { from, add = [], markMl, sheet, ...was } = entry.data as Child
  const parents = from.flatMap(({ cup: id, ml }): Parent[] => {
    const cup = around.beforePour(id, entry.command)
    return cup ? [{ id, cup, ml }] : []
  })
  if (parents.length < from.length) return entry
  const contents = childOf({ state: around.state, at: entry.at, parents, add, markMl })
  if (sheet === undefined) return withData(ofJobOf(parents, entry), contents)
  const { totalMl, ratio, untilMs, parts, off, zone, checked } = contents
  const ofRatio = parts && 'parts' in entry.data ? { parts, off } : {}
  const done = checked ? { checked } : {}
  const clocks = clocksNow(
    was.clocks ?? [],
    parents.flatMap(({ cup }) => cup.clocks),
  )
  const inductions = parents.flatMap(({ cup }) => cup.induction ?? [])
  const induction = was.induction && (inductions.find(isSameClock(was.induction)) ?? was.induction)
  const known = { totalMl, ratio, untilMs, zone, clocks, induction, ...ofRatio, ...done }
  return withData(withMixed(entry, contents), known)
}

/** What was mixed into a pour, and until when that keeps. Entries of before did not say since when: these stay. */
function withMixed(entry: Draft, contents: CupContents): Draft {
  if (!('firstMixedAt' in entry.data)) return entry
  const { firstMixedAt, keepUntilMs, mixes } = contents
  const { mixes: _, ...others } = entry.data
  return withData(
    { ...entry, data: others },
    { firstMixedAt, keepUntilMs, ...(mixes && { mixes }) },
  )
}

/** The same pot life: moves are what became of it since. */
const isSameClock =
  (one: PotClock) =>
  (other: PotClock): boolean =>
    one.startMs === other.startMs &&
    one.zone === other.zone &&
    JSON.stringify(one.interval) === JSON.stringify(other.interval)

/** A pour's clocks: those of its cups as they are known by now, then its own, which go on as they were. */
const clocksNow = (was: readonly PotClock[], ofParents: readonly PotClock[]): PotClock[] => [
  // Of one mix in two places each is told: which of two that look alike an entry meant is not to be told.
  ...ofParents,
  ...was.filter((clock) => !ofParents.some(isSameClock(clock))),
]

/** What came back from a gun is what was in it then, as far as that is known by now. */
function completedBack(entry: Draft, around: Around): Draft {
  const gun = entry.gun === undefined ? null : around.gunAt(entry.gun, entry.at)
  if (!gun) return entry
  const { ml, ...was } = entry.data as PouredBack
  const cupOf = (id: string) => around.cupAt(id, entry.at)
  const back = backOf(foreign(gun.loads, entry.cup ?? ''), cupOf, was)
  if (JSON.stringify(back) === JSON.stringify(was)) return entry
  return withData({ ...entry, data: ml === undefined ? {} : { ml } }, back)
}

/** A clean cup that was filled from a gun holds what was in it then, where all of that is known by now. */
function completedFilled(entry: Draft, around: Around): Draft {
  const { from = [], totalMl } = entry.data as Partial<Child>
  const gun = entry.gun === undefined ? null : around.gunAt(entry.gun, entry.at)
  const cups = cupsOf(gun?.loads ?? [])
  const all = totalMl ?? from.reduce((sum, one) => sum + (one.ml ?? 0), 0)
  const parents = cups.flatMap((id): Parent[] => {
    const cup = around.cupAt(id, entry.at)
    return cup ? [{ id, cup, ml: all / cups.length }] : []
  })
  if (!gun || cups.length === 0 || parents.length < cups.length) return entry
  const contents = heldIn({ state: around.state, at: entry.at, parents, loads: gun.loads })
  return withData(ofJobOf(parents, entry), { ...contents, parents: cups })
}

/** What came into a cup from others or from a gun, with what is known of these by now. */
export function completedContents(entry: Draft, around: Around): Draft {
  if (entry.type === 'GunPouredBack') return completedBack(entry, around)
  if (isOutOfGun(entry)) return completedFilled(entry, around)
  return 'from' in entry.data ? completedChild(entry, around) : entry
}

/** An entry of a cup with the figures that it is folded with. */
export function completedCup(
  entry: Draft,
  { value, context }: { readonly value: ValueOf<'cup'>; readonly context: CupContext },
  around: Around,
): Draft {
  if (entry.type === 'CupLabelPrinted') return completedPrint(entry, context, around)
  if (entry.type !== 'CupPoured' && entry.type !== 'GunPouredBack')
    return completedUse(entry, around)
  return entry.data.role === 'parent' && 'into' in entry.data
    ? completedOut(entry, context, value !== 'unmixed')
    : completedContents(entry, around)
}
