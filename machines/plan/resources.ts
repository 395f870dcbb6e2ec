import { purgeMinOf, zonesAround } from '../climate/neighbors.ts'
import { colourOf, materialOf } from '../cup/colours.ts'
import { cupEndsAt, inductionEndsAt } from '../cup/ends.ts'
import { lastCoat, type PanelContext, zoneAt, zoneOf } from '../panel/context.ts'
import { LATEST } from '../panel/gate.ts'
import { cleanings } from '../panel/gunVapor.ts'
import { wetUntil } from '../panel/room.ts'
import { sheetAt } from '../sheet/fold.ts'
import type { State } from '../state.ts'
import { fitIn } from './forecastMeans.ts'
import type { Means } from './forecastTypes.ts'

/** Who and what a plan has in use, as it is being made: people, guns, cups and zones. */

export type Stretch = { readonly fromMs: number; readonly toMs: number }

export type Person = { freeAt: number; readonly isPainter: boolean }
export type Gun = {
  readonly id: string | null
  /** Its material; null for a clean one. */
  holds: string | null
  /** When that has to be out of it; null without a clock. */
  overAt: number | null
  /** Where it was last used, and is cleaned. */
  zone: string | null
  /** Where what is in it was sprayed: the clock of each load runs on there. */
  zones: readonly string[]
  freeAt: number
  readonly needleMm: number | null
  /** The sheet of what was sprayed from it last. */
  sprayed: string | null
}
export type Cup = {
  readonly endsAt: number | null
  readonly readyAt: number
  readonly zone: string
}

/** Changing a gun to another product, mixing a cup. Common practice, no source; for forecasts only. */
export const GUN_CHANGE_MS = 5 * 60_000
export const MIX_MS = 5 * 60_000

export const cupKey = (job: string, material: string): string => `${job} ${material}`

/**
 * The cups that stand mixed for a job, of each material the last one; one for several jobs stands mixed for
 * each of them. How much is left in them is not asked.
 */
function cupsIn(state: State, now: number): Map<string, Cup> {
  const found = new Map<string, Cup>()
  const cups = Object.values(state.things.cup)
    .filter(({ value, context }) => value !== 'emptied' && context.job !== null)
    .map(({ context }) => context)
    .sort((a, b) => a.mixedAt - b.mixedAt)
  for (const cup of cups) {
    const endsAt = cupEndsAt(state, cup)
    const readyAt = Math.max(now, inductionEndsAt(state, cup) ?? now)
    if (endsAt !== null && endsAt <= now) continue
    const material = materialOf(cup.sheet, colourOf(state, cup))
    for (const job of [cup.job ?? '', ...(cup.alsoFor ?? [])])
      found.set(cupKey(job, material), { endsAt, readyAt, zone: cup.zone })
  }
  return found
}

/** No zone is purged for longer than this. */
const PURGE_MOST_MS = 3_600_000

/** Where a coat or the cleaning of a gun ended lately: its vapor may still be in the air. */
function vaporIn(state: State, now: number): { zone: string; at: number }[] {
  const coats = Object.values(state.things.panel).flatMap(({ context: panel }) =>
    panel.coats.map(({ finishedAt: at }) => ({ zone: zoneAt(panel, at), at })),
  )
  const cleaned = cleanings(state).map(({ zone, at }) => ({ zone: zone ?? '', at }))
  return [...coats, ...cleaned].filter(({ at }) => now - at < PURGE_MOST_MS)
}

/** Whether a gun has to be cleaned or rinsed before it takes a material until an instant. */
const isToChange = ({ holds, overAt }: Gun, material: string, untilMs: number): boolean =>
  holds !== null && (holds !== material || (overAt !== null && untilMs > overAt))

/** How long a gun takes to be made ready for a material. */
export const changeMs = (gun: Gun, material: string, untilMs: number): number =>
  isToChange(gun, material, untilMs) ? GUN_CHANGE_MS : 0

/** What is topped up runs on the clock of what was in it; a gun that was made ready has the cup's own. */
export function useGun(
  gun: Gun,
  use: {
    readonly material: string
    readonly sheet: string | null
    readonly toMs: number
    readonly cup: Cup | null
    readonly isGunChanged: boolean
  },
  zone: string,
): void {
  const { material, toMs, cup, isGunChanged } = use
  const ends = [cup?.endsAt ?? null, isGunChanged ? null : gun.overAt].filter((end) => end !== null)
  gun.overAt = ends.length === 0 ? null : Math.min(...ends)
  gun.holds = material
  gun.sprayed = use.sheet
  gun.freeAt = toMs
  gun.zone = zone
  gun.zones = isGunChanged ? [zone] : [...gun.zones, zone]
}

/** Where a needle or what the sheet asks for is not known, none is farther off than another. */
const offMm = (needleMm: number | null, wantedMm: number | undefined): number =>
  needleMm === null || wantedMm === undefined ? 1 : Math.abs(needleMm - wantedMm)

export class Resources {
  readonly people: Person[]
  readonly guns: Gun[]
  readonly cups = new Map<string, Cup>()
  readonly coats = new Map<string, Stretch[]>()
  readonly heats = new Map<string, Stretch[]>()
  /** Work by hand, by the zone of its panel. */
  readonly hands = new Map<string, Stretch[]>()
  /** From when a gun is made ready to the end of its coat, by each zone in whose air what is in it grows old. */
  readonly uses = new Map<string, Stretch[]>()
  readonly #means: Means
  readonly #state: State
  readonly #needles = new Map<string, number | undefined>()
  readonly #around = new Map<string, readonly string[]>()

  /**
   * @param state for the cups that stand mixed
   */
  constructor(means: Means, state: State, now: number) {
    this.#means = means
    this.#state = state
    const painter = () => ({ freeAt: now, isPainter: true })
    const prepper = () => ({ freeAt: now, isPainter: false })
    this.people = [
      ...Array.from({ length: means.painters }, painter),
      ...Array.from({ length: means.preppers }, prepper),
    ]
    // A shop that has named no gun has one for each painter, and nobody knows what is in it.
    this.guns =
      means.guns.length > 0
        ? means.guns.map((gun) => ({ ...gun, freeAt: now }))
        : Array.from({ length: means.painters }, () => ({
            ...{ id: null, holds: null, overAt: null, zone: null, zones: [], freeAt: now },
            ...{ needleMm: null, sprayed: null },
          }))
    for (const [key, cup] of cupsIn(state, now)) this.cups.set(key, cup)
    for (const { zone, at } of vaporIn(state, now))
      this.put(this.coats, zone, { fromMs: at, toMs: at })
  }

  /** Who is free first; of several, one who only prepares, for what is done by hand. */
  personFor(isSpraying: boolean): Person | null {
    let best: Person | null = null
    for (const one of this.people) {
      if (isSpraying && !one.isPainter) continue
      const isSooner = best === null || one.freeAt < best.freeAt
      const isRather = best?.freeAt === one.freeAt && best.isPainter && !one.isPainter
      if (isSooner || (isRather && !isSpraying)) best = one
    }
    return best
  }

  /**
   * A gun with the product in it, else a clean one, else the one that is free first; of several, the one
   * that sprayed this product last, else the one whose needle is nearest to what its sheet asks for.
   */
  gunFor(material: string, at: number, sheet: string | null): Gun | null {
    const needleMm = this.#needleMm(sheet)
    let best: Gun | null = null
    const cost = (gun: Gun) => Math.max(at, gun.freeAt) + changeMs(gun, material, at)
    const unsuited = (gun: Gun) =>
      gun.sprayed === sheet ? -1 : offMm(gun.needleMm, needleMm) + (gun.sprayed === null ? 0 : 0.01)
    for (const one of this.guns) {
      const more = best === null ? -1 : cost(one) - cost(best)
      if (best === null || more < 0 || (more === 0 && unsuited(one) < unsuited(best))) best = one
    }
    return best
  }

  /** What a sheet asks for. */
  #needleMm(sheet: string | null): number | undefined {
    const id = sheet ?? ''
    if (!this.#needles.has(id))
      this.#needles.set(id, sheetAt(this.#state, id, LATEST)?.sheet.gun?.needleMm)
    return this.#needles.get(id)
  }

  /** The first moment from which some work fits in while somebody is there. */
  fit(fromMs: number, ms: number): number {
    return fitIn(this.#means, fromMs, ms)
  }

  zonesAround(state: State, zone: string): readonly string[] {
    const known = this.#around.get(zone)
    if (known) return known
    const found = zonesAround(state, zone)
    this.#around.set(zone, found)
    return found
  }

  /** The first moment at which no heat is on around a zone for so long. */
  withoutHeat(state: State, zone: string, fromMs: number, ms: number): number {
    return this.#outside(this.heats, this.zonesAround(state, zone), fromMs, ms)
  }

  /** The same of coats and the air that is drawn off after them. */
  withoutCoats(state: State, zone: string, fromMs: number, ms: number): number {
    const purgeMs = purgeMinOf(state, zone) * 60_000
    return this.#outside(this.coats, this.zonesAround(state, zone), fromMs, ms, purgeMs)
  }

  /** The first moment at which a gun may be cleaned so that its vapor is drawn off before planned heat, or after heat began. */
  outsidePurges(state: State, zone: string, at: number): number {
    const begins = this.zonesAround(state, zone).flatMap((heated) => {
      const purgeMs = purgeMinOf(state, heated) * 60_000
      return (this.heats.get(heated) ?? []).map(({ fromMs }) => ({ fromMs, purgeMs }))
    })
    return begins
      .toSorted((a, b) => a.fromMs - b.fromMs)
      .reduce(
        (to, { fromMs, purgeMs }) => (to <= fromMs && fromMs < to + purgeMs ? fromMs + 1 : to),
        at,
      )
  }

  /** The first moment from which nobody works by hand in a zone for so long. */
  withoutHands(zone: string, fromMs: number, ms: number): number {
    return this.#outside(this.hands, [zone], fromMs, ms)
  }

  /** The first moment that is not between a gun's being made ready and the end of its coat. */
  outsideUses(zone: string, at: number): number {
    return this.#outside(this.uses, [zone], at, 0)
  }

  #outside(
    of: ReadonlyMap<string, readonly Stretch[]>,
    zones: readonly string[],
    fromMs: number,
    ms: number,
    afterMs = 0,
  ): number {
    if (of.size === 0) return fromMs
    const all = zones.flatMap((zone) => of.get(zone) ?? [])
    if (all.length === 0) return fromMs
    let at = fromMs
    for (let isMoved = true; isMoved; ) {
      isMoved = false
      for (const { fromMs: from, toMs } of all) {
        if (at < toMs + afterMs && at + ms > from) {
          at = toMs + afterMs
          isMoved = true
        }
      }
    }
    return at
  }

  /** Heat in a zone: what is activated in a cup or gun there is over with it. */
  heat(zone: string, heat: Stretch): void {
    this.put(this.heats, zone, heat)
    const over = (endsAt: number | null) => (endsAt === null ? null : Math.min(endsAt, heat.fromMs))
    for (const [key, cup] of this.cups)
      if (cup.zone === zone) this.cups.set(key, { ...cup, endsAt: over(cup.endsAt) })
    for (const gun of this.guns) if (gun.zones.includes(zone)) gun.overAt = over(gun.overAt)
  }

  put(of: Map<string, Stretch[]>, zone: string, stretch: Stretch): void {
    const all = of.get(zone)
    if (all) all.push(stretch)
    else of.set(zone, [stretch])
  }
}

type Standing = { readonly id: string; readonly panel: PanelContext }

/**
 * Until when what stands wet in a zone keeps heat out of it. What flashes water does not, and neither do
 * the panels that are to be heated.
 * @returns null where that has no end
 */
export function wetInZone(
  state: State,
  panels: Iterable<Standing>,
  zone: string,
  own: readonly string[],
  at: number,
): number | null {
  let until = 0
  for (const { id, panel } of panels) {
    const last = lastCoat(panel)
    if (!last || own.includes(id) || zoneOf(panel) !== zone) continue
    if (sheetAt(state, last.opens?.sheet, at)?.sheet.medium === 'waterborne') continue
    const one = wetUntil(state, panel, at)
    if (one === null) return null
    until = Math.max(until, one)
  }
  return until
}
