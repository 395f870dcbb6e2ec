import { purgeMinOf, zonesAround } from '../climate/neighbors.ts'
import { contextThen, type Deciding, thingThen } from '../deciding.ts'
import { MINUTE_MS, type Problem } from '../refusals.ts'
import { sheetAt } from '../sheet/fold.ts'
import type { State } from '../state.ts'
import { dueStep, lastCoat, type PanelContext, zoneAt, zoneOf } from './context.ts'
import { type FoundPanel, isClosedFor, isJobClosed } from './find.ts'
import { gateOf } from './gate.ts'
import { isGateKnown } from './gateTimes.ts'
import { cleanings } from './gunVapor.ts'
import { isInWork, routeState } from './where.ts'

/**
 * Heat beside wet paint. Drying apparatus does not run while a coat is sprayed, and not before the
 * vapor is drawn off: WAC 296-24-37019(4)(b), Cal. T8 section 5456(d)(2). Nothing overrides these.
 */

/** An appearance flash that nobody looked at counts as over after so much of its forecast, and so long. */
const UNSEEN_SHARE = 3
const UNSEEN_MS = 60 * MINUTE_MS

type Panel = { readonly id: string; readonly panel: PanelContext }

/** Panels of any job in some zones, as they are now. */
const panelsIn = ({ things }: State, zones: readonly string[]): Panel[] =>
  Object.entries(things.panel).flatMap(([id, { value, context }]) =>
    isInWork(routeState(value)) && zones.includes(zoneOf(context)) ? [{ id, panel: context }] : [],
  )

const isHeated = ({ cure }: PanelContext): boolean => cure !== null && cure.mode !== 'air'

/**
 * The panels whose heat keeps coats out of a zone: a bake or infrared in it, or in what it opens to. With its job's
 * close it is over: nobody can end it after that.
 */
export const heatedAround = (state: State, zone: string): Panel[] =>
  panelsIn(state, zonesAround(state, zone)).filter(
    ({ panel }) => isHeated(panel) && !isJobClosed(state, panel.job),
  )

/** The panels that are being sprayed in a zone, or in what it opens to. */
export const sprayedAround = (state: State, zone: string): Panel[] =>
  panelsIn(state, zonesAround(state, zone)).filter(({ panel }) => panel.open !== null)

type PanelThen = Panel & { readonly isOn: boolean }

/** Panels as they stood when a command happened, and whether they were in progress. */
const thenOf = (d: Deciding, ids: readonly string[]): PanelThen[] =>
  ids.flatMap((id) => {
    const thing = thingThen(d, { kind: 'panel', id })
    return thing ? [{ id, panel: thing.context, isOn: isInWork(routeState(thing.value)) }] : []
  })

const panelsThen = (d: Deciding): PanelThen[] => thenOf(d, Object.keys(d.state.things.panel))

/** Those that may have been heated then: to which nothing has happened since, they stand as they did. */
const heatedThen = (d: Deciding): PanelThen[] =>
  thenOf(
    d,
    Object.entries(d.state.things.panel).flatMap(([id, { context, entries }]) =>
      isHeated(context) || (entries.at(-1)?.at ?? 0) > d.at ? [id] : [],
    ),
  )

/**
 * Heat in a zone or in what it opens to: no coat starts there, and nothing wet is brought in.
 * @param zone where the coat is to go on, or where the panel is brought
 */
export function heatProblems(d: Deciding, p: FoundPanel, zone: string): Problem[] {
  const zones = zonesAround(d.state, zone)
  const hot = heatedThen(d).find(
    ({ panel, isOn }) =>
      isOn && isHeated(panel) && zones.includes(zoneOf(panel)) && !isClosedFor(d, panel.job),
  )?.panel
  if (!hot) return []
  return [{ code: 'heatInZone', limit: null, value: zoneOf(hot), panel: p.id, about: p.panel.name }]
}

/** Until when a panel's last coat stands wet; 0 where nothing is known to be wet, null without an end. */
export function wetUntil(state: State, panel: PanelContext, at: number): number | null {
  const gate = gateOf(state, panel, dueStep(panel), at)
  if (!gate || panel.curedAt !== null || !isGateKnown(state, panel, gate, at)) return 0
  const { after, flashEndsAt, needsLook, lookAt } = gate
  if (!needsLook || lookAt === null) return needsLook ? null : flashEndsAt
  const forecastMs = lookAt - after.finishedAt
  return after.finishedAt + Math.max(UNSEEN_SHARE * forecastMs, UNSEEN_MS)
}

export const isWet = (state: State, panel: PanelContext, at: number): boolean => {
  const until = wetUntil(state, panel, at)
  return panel.open !== null || until === null || at < until
}

/** What is wet is not moved into heat, nor heat to what is wet. A panel that stays where it is is not moved. */
export function moveProblems(d: Deciding, p: FoundPanel, zone: string): Problem[] {
  if (zoneOf(p.panel) === zone) return []
  if (isHeated(p.panel)) return wetProblems(d, p, [p.id], zone)
  return isWet(d.state, p.panel, d.at) ? heatProblems(d, p, zone) : []
}

/** When the last coat in some zones ended, or the last gun was cleaned there; null where none was. */
function lastVaporIn(
  d: Deciding,
  panels: readonly Panel[],
  zones: readonly string[],
): number | null {
  const cleaned = cleanings(d.state).flatMap(({ at, zone }) =>
    at <= d.at && zones.includes(zone) ? [at] : [],
  )
  const coats = panels.flatMap(({ panel }) =>
    panel.coats
      .filter((coat) => zones.includes(zoneAt(panel, coat.finishedAt)))
      .map((coat) => coat.finishedAt),
  )
  const ends = [...coats, ...cleaned]
  return ends.length === 0 ? null : Math.max(...ends)
}

/**
 * What is wet in a zone that is to be heated: a coat being sprayed in it or in what it opens to, air
 * that is not purged yet, and the standing flash of panels that are not heated themselves.
 * @param own the panels that are to be heated
 * @param zone where
 */
export function wetProblems(
  d: Deciding,
  p: FoundPanel,
  own: readonly string[],
  zone = zoneOf(p.panel),
): Problem[] {
  const zones = zonesAround(d.state, zone)
  const panels = panelsThen(d)
  const others = panels.filter(({ id, isOn }) => isOn && !own.includes(id))
  const about = { panel: p.id, about: p.panel.name }
  const problems: Problem[] = others
    .filter(({ panel }) => panel.open !== null && zones.includes(zoneOf(panel)))
    .map(({ panel }) => ({
      code: 'wetInZone',
      why: 'coat',
      limit: null,
      value: panel.name,
      ...about,
    }))
  const lastAt = lastVaporIn(d, panels, zones)
  const ofCoatMs = lastAt === null ? 0 : lastAt + purgeMinOf(d.state, zone) * MINUTE_MS
  // A purge that a person began runs to its end, however long the vapor would take.
  const begun = contextThen(d, 'zone', zone)?.purgedUntil ?? 0
  const purgedAt = Math.max(ofCoatMs, begun)
  if ((lastAt ?? 0) <= d.at && d.at < purgedAt) {
    const clears = { limit: purgedAt, clearsAt: purgedAt }
    problems.push({ code: 'wetInZone', why: 'purge', value: zone, ...clears, ...about })
  }
  return [...problems, ...others.flatMap(({ panel }) => wetPanel(d, panel, zone, about))]
}

/** The standing flash of another panel in the zone. What flashes water is only marked. */
function wetPanel(
  d: Deciding,
  panel: PanelContext,
  zone: string,
  about: { readonly panel: string; readonly about: string },
): Problem[] {
  const last = lastCoat(panel)
  if (!last || panel.open !== null || zoneOf(panel) !== zone) return []
  const until = wetUntil(d.state, panel, d.at)
  if (until !== null && d.at >= until) return []
  const medium = sheetAt(d.state, last.opens?.sheet, last.finishedAt)?.sheet.medium
  const why = medium === 'waterborne' ? 'water' : 'flash'
  const clears = until === null ? {} : { clearsAt: until }
  return [{ code: 'wetInZone', why, limit: until, value: panel.name, ...clears, ...about }]
}
