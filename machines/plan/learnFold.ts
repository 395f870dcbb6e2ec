import type { Climate } from '../clock/air.ts'
import { endsAt, type Interval, STALE_MS } from '../clock/line.ts'
import { type Draft, isFact, type Json, ordinal } from '../envelope.ts'
import type { CoatKind, Step } from '../panel/context.ts'
import type { FactOf } from '../panel/events.ts'
import { SHARE } from '../panel/film.ts'
import type { Opens } from '../sheet/intervals.ts'
import type { Sheet } from '../sheet/schema.ts'
import { TRANSFER } from '../trade/film.ts'
import { HAND_MIN, isHandWork } from './handMinutes.ts'
import {
  type Air,
  type Film,
  type Followed,
  HANDS_MOST,
  handKey,
  KEYS_MOST,
  type Learning,
  matteKey,
  measured,
  PANELS_MOST,
  put,
  READINGS_MOST,
  sprayKey,
  voided,
  volumeKey,
  withCase,
  without,
  withoutSpray,
  ZONES_MOST,
} from './learning.ts'

/**
 * A log read for what it says of a shop's own figures: litres by stage and gun, spraying minutes by stage and
 * area, how long a base takes to go matte against the forecast in that air, minutes by hand. A fold of its
 * own: it is read behind the commands, holds open panels and the newest cases alone, and whatever it makes of
 * an entry changes a forecast and nothing else.
 */

/** Between two things done by hand there was something else, where more than this lies between. */
const HAND_MOST_MS = 240 * 60_000

const withPanel = (learning: Learning, id: string, panel: Followed): Learning => ({
  ...learning,
  panels: put(learning.panels, id, panel, PANELS_MOST),
})

const numberIn = (value: Json | undefined): number | null =>
  typeof value === 'number' ? value : null

/** The route index of a coat: as it says, else the first step of its product that wants more. */
function stepOf(panel: Followed, data: FactOf<'CoatFinished'>['data']): number {
  if (data.step !== undefined) return data.step
  const fits = (step: Followed['route'][number]) =>
    step.sheet === undefined ? step.stage === data.stage : step.sheet === data.sheet
  const due = panel.route.findIndex(
    (step, i) => fits(step) && (panel.done[i] ?? 0) < (step.coats?.planned ?? 1),
  )
  return due === -1 ? panel.route.findLastIndex(fits) : due
}

/** Spraying minutes against what was foreseen of the whole pass. */
function sprayed(learning: Learning, fact: FactOf<'CoatFinished'>, startedAt: number): Learning {
  const { sprayMs, after = [], passEndsAt, stage } = fact.data
  if (sprayMs === undefined || stage === null || ordinal(fact.id) !== 0) return learning
  const foreseenMs = after.reduce((sum, one) => sum + one.sprayMs, sprayMs)
  const tookMs = (passEndsAt ?? fact.at) - startedAt
  return measured(learning, sprayKey(stage), fact.id, tookMs / foreseenMs)
}

/** What a sheet says of a coat's film; undefined where it does not. */
export function filmIn({
  dryUmPerCoat,
  solids,
}: Pick<Sheet, 'dryUmPerCoat' | 'solids'>): Film | undefined {
  return dryUmPerCoat === undefined || !solids ? undefined : { dryUm: dryUmPerCoat, solids }
}

/** Milliliters that one full coat takes by its sheet; null where that does not say. */
export function coatMl(
  film: Film | undefined,
  areaM2: number | null,
  kind: CoatKind,
): number | null {
  if (!film || areaM2 === null) return null
  return (areaM2 * film.dryUm * SHARE[kind]) / (film.solids * TRANSFER)
}

function used(
  learning: Learning,
  fact: FactOf<'CoatFinished'>,
  panel: Followed,
  face: Step['face'],
): Learning {
  const usedMl = numberIn((fact.data as { usedMl?: number }).usedMl)
  const { stage, sheet, kind, reachCm } = fact.data
  if (usedMl === null || stage === null || sheet === null) return learning
  // Of a spot, an edge or a blend nobody knows the area.
  if (face !== 'whole' || kind === 'blend' || reachCm !== undefined) return learning
  const foreseenMl = coatMl(learning.sheets[sheet], panel.areaM2, kind)
  if (foreseenMl === null) return learning
  return measured(learning, volumeKey(stage, panel.open?.gun ?? null), fact.id, usedMl / foreseenMl)
}

/** What has to go matte after a coat: before its own next coat, or before another product. */
function flashAfter(opens: Opens | null, isSameStep: boolean): readonly Interval[] {
  if (opens?.flashBy !== 'appearance') return []
  return isSameStep ? opens.flashBetween : opens.flashBeforeNext
}

function finished(learning: Learning, fact: FactOf<'CoatFinished'>, id: string): Learning {
  const panel = learning.panels[id]
  if (!panel) return learning
  const { opens, sheet } = fact.data
  const step = stepOf(panel, fact.data)
  const face = panel.route[step]?.face ?? 'whole'
  const done = panel.route.map((_, i) => (panel.done[i] ?? 0) + (i === step ? 1 : 0))
  const isSameStep = (done[step] ?? 0) < (panel.route[step]?.coats?.planned ?? 1)
  const flash = flashAfter(opens, isSameStep)
  const last =
    sheet === null || flash.length === 0 ? null : { at: fact.at, sheet, flash, notYetAt: null }
  const timed = panel.open ? sprayed(learning, fact, panel.open.at) : learning
  return withPanel(used(timed, fact, panel, face), id, { ...panel, done, open: null, last })
}

function climateOf({ readings = [], movers = [] }: Partial<Air>): Climate {
  return { stays: [{ fromMs: 0, readings, movers }], parts: [], staleMs: STALE_MS }
}

/** A look: matte by now, and not yet at the look before it. */
function looked(learning: Learning, fact: Draft, id: string): Learning {
  const panel = learning.panels[id]
  const last = panel?.last
  if (!panel || !last || fact.at < last.at) return learning
  if (fact.data.result === 'notYet')
    return withPanel(learning, id, { ...panel, last: { ...last, notYetAt: fact.at } })
  if (fact.data.result !== 'matt') return learning
  const ends = last.flash.map((one) =>
    endsAt(one, last.at, climateOf(learning.air[panel.zone] ?? {})),
  )
  const seen = withPanel(learning, id, { ...panel, last: null })
  const forecastMs = Math.max(...ends.map((end) => (end ?? Number.POSITIVE_INFINITY) - last.at))
  if (!(forecastMs > 0) || !Number.isFinite(forecastMs)) return seen
  const after = (at: number) => (at - last.at) / forecastMs
  const lo = last.notYetAt === null ? 0 : after(last.notYetAt)
  return withCase(seen, matteKey(last.sheet), fact.id, lo, after(fact.at))
}

/** Something ended by hand: from when the same hands, or others on the same panel, ended the thing before. */
function byHand(learning: Learning, fact: Draft, id: string, work: string): Learning {
  const panel = learning.panels[id]
  if (!panel) return learning
  const hands = fact.by === null ? undefined : learning.hands[fact.by]
  const before = [panel.handAt, hands ?? null].filter((at) => at !== null && at <= fact.at)
  const fromMs = Math.max(...before.map(Number))
  const known: Learning = {
    ...withPanel(learning, id, { ...panel, handAt: fact.at }),
    ...(fact.by === null ? {} : { hands: put(learning.hands, fact.by, fact.at, HANDS_MOST) }),
  }
  const minutes = (fact.at - fromMs) / 60_000
  if (!isHandWork(work) || !(fact.at - fromMs <= HAND_MOST_MS)) return known
  return measured(known, handKey(work), fact.id, minutes / HAND_MIN[work])
}

function read(learning: Learning, entry: Draft, change: (air: Air) => Air): Learning {
  const zone = entry.zone
  if (zone === undefined) return learning
  const air = learning.air[zone] ?? { readings: [], movers: [] }
  return { ...learning, air: put(learning.air, zone, change(air), ZONES_MOST) }
}

const newest = <T extends { readonly at: number }>(items: readonly T[], one: T): readonly T[] =>
  [...items, one].sort((a, b) => a.at - b.at).slice(-READINGS_MOST)

const isAdded = isFact<FactOf<'PanelAdded'>>('PanelAdded')
const isRoute = isFact<FactOf<'RouteSet'>>('RouteSet')
const isFinish = isFact<FactOf<'CoatFinished'>>('CoatFinished')

/**
 * What is known after one more entry of the log. An entry that it can make nothing of changes nothing.
 * @param entry the next in the order of the log
 */
export function learnedAfter(learning: Learning, entry: Draft): Learning {
  const { type, data, panel: id } = entry
  const panel = id === undefined ? undefined : learning.panels[id]
  switch (type) {
    case 'SheetSaved': {
      const sheet = Object(data.sheet) as Sheet
      const film = filmIn(sheet)
      if (!film) return learning
      return {
        ...learning,
        sheets: put(learning.sheets, sheet.sheet, film, KEYS_MOST),
      }
    }
    case 'SettingsChanged':
      return numberIn((Object(data.limits) as Record<string, Json>).sprayMinPerM2) === null
        ? learning
        : withoutSpray(learning)
    case 'ClimateRead':
      return read(learning, entry, ({ readings, movers }) => {
        const rh = numberIn(data.rh)
        const one = { at: entry.at, airC: Number(data.airC), ...(rh === null ? {} : { rh }) }
        return { movers, readings: newest(readings, one) }
      })
    case 'AirMoversSet':
      return read(learning, entry, ({ readings, movers }) => ({
        readings,
        movers: newest(movers, { at: entry.at, isOn: data.on === true }),
      }))
    case 'EntryVoided':
      return typeof data.entry === 'string' ? voided(learning, data.entry) : learning
    case 'JobClosed': {
      const open = Object.entries(learning.panels).filter(([, { job }]) => job !== entry.job)
      return { ...learning, panels: Object.fromEntries(open) }
    }
  }
  if (id === undefined) return learning
  if (isAdded(entry)) {
    const { route, zone } = entry.data
    const blank = { done: [], open: null, last: null, handAt: null }
    return withPanel(learning, id, {
      job: entry.job ?? null,
      areaM2: numberIn(data.areaM2),
      zone,
      route,
      ...blank,
    })
  }
  if (!panel) return learning
  if (isRoute(entry)) return withPanel(learning, id, { ...panel, route: entry.data.route })
  if (isFinish(entry)) return finished(learning, entry, id)
  switch (type) {
    case 'PanelMoved':
      return withPanel(learning, id, { ...panel, zone: String(data.zone) })
    case 'CoatStarted':
      return withPanel(learning, id, { ...panel, open: { at: entry.at, gun: entry.gun ?? null } })
    case 'CoatBrokenOff':
      return withPanel(learning, id, { ...panel, open: null, last: null })
    case 'CoatInspected':
      return looked(learning, entry, id)
    case 'PrepStepDone': {
      const step = panel.route[Number(data.step)]
      return byHand(learning, entry, id, String(data.work ?? step?.work ?? step?.stage ?? ''))
    }
    case 'PanelPolished':
      return byHand(learning, entry, id, 'polish')
    case 'PanelPassed':
    case 'PanelRemoved':
      return { ...learning, panels: without(learning.panels, id) }
    default:
      return learning
  }
}
