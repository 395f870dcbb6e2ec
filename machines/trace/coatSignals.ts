import { liveIn } from '../live.ts'
import { zoneAt } from '../panel/context.ts'
import { SHARE } from '../panel/film.ts'
import { withoutReplaced } from '../records/upkeep.ts'
import { sheetAt } from '../sheet/fold.ts'
import type { Sheet } from '../sheet/schema.ts'
import { type contextOf, type State, thingOf } from '../state.ts'
import type { CoatTold, PanelTold } from './record.ts'
import { type Finding, type Kept, levelOf } from './signals.ts'

/** What the coats of a panel say: waits, windows, cups, air, guns and films. */

/** The share of what leaves the gun that stays on the panel, for a gun of low pressure. Common practice, no source. */
const TRANSFER = 0.65
/** Caution begins at this humidity, whatever a sheet allows. Common practice, no source. */
const CAUTION_RH = 0.75
/** A step from one speed of activator to the next is about this wide. Common practice, no source. */
const SPEED_C = 6
/** A part is wanted between these where the sheet is silent. Common practice, no source. */
const PART_C = { least: 15, most: 35 }

type Made = Partial<Pick<Finding, 'value' | 'limit' | 'entry' | 'at' | 'cup' | 'isMoot'>>

/** A finding about a coat. */
export const about = (
  coat: CoatTold,
  signal: Kept,
  judged: number,
  made: Made = {},
  isMeasured = true,
): Finding => ({
  signal,
  level: levelOf(signal, judged, isMeasured),
  value: judged,
  limit: null,
  panel: coat.panel,
  stage: coat.stage,
  over: coat.wait?.over ?? null,
  coat: coat.nth,
  cup: coat.cups[0] ?? null,
  at: coat.startedAt,
  entry: coat.entry,
  ...made,
})

/** There is nothing that could be off. */
const moot = (coat: CoatTold, signal: Kept): Finding => ({
  ...about(coat, signal, 0, { value: null, isMoot: true }),
  level: 'clearlyWithin',
})

function waits(coat: CoatTold): Finding[] {
  const { wait, window, startedAt, isEstimated } = coat
  const found: Finding[] = []
  if (wait) {
    const waited = Math.max(0, startedAt - wait.fromMs)
    const wanted = wait.dueAt === null ? null : wait.dueAt - wait.fromMs
    // In that air it never flashed: however long it was, it was no time.
    const ratio = wanted === null ? 0 : wanted <= 0 ? 2 : waited / wanted
    const signal = wait.isSameStep ? 'flashShort' : 'nextShort'
    found.push(about(coat, signal, ratio, { value: waited, limit: wanted }, !isEstimated))
  }
  if (window) {
    const length = window.shutsAt - window.fromMs
    const value = startedAt - window.fromMs
    const ratio = length > 0 ? value / length : Number.POSITIVE_INFINITY
    // One that is shut by what was done, not by time, is as shut as it can be.
    const judged =
      window.isShut && window.why !== 'window'
        ? 2
        : window.isShut
          ? Math.max(1, ratio)
          : Math.min(ratio, 0.99)
    found.push(about(coat, 'windowOver', judged, { value, limit: length }, !isEstimated))
  } else if (wait) found.push(moot(coat, 'windowOver'))
  return found
}

function cupSignals(state: State, coat: CoatTold, sheet: Sheet | undefined): Finding[] {
  const found: Finding[] = []
  const { pot, startedAt } = coat
  if (pot) {
    const [value, limit] = [startedAt - pot.bornAt, pot.endsAt - pot.bornAt]
    found.push(about(coat, 'cupOld', value / Math.max(1, limit), { value, limit }))
  } else if (sheet?.potLife === null) found.push(moot(coat, 'cupOld'))
  const cups = coat.cups.flatMap((id) => {
    const thing = thingOf(state, { kind: 'cup', id })
    return thing && thing.value !== 'unmixed'
      ? [{ id, cup: thing.context, made: thing.entries[0] }]
      : []
  })
  for (const { id, cup, made } of cups) {
    const mixed = sheetAt(state, cup.sheet, cup.mixedAt)?.sheet ?? sheet
    if (!mixed) continue
    const at = { cup: id, entry: made?.id ?? coat.entry, at: cup.mixedAt }
    found.push(...ratios(coat, mixed, cup, at), ...speeds(coat, mixed, cup, at))
  }
  return [
    ...found,
    ...stored(
      coat,
      cups.map(({ cup }) => cup),
    ),
  ]
}

/** A mix of the same half-day has not settled. */
const FRESH_MS = 12 * 3_600_000
/** Left out; and too fresh to need it. */
const SKIPPED = 0.75
const FRESH = 0.1

/** What was done with a mix that was kept: asked for once a day, from the oldest in it. */
function stored(coat: CoatTold, cups: readonly Cup[]): Finding[] {
  const isFresh = cups.every((c) => coat.startedAt - (c.firstMixedAt ?? c.mixedAt) < FRESH_MS)
  const checks = cups.flatMap(({ checked }) => checked?.done ?? [])
  // Some of it was said to be done, or it was asked and nobody answered: then the rest was left out.
  const isAsked = coat.notJudged.includes('stored') || checks.length > 0
  const isOld = coat.broken.some(({ code }) => code === 'keepOver')
  return CHECKS.flatMap(([check, signal]) => {
    if (checks.includes(check)) return [about(coat, signal, 0)]
    if (isOld && signal === 'notStirred') return [about(coat, signal, 1)]
    if (isFresh && cups.length > 0)
      return signal === 'cardMissing' ? [] : [about(coat, signal, FRESH)]
    return isAsked ? [about(coat, signal, SKIPPED)] : []
  })
}

const CHECKS = [
  ['stirred', 'notStirred'],
  ['strained', 'notStrained'],
  ['cardSprayed', 'cardMissing'],
] as const

type Cup = NonNullable<ReturnType<typeof contextOf<'cup'>>>

/** Activator and reducer against the base that was really poured. */
function ratios(coat: CoatTold, { components }: Sheet, cup: Cup, at: Made): Finding[] {
  const base = components.find((c) => c.role === 'base' && c.parts > 0)
  const of = (role: string) => components.filter((c) => c.role === role && c.parts > 0)
  const poured = (name: string) => cup.parts?.find((part) => part.name === name)?.amount ?? null
  const offBy = (role: string): number | null => {
    const [one] = of(role)
    const [amount, own] = [one && poured(one.name), base && poured(base.name)]
    if (!one || !base || amount == null || !own) return null
    return amount / (own * (one.parts / base.parts)) - 1
  }
  const found: Finding[] = []
  const put = (signal: Kept, role: string, sign: 1 | -1) => {
    if (of(role).length === 0) return found.push(moot(coat, signal))
    const off = offBy(role)
    return off === null ? 0 : found.push(about(coat, signal, sign * off, { ...at, limit: 0 }))
  }
  put('activatorShort', 'activator', -1)
  put('activatorOver', 'activator', 1)
  put('reducerOver', 'reducer', 1)
  return found
}

/** The activator or reducer that was chosen against the air that it was sprayed in. */
function speeds(coat: CoatTold, sheet: Sheet, cup: Cup, at: Made): Finding[] {
  const options = [...sheet.activators, ...sheet.reducers]
  if (options.length === 0) return [moot(coat, 'tooFast'), moot(coat, 'tooSlow')]
  const chosen = options.filter(({ name }) => name === cup.activator || name === cup.reducer)
  const airC = coat.air?.airC
  if (chosen.length === 0 || airC === undefined) return []
  return chosen.flatMap(({ fromC, toC }) => {
    const steps = (beyond: number) =>
      beyond > 0 ? 1 + beyond / SPEED_C : Math.min(0, beyond / SPEED_C)
    return [
      about(coat, 'tooFast', steps(airC - toC), { ...at, value: airC, limit: toC }),
      about(coat, 'tooSlow', steps(fromC - airC), { ...at, value: airC, limit: fromC }),
    ]
  })
}

function airSignals(coat: CoatTold, limits: Sheet['limits']): Finding[] {
  const { air, partC, dewMarginC } = coat
  const found: Finding[] = []
  const { minC = PART_C.least, maxC = PART_C.most, maxRh = CAUTION_RH } = limits
  if (air || partC !== null) {
    const [coldest, hottest] = [
      Math.min(air?.airC ?? Number.POSITIVE_INFINITY, partC ?? Number.POSITIVE_INFINITY),
      Math.max(air?.airC ?? Number.NEGATIVE_INFINITY, partC ?? Number.NEGATIVE_INFINITY),
    ]
    found.push(about(coat, 'cold', minC - coldest, { value: coldest, limit: minC }))
    found.push(about(coat, 'hot', hottest - maxC, { value: hottest, limit: maxC }))
  }
  if (air) {
    const limit = Math.min(maxRh, CAUTION_RH)
    found.push(about(coat, 'humid', air.rh - limit, { value: air.rh, limit }))
  }
  if (dewMarginC !== null) found.push(about(coat, 'dewNear', dewMarginC, { limit: 3 }))
  return found
}

/** What the gun was set to: at the start, or when it was loaded. */
function gunSignals(state: State, coat: CoatTold, sheet: Sheet): Finding[] {
  const { gun: recipe } = sheet
  if (!recipe || coat.gun === null) return []
  const thing = thingOf(state, { kind: 'gun', id: coat.gun })
  const load = liveIn(thing?.entries ?? []).findLast(
    (e) => e.type === 'GunLoaded' && e.at <= coat.startedAt && coat.cups.includes(e.cup ?? ''),
  )
  const said = (key: string) =>
    typeof load?.data[key] === 'number' ? (load.data[key] as number) : undefined
  const inletKpa = coat.gunSet.inletKpa ?? said('inletKpa')
  const turns = coat.gunSet.turns ?? said('turns')
  const needleMm = said('needleMm') ?? thing?.context.spec?.needleMm
  const pair = (low: Kept, high: Kept, off: number, value: number, limit: number) => [
    about(coat, low, -off, { value, limit }),
    about(coat, high, off, { value, limit }),
  ]
  return [
    ...(inletKpa === undefined
      ? []
      : pair(
          'pressureLow',
          'pressureHigh',
          inletKpa / recipe.inletKpa - 1,
          inletKpa,
          recipe.inletKpa,
        )),
    ...(needleMm === undefined
      ? []
      : pair('needleSmall', 'needleBig', needleMm - recipe.needleMm, needleMm, recipe.needleMm)),
    ...(turns === undefined || recipe.turns === undefined
      ? []
      : pair('turnsClosed', 'turnsOpen', turns - recipe.turns, turns, recipe.turns)),
  ]
}

/** The film of a coat against the sheet's: measured wet, else from what was used. */
function filmSignals(panel: PanelTold, coat: CoatTold, sheet: Sheet): Finding[] {
  const { dryUmPerCoat, solids } = sheet
  const wanted = dryUmPerCoat === undefined ? null : dryUmPerCoat * SHARE[coat.kind]
  const wet = panel.films.findLast(
    ({ entry, method }) => entry === coat.finish && method === 'wetComb',
  )
  const isWhole = (panel.route[coat.step]?.face ?? 'whole') === 'whole' && coat.kind !== 'blend'
  const um =
    wet && solids !== undefined
      ? wet.um * solids
      : coat.usedMl !== null && solids !== undefined && panel.areaM2 !== null && isWhole
        ? (coat.usedMl * solids * TRANSFER) / panel.areaM2
        : null
  if (wanted === null || um === null) return []
  const off = um / wanted - 1
  const made = { value: um, limit: wanted, entry: coat.finish ?? coat.entry }
  return [about(coat, 'filmHeavy', off, made), about(coat, 'filmThin', -off, made)]
}

/** The filters of the zone that it was sprayed in: how long since they were seen to, of the time until they were due again. */
function filterSignals(state: State, panel: PanelTold, coat: CoatTold): Finding[] {
  const zone = thingOf(state, { kind: 'zone', id: zoneAt(panel, coat.startedAt) })
  const services = withoutReplaced(liveIn(zone?.entries ?? [])).flatMap((entry) => {
    const { type, data, at, id } = entry
    const { what, nextMs, doneMs = at } = data
    const isIt = type === 'FilterServiced' && what !== 'document' && typeof nextMs === 'number'
    return isIt ? [{ id, doneMs: Number(doneMs), nextMs }] : []
  })
  const last = services
    .filter(({ doneMs }) => doneMs <= coat.startedAt)
    .toSorted((a, b) => a.doneMs - b.doneMs)
    .at(-1)
  if (!last || last.nextMs <= last.doneMs) return []
  const [value, limit] = [coat.startedAt - last.doneMs, last.nextMs - last.doneMs]
  return [about(coat, 'filters', value / limit, { value, limit })]
}

/** What one coat says by itself. */
export function ofCoat(state: State, panel: PanelTold, coat: CoatTold): Finding[] {
  const sheet = coat.sheet === null ? undefined : sheetAt(state, coat.sheet, coat.startedAt)?.sheet
  return [
    ...waits(coat),
    ...cupSignals(state, coat, sheet),
    ...airSignals(coat, sheet?.limits ?? {}),
    ...filterSignals(state, panel, coat),
    ...(sheet ? [...gunSignals(state, coat, sheet), ...filmSignals(panel, coat, sheet)] : []),
  ]
}
