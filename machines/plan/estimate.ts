import { coolMinOf } from '../climate/neighbors.ts'
import { endsAt } from '../clock/line.ts'
import { materialOf, paintOf } from '../cup/colours.ts'
import { climateOf } from '../panel/climate.ts'
import { type PanelContext, zoneOf } from '../panel/context.ts'
import { LATEST } from '../panel/gate.ts'
import { sheetAt } from '../sheet/fold.ts'
import { chosenOptions } from '../sheet/intervals.ts'
import { potLives } from '../sheet/potLife.ts'
import { isSprayed } from '../sheet/schema.ts'
import type { Cannot, PlannedAct, Wait } from './forecastTypes.ts'
import {
  type Act,
  type Asking,
  type CoatAct,
  type CureAct,
  type HandAct,
  type Mixing,
  type Next,
  opensFor,
} from './nextAct.ts'
import type { Places } from './places.ts'
import { remembered } from './remembered.ts'
import {
  type Cup,
  changeMs,
  cupKey,
  type Gun,
  MIX_MS,
  type Person,
  type Resources,
  wetInZone,
} from './resources.ts'

/** When an act could be begun with the people, guns, cups and zones as a plan has them in use so far. */

/** What is going on at the beginning of a plan, and on which panels. */
export type Begun = { readonly act: PlannedAct; readonly after: PanelContext }

export type Start = {
  readonly id: string
  readonly panel: PanelContext
  readonly begun: Begun | null
}

/** A panel on its way through a plan. */
export type Simulated = {
  readonly id: string
  readonly rank: number
  panel: PanelContext
  freeAt: number
  next: Next
  readonly begun?: Begun
}

export type Estimate = {
  readonly fromMs: number
  readonly toMs: number
  readonly wait: Wait
  readonly person: Person | null
  readonly gun: Gun | null
  readonly material: string
  readonly cup: (Cup & { readonly key: string; readonly isFresh: boolean }) | null
  /** How long mixing and the gun take before it. */
  readonly setUpMs: number
  readonly isGunChanged: boolean
  /** The panels of one bake. */
  readonly together?: readonly Simulated[]
}

/** `later`: it waits for another panel. */
export type Found = Estimate | 'later' | { readonly cannot: Cannot } | { readonly mustAbrade: true }

const PLAIN = {
  person: null,
  gun: null,
  material: '',
  cup: null,
  setUpMs: 0,
  isGunChanged: false,
} as const

export function estimate(
  asking: Asking,
  resources: Resources,
  places: Places,
  panels: readonly Simulated[],
  one: Simulated,
  act: Act,
): Found {
  if (act.kind === 'coat') return coatEstimate(asking, resources, places, one, act)
  if (act.kind === 'cure') return cureEstimate(asking, resources, panels, one, act)
  return handEstimate(resources, act)
}

function handEstimate(resources: Resources, { fromMs, ms, wait }: HandAct): Found {
  const person = resources.personFor(false)
  if (!person) return { cannot: { code: 'noPainter' } }
  const free = Math.max(fromMs, person.freeAt)
  const at = resources.fit(free, ms)
  if (!Number.isFinite(at)) return 'later'
  const waited = at > free ? 'closed' : free > fromMs ? 'person' : wait
  return { ...PLAIN, fromMs: at, toMs: at + ms, wait: waited, person }
}

function cureEstimate(
  { state }: Asking,
  resources: Resources,
  panels: readonly Simulated[],
  one: Simulated,
  act: CureAct,
): Found {
  const { mode, fromMs, ms, wait } = act
  if (mode === 'air') return { ...PLAIN, fromMs, toMs: fromMs + ms, wait }
  const zone = zoneOf(one.panel)
  const together = panels.filter((other) => isWith(other, one))
  if (together.some(({ next }) => next.kind !== 'cure')) return 'later'
  const all = together.flatMap(({ next }) => (next.kind === 'cure' ? [next] : []))
  const own = together.map(({ id }) => id)
  const readyMs = Math.max(...all.map((next) => next.fromMs))
  const longMs = Math.max(...all.map((next) => next.ms))
  // What stands beside a bake is hot after it: a coat or work by hand that is planned there by then stays before it.
  const coolMs = mode === 'bake' ? coolMinOf(state, zone) * 60_000 : 0
  let at = readyMs
  let waited: Wait = readyMs > fromMs ? 'together' : wait
  const move = (to: number, why: Wait) => {
    if (to <= at) return
    at = to
    waited = why
  }
  // A purge that somebody began runs to its end.
  move(state.things.zone[zone]?.context.purgedUntil ?? 0, 'wet')
  for (let tries = 0; tries < 8; tries += 1) {
    const before = at
    move(resources.withoutCoats(state, zone, at, longMs + coolMs), 'wet')
    if (mode === 'bake') move(resources.withoutHands(zone, at, longMs + coolMs), 'person')
    move(resources.outsideUses(zone, at), 'gun')
    const wetMs = wetInZone(state, panels, zone, own, at)
    if (wetMs === null) return 'later'
    move(wetMs, 'wet')
    move(resources.withoutHeat(state, zone, at, longMs), 'heat')
    move(resources.fit(at, longMs), 'closed')
    if (at === before) break
  }
  if (!Number.isFinite(at)) return 'later'
  return { ...PLAIN, fromMs: at, toMs: at + longMs, wait: waited, together }
}

/** The panels of a job that stand in one zone and come to the same heat are baked together. */
function isWith(other: Simulated, one: Simulated): boolean {
  const { panel, next } = other
  if (panel.job !== one.panel.job || zoneOf(panel) !== zoneOf(one.panel)) return false
  if (next.kind === 'done' || next.kind === 'cannot') return false
  if (next.kind === 'cure') return next.mode !== 'air'
  return comesToHeat(panel)
}

/** Whether a panel is sprayed before its next cure. */
function comesToHeat({ route, status }: PanelContext): boolean {
  const ahead = route.filter((_, i) => status[i] === 'open')
  const cure = ahead.findIndex(({ stage }) => stage === 'cure')
  return cure > 0 && ahead.slice(0, cure).some(({ stage }) => isSprayed(stage))
}

function coatEstimate(
  asking: Asking,
  resources: Resources,
  places: Places,
  one: Simulated,
  act: CoatAct,
): Found {
  const { state, now } = asking
  const { ms, fromMs } = act
  const zone = zoneOf(one.panel)
  const person = resources.personFor(true)
  if (!person) return { cannot: { code: 'noPainter' } }
  const paint = paintOf(state, one.panel.job, act.colour)
  const material = materialOf(act.sheet ?? act.stage, { colour: act.colour, paint })
  const gun = resources.gunFor(material, fromMs, act.sheet)
  if (!gun) return { cannot: { code: 'noPainter' } }
  const placeMs = places.from(one.panel, fromMs)
  if (placeMs === null) return 'later'
  const key = cupKey(one.panel.job, material)
  const held = resources.cups.get(key)
  let isFresh = held === undefined
  let at = fromMs
  let waited = act.wait
  const move = (to: number, why: Wait) => {
    if (to <= at) return
    at = to
    waited = why
  }
  const mixing = mixingOf(asking, act.sheet)
  for (let tries = 0; tries < 12; tries += 1) {
    const before = at
    const setUpMs = (isFresh ? MIX_MS : 0) + changeMs(gun, material, at + ms)
    move(placeMs, 'place')
    move(person.freeAt + setUpMs, 'person')
    move(gun.freeAt + setUpMs, 'gun')
    move(isFresh ? now + setUpMs + mixing.standMs : (held?.readyAt ?? 0), 'cup')
    // A pot life that begins in the heat is over at once: it is mixed after that.
    const mixMs = isFresh && mixing.lives.length > 0 ? MIX_MS + mixing.standMs : 0
    move(resources.withoutHeat(state, zone, at - mixMs, mixMs + ms) + mixMs, 'heat')
    if (changeMs(gun, material, at + ms) > 0)
      move(resources.outsidePurges(state, gun.zone ?? zone, at - setUpMs) + setUpMs, 'heat')
    move(resources.fit(at - setUpMs, setUpMs + ms) + setUpMs, 'closed')
    if (!Number.isFinite(at)) return 'later'
    const opens = opensFor(act, at)
    if (opens === null) return { mustAbrade: true }
    move(opens, 'window')
    if (!isFresh && held && held.endsAt !== null && at + ms > held.endsAt) isFresh = true
    else if (at === before) break
  }
  const changingMs = changeMs(gun, material, at + ms)
  const setUpMs = (isFresh ? MIX_MS : 0) + changingMs
  const cup = isFresh ? cupAt(asking, mixing, one.panel, at) : held
  if (cup && cup.endsAt !== null && at + ms > cup.endsAt) {
    const minutes = (ofMs: number) => Math.floor(ofMs / 60_000)
    const mixedAt = at - mixing.standMs - MIX_MS
    const lastsMin = minutes(cup.endsAt - mixedAt)
    const needsMin = Math.ceil((at + ms - mixedAt) / 60_000)
    return { cannot: { code: 'cupShort', lastsMin, needsMin, sheet: act.sheet ?? '' } }
  }
  return {
    ...{ fromMs: at, toMs: at + ms, wait: waited, person, gun, material, setUpMs },
    cup: cup ? { ...cup, key, isFresh } : null,
    isGunChanged: changingMs > 0,
  }
}

/** What has no sheet is poured as it is. */
const NOTHING_MIXED: Mixing = { standMs: 0, lives: [], ends: new WeakMap() }

/** A product's own are the same for all coats of a plan. */
function mixingOf(asking: Asking, id: string | null): Mixing {
  if (id === null) return NOTHING_MIXED
  const known = asking.mixing.get(id)
  if (known) return known
  const sheet = sheetAt(asking.state, id, LATEST)?.sheet
  const [mix] = asking.mixesOf(id)
  const options = sheet
    ? chosenOptions(sheet, mix?.activator ?? undefined, mix?.reducer ?? undefined, mix?.additives)
    : []
  const made: Mixing = {
    lives: sheet ? potLives(sheet, options) : [],
    ends: new WeakMap(),
    standMs: Math.round((sheet?.induction?.[0]?.minutes ?? 0) * 60_000),
  }
  asking.mixing.set(id, made)
  return made
}

/** A cup whose activator goes in when mixing begins, so that it may be sprayed at an instant. */
function cupAt({ state }: Asking, mixing: Mixing, panel: PanelContext, at: number): Cup {
  const mixedAt = at - mixing.standMs - MIX_MS
  const zone = zoneOf(panel)
  const end = () => {
    const climate = climateOf(state, panel)
    const ends = mixing.lives.map((life) => endsAt(life, mixedAt, climate))
    const known = ends.filter((one) => one !== null)
    return known.length === 0 ? null : Math.min(...known)
  }
  // It stands in the same air beside each panel there, but for what was measured of one.
  const isInZoneAir = panel.parts.length === 0 && (panel.stays.at(-1)?.fromMs ?? 0) <= mixedAt
  const endsAtMs = isInZoneAir ? remembered(mixing.ends, state, `${zone} ${mixedAt}`, end) : end()
  return { readyAt: at, zone, endsAt: endsAtMs }
}
