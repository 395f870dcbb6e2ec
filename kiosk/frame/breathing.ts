import type { ZoneSpec } from '../../machines/climate/context.ts'
import type { Coat, FinishedCoat, PanelContext } from '../../machines/panel/context.ts'
import { sheetAt } from '../../machines/sheet/fold.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { momentOf, type Now } from '../lanes/moment.ts'

/**
 * Until when breathing air stays on in a zone: its clearance time after the last coat of an
 * isocyanate product there. Pure. A zone without a clearance time says nothing here: what it needs
 * is for its maker, the safety sheet and the law to say.
 */

/** `untilMs` is null while such a coat runs. */
type Breathing = {
  readonly zone: string
  readonly untilMs: number | null
  readonly clearanceMin: number
}

const MINUTE_MS = 60_000

/** A product whose sheet does not say counts as one with isocyanates. */
function hasIsocyanate(state: State, coat: Coat | FinishedCoat): boolean {
  const sheets = coat.cups.map((id) => contextOf(state, 'cup', id)?.sheet)
  const own = 'opens' in coat ? coat.opens?.sheet : undefined
  const ids = [...sheets, own].filter((id) => id !== undefined && id !== '')
  if (ids.length === 0) return true
  return ids.some((id) => sheetAt(state, id, coat.startedAt)?.sheet.hazards?.isocyanate ?? true)
}

/** The zone that a panel was in when a coat went on. */
const zoneAt = (panel: PanelContext, at: number): string =>
  (panel.stays.findLast((stay) => stay.fromMs <= at) ?? panel.stays[0])?.zone ?? ''

type Sprayed = { readonly zone: string; readonly endMs: number | null }

const sprayedOn = (state: State, panel: PanelContext): Sprayed[] => {
  const coats: readonly (Coat | FinishedCoat)[] = panel.open
    ? [...panel.coats, panel.open]
    : panel.coats
  return coats
    .filter((coat) => hasIsocyanate(state, coat))
    .map((coat) => ({
      zone: zoneAt(panel, coat.startedAt),
      endMs: 'finishedAt' in coat ? coat.finishedAt : null,
    }))
}

/**
 * The zones that are not clear yet, by name.
 * @param now kiosk time, UTC ms
 */
export function breathingZones(state: State, now: Now): Breathing[] {
  const moment = momentOf(now)
  const sprayed = Object.values(state.things.panel).flatMap((thing) =>
    sprayedOn(state, thing.context),
  )
  return Object.entries(state.things.zone).flatMap(([id, thing]): Breathing[] => {
    const spec: ZoneSpec | null = thing.context.spec
    const clearanceMin = spec?.clearanceMin ?? 0
    const here = sprayed.filter((coat) => coat.zone === id)
    if (clearanceMin === 0 || here.length === 0) return []
    const zone = spec?.name ?? id
    if (here.some((coat) => coat.endMs === null)) return [{ zone, untilMs: null, clearanceMin }]
    const untilMs = Math.max(...here.map((c) => c.endMs ?? 0)) + clearanceMin * MINUTE_MS
    return !moment.isPast(untilMs) ? [{ zone, untilMs, clearanceMin }] : []
  })
}
