import type { CupContents } from '../../machines/cup/machine.ts'
import type { Draft } from '../../machines/envelope.ts'
import type { GunLoad } from '../../machines/gun/machine.ts'
import { type Hue, hueOfCup, isSameHue } from './randomColours.ts'
import { type Answer3, permissionOver, waitOver } from './randomGates.ts'
import type { Claim, Findings, Known } from './randomJudge.ts'

/** Cups and guns by their own entries. */

type Clock = CupContents['clocks'][number]

const worldOf = (known: Known, zone: string) => ({
  stays: [{ fromMs: 0, readings: known.readings(zone) }],
  parts: [],
  staleMs: 1_800_000,
})

const clockOver = (known: Known, clock: Clock, at: number): Answer3 =>
  permissionOver(clock.interval.points, clock.startMs, at, worldOf(known, clock.zone))

const any = (answers: readonly Answer3[]): Answer3 =>
  answers.includes('yes') ? 'yes' : answers.includes('close') ? 'close' : 'no'

const isBirth = (e: Draft) => e.type === 'CupMixed' || e.data.role === 'child'

export const birthOf = (known: Known, id: string, by: number): Draft | undefined =>
  known.about('cup', id, 'CupMixed CupPoured', by).find(isBirth)

/** What a cup's entries say of spraying from it at an instant. */
export function cupFindings(
  known: Known,
  { cup: id, startAt, cupBy }: Claim,
): { cup: CupContents | null; findings: Findings } {
  const none: Findings = {
    cupUnknown: 'no',
    cupEmptied: 'no',
    inductionNotOver: 'no',
    potLifeOver: 'no',
    keepOver: 'no',
  }
  if (id === undefined) return { cup: null, findings: none }
  const born = birthOf(known, id, startAt) ?? birthOf(known, id, cupBy)
  if (!born) return { cup: null, findings: { ...none, cupUnknown: 'yes' } }
  const cup = born.data as CupContents
  // What stands before the mixing, in the same millisecond perhaps, was said of nothing.
  const said = known
    .about('cup', id, 'CupEmptied CupPoured CupLabelPrinted', startAt)
    .filter((e) => known.live.indexOf(e) > known.live.indexOf(born))
  const isEmptied = said.some((e) => e.type === 'CupEmptied' || e.data.isAll === true)
  const words = [
    cup.untilMs,
    ...said.filter((e) => e.type === 'CupLabelPrinted').map((e) => e.data.untilMs as number | null),
  ].filter((until) => until !== null)
  const over = any([
    ...cup.clocks.map((clock) => clockOver(known, clock, startAt)),
    words.some((until) => startAt >= until) ? 'yes' : 'no',
  ])
  const { induction } = cup
  const stood: Answer3 = induction
    ? waitOver(induction.interval, induction.startMs, startAt, worldOf(known, induction.zone))
    : 'yes'
  const hasNoEnd = cup.clocks.length === 0 && words.length === 0
  const isKept = cup.keepUntilMs === null || startAt < cup.keepUntilMs
  return {
    cup,
    findings: {
      cupUnknown: 'no',
      cupEmptied: isEmptied ? 'yes' : 'no',
      inductionNotOver: stood === 'close' ? 'close' : stood === 'yes' ? 'no' : 'yes',
      potLifeOver: over,
      keepOver: hasNoEnd && !isKept ? 'yes' : 'no',
    },
  }
}

type Inside = { readonly sheet: string | null; readonly hue: Hue | null }

const isSame = (a: Inside, b: Inside) =>
  a.sheet !== null && a.sheet === b.sheet && isSameHue(a.hue, b.hue)

const insideOf = (known: Known, load: GunLoad): Inside => ({
  sheet: load.sheet,
  hue: hueOfCup(known, birthOf(known, load.cup ?? '', Infinity)),
})

/** What is in a gun: its loads since the last cleaning; a fresh cup of the same product replaces them. */
function loadsIn(known: Known, gun: string, at: number): GunLoad[] {
  const types = 'GunLoaded CoatStarted CoatContinued GunCleaned'
  let loads: GunLoad[] = []
  for (const e of known.about('gun', gun, types, at)) {
    const load = e.data.load as GunLoad | undefined
    if (e.type === 'GunCleaned') loads = []
    else if (load) {
      const inside = insideOf(known, load)
      const isReplaced =
        loads.length === 1 && loads.every((l) => isSame(insideOf(known, l), inside))
      loads = isReplaced ? [load] : loads.concat(load)
    }
  }
  return loads
}

/** Other material in the gun, or the same from another cup past its time. */
export function gunFindings(known: Known, claim: Claim, cup: CupContents | null): Findings {
  if (claim.gun === undefined || claim.cup === undefined) return { gunHolds: 'no' }
  const loads = loadsIn(known, claim.gun, claim.startAt)
  const held = loads.at(-1)
  if (!held) return { gunHolds: 'no' }
  const next = {
    sheet: cup?.sheet ?? null,
    hue: cup ? hueOfCup(known, birthOf(known, claim.cup, Infinity)) : null,
  }
  if (loads.some((l) => !isSame(insideOf(known, l), next))) return { gunHolds: 'yes' }
  if (held.cup === claim.cup) return { gunHolds: 'no' }
  const overs = loads.flatMap((l) => [
    ...l.clocks.map((clock) => clockOver(known, clock, claim.startAt)),
    l.untilMs !== null && claim.startAt >= l.untilMs ? ('yes' as const) : ('no' as const),
  ])
  return { gunHolds: any(overs) }
}
