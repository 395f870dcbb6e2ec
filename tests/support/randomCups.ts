import type { PouredBack } from '../../machines/cup/back.ts'
import type { CupContents } from '../../machines/cup/machine.ts'
import { type Draft, type Fact, isFact } from '../../machines/envelope.ts'
import type { GunLoad } from '../../machines/gun/machine.ts'
import type { PanelContext } from '../../machines/panel/context.ts'
import { type Hue, hueOfCup, isSameHue, tintOf } from './randomColours.ts'
import { type Answer3, permissionOver, waitOver } from './randomGates.ts'
import { heatedIn } from './randomHeat.ts'
import type { World } from './randomIntervals.ts'
import type { Claim, Findings } from './randomJudge.ts'
import { keptByFigure } from './randomKept.ts'
import type { Known } from './randomKnown.ts'
import { ratioFindings } from './randomRatio.ts'

/** Cups and guns by their own entries. */

type Clock = CupContents['clocks'][number]
const isBack = isFact<Fact<'GunPouredBack', PouredBack>>('GunPouredBack')

type Stays = readonly { readonly fromMs: number; readonly zone: string }[]

const worldOf = (known: Known, stays: Stays) => ({
  stays: stays.map(({ fromMs, zone }) => ({
    fromMs,
    readings: known.readings(zone),
    ranges: known.ranges(zone),
    heated: heatedIn(known, zone),
  })),
  parts: [],
  staleMs: 1_800_000,
})

type Move = { readonly fromMs: number; readonly zone: string; readonly isUse: boolean }

/** The zone of a panel at an instant, by what is known now. */
const zoneThen = (known: Known, panel: string, at: number): unknown =>
  known.about('panel', panel, 'PanelAdded PanelMoved', at).at(-1)?.data.zone

/** `since`: a clock that came into the cup from a gun goes where the cup goes from then on. */
type Spoken = { readonly cup: string | null; readonly by: number; readonly since?: number }

const isSameClock = (one: Clock, other: Clock): boolean =>
  one.startMs === other.startMs && one.zone === other.zone

/** Where the cups were taken that a cup was poured from, as long as its clock ran in them, by what is known now. */
function movesBefore(known: Known, id: string | null, clock: Clock): Move[] {
  const born = birthOf(known, id ?? '', Number.POSITIVE_INFINITY)
  const parents = (born?.data.parents ?? []) as readonly string[]
  return parents.flatMap((cup) => {
    const own = birthOf(known, cup, Number.POSITIVE_INFINITY)?.data as CupContents | undefined
    const ran = own?.clocks.some((one) => isSameClock(one, clock))
    return ran && born ? movesOf(known, { cup, by: born.at }, { ...clock, moves: [] }) : []
  })
}

/** Where a cup was taken: carried by hand, and used. */
function movesOf(known: Known, { cup: id, by, since = 0 }: Spoken, clock: Clock): Move[] {
  const types = 'CupMoved CoatStarted CoatContinued CoatFinished GunLoaded'
  const own = known.about('cup', id ?? '', types, by).flatMap((e): Move[] => {
    const told = e.type === 'CupMoved' ? e.data.zone : e.data.cupZone
    if (told === undefined) return []
    const zone = (e.panel === undefined ? null : zoneThen(known, e.panel, e.at)) ?? told
    if (typeof zone !== 'string') return []
    return [{ fromMs: e.at, zone, isUse: e.type !== 'CupMoved' }]
  })
  const isNew = (m: Move, i: number, all: readonly Move[]) =>
    all.findIndex((b) => b.fromMs === m.fromMs && b.zone === m.zone) === i
  const all = [
    ...(clock.moves ?? []),
    ...movesBefore(known, id, clock),
    ...own.filter((m) => m.fromMs >= Math.max(since, clock.startMs)),
  ]
  let isUse = false
  const inOrder = all.filter(isNew).toSorted((a, b) => a.fromMs - b.fromMs)
  return inOrder.map((m) => {
    isUse ||= m.isUse
    return { ...m, isUse }
  })
}

/** Where a cup's clock runs: where it stands, and once it is used also where it was mixed. */
function worldOfClock(known: Known, of: Spoken, clock: Clock): World {
  const moves = movesOf(known, of, clock)
  const used = moves.filter((m) => m.isUse)
  const kept = [{ fromMs: 0, zone: clock.zone }, ...moves.filter((m) => !m.isUse)]
  const [first] = used
  if (!first) return worldOf(known, kept)
  const back = { fromMs: first.fromMs, zone: clock.zone }
  const also = { fromMs: first.fromMs, climate: worldOf(known, used) }
  return { ...worldOf(known, [...kept, back]), also }
}

const clockOver = (known: Known, of: Spoken, clock: Clock, at: number): Answer3 =>
  permissionOver(clock.interval.points, clock.startMs, at, worldOfClock(known, of, clock))

const any = (answers: readonly Answer3[]): Answer3 =>
  answers.includes('yes') ? 'yes' : answers.includes('close') ? 'close' : 'no'

const isBirth = (e: Draft) => e.type === 'CupMixed' || e.data.role === 'child'

export const birthOf = (known: Known, id: string, by: number): Draft | undefined =>
  known.about('cup', id, 'CupMixed CupPoured', by).find(isBirth)

/** Whether a cup lacks the tint of the coat of its color that is on; one that was tinted since is meant. */
export function isOtherTint(
  known: Known,
  { coats, open, route }: PanelContext,
  target: number,
  born: Draft | undefined,
): boolean {
  const step = route[target]
  if (typeof born?.data.colour !== 'string' || step?.colour === undefined) return false
  const on = [...coats.filter((c) => c.counts || c.part), ...(open ? [open] : [])]
  const last = on.findLast(
    ({ step: at }) => route[at]?.stage === step.stage && route[at]?.colour === step.colour,
  )
  const under = tintOf(birthOf(known, last?.cups.at(-1) ?? '', Number.POSITIVE_INFINITY))
  const own = tintOf(born)
  if (!last || under === undefined || under === own) return false
  return own === undefined || born.at <= last.startedAt
}

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
    ratioOff: 'no',
    noActivator: 'no',
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
  // What came back from a gun brought its clocks and its label's word with it.
  const backs = known
    .about('cup', id, 'GunPouredBack', startAt)
    .filter((e) => known.live.indexOf(e) > known.live.indexOf(born))
    .filter(isBack)
    .map(({ at: by, data }) => ({ by, data }))
  const kept = keptByFigure(
    known,
    born,
    backs.map(({ data }) => data),
    startAt,
  )
  const keeps = [cup, ...backs.map((one) => one.data), { keepUntilMs: kept.untilMs }].flatMap(
    (one) => one.keepUntilMs ?? [],
  )
  const words = [
    cup.untilMs,
    ...backs.map(({ data }) => data.untilMs),
    ...(backs.some(({ data }) => data.clocks.length > 0) ? keeps : []),
    ...said.filter((e) => e.type === 'CupLabelPrinted').map((e) => e.data.untilMs as number | null),
  ].filter((until) => until !== null)
  const over = any([
    ...cup.clocks.map((clock) => clockOver(known, { cup: id, by: startAt }, clock, startAt)),
    ...backs.flatMap(({ by, data }) =>
      data.clocks.map((clock) =>
        clockOver(known, { cup: id, by: startAt, since: by }, clock, startAt),
      ),
    ),
    words.some((until) => startAt >= until) ? 'yes' : 'no',
  ])
  const { induction } = cup
  const stood: Answer3 = induction
    ? waitOver(
        induction.interval,
        induction.startMs,
        startAt,
        worldOfClock(known, { cup: id, by: startAt }, induction),
      )
    : 'yes'
  const hasNoEnd = [cup, ...backs.map((one) => one.data)].every(({ clocks }) => clocks.length === 0)
  const isKept = keeps.every((until) => startAt < until)
  return {
    cup,
    findings: {
      cupUnknown: 'no',
      cupEmptied: isEmptied ? 'yes' : 'no',
      inductionNotOver: stood === 'close' ? 'close' : stood === 'yes' ? 'no' : 'yes',
      potLifeOver: over,
      keepOver: hasNoEnd && words.length === 0 && !isKept ? 'yes' : 'no',
      'notJudged keepOver': kept.isAsked ? 'yes' : 'no',
      ...ratioFindings(known, born),
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

type Load = GunLoad & { readonly by: number }

/** What is in a gun: its loads since it was cleaned or rinsed, and what was rinsed out of it. */
function loadsIn(known: Known, gun: string, at: number): { loads: Load[]; rinsed: Inside[] } {
  const types = 'GunLoaded CoatStarted CoatContinued GunRinsed GunCleaned'
  let loads: Load[] = []
  let rinsed: Inside[] = []
  let isDirty = false
  const inside = () => [...rinsed, ...loads.map((l) => insideOf(known, l))]
  for (const e of known.about('gun', gun, types, at)) {
    const load = e.data.load as GunLoad | undefined
    if (e.type === 'GunCleaned') [loads, rinsed, isDirty] = [[], [], false]
    else if (e.type === 'GunRinsed' && !isDirty) {
      rinsed = inside().slice(-1)
      loads = []
    } else if (load) {
      const now = insideOf(known, load)
      isDirty ||= inside().some((one) => !isSame(one, now))
      loads = [...loads.filter((l) => isDirty || l.cup !== load.cup), { ...load, by: e.at }]
    }
  }
  return { loads, rinsed }
}

/** Other material in the gun, or the same from another cup past its time. */
export function gunFindings(known: Known, claim: Claim, cup: CupContents | null): Findings {
  if (claim.gun === undefined || claim.cup === undefined) return { gunHolds: 'no' }
  const { loads, rinsed } = loadsIn(known, claim.gun, claim.startAt)
  const next = {
    sheet: cup?.sheet ?? null,
    hue: cup ? hueOfCup(known, birthOf(known, claim.cup, Infinity)) : null,
  }
  const inside = [...rinsed, ...loads.map((l) => insideOf(known, l))]
  if (inside.some((l) => !isSame(l, next))) return { gunHolds: 'yes' }
  if (loads.every((l) => l.cup === claim.cup)) return { gunHolds: 'no' }
  const overs = loads.flatMap((l) => [
    ...l.clocks.map((clock) => clockOver(known, l, clock, claim.startAt)),
    l.untilMs !== null && claim.startAt >= l.untilMs ? ('yes' as const) : ('no' as const),
  ])
  return { gunHolds: any(overs) }
}
