import { type Deadline, isPrompt } from '../../machines/bell/deadline.ts'
import { airAt, STALE_MS } from '../../machines/clock/line.ts'
import { deadlines } from '../../machines/deadlines.ts'
import { byOccurrence, compareText, type Draft } from '../../machines/envelope.ts'
import { climateOf, PART_HOLD_MS } from '../../machines/panel/climate.ts'
import {
  coatsOn,
  dueStep,
  lastCoat,
  type PanelContext,
  zoneOf,
} from '../../machines/panel/context.ts'
import { cureEndsAt, heatFromAt, lastPart } from '../../machines/panel/cureClock.ts'
import { gateOf, LATEST, shutAt, shutsAt } from '../../machines/panel/gate.ts'
import {
  isCoating,
  isInWork,
  isPaused,
  type PanelState,
  routeState,
  type SprayPhase,
  sprayPhase,
} from '../../machines/panel/where.ts'
import type { Stage } from '../../machines/sheet/schema.ts'
import { contextOf, type State } from '../../machines/state.ts'

/**
 * What a lane of the Wall shows: a panel, what it waits for, and its stretch of time. Pure: from the
 * folded state and the kiosk's time.
 */

/** What a lane waits for. Instants are UTC ms. */
export type Waits =
  | { readonly for: 'spraying'; readonly since: number }
  | { readonly for: 'flash'; readonly until: number }
  | { readonly for: 'noFlash' }
  | { readonly for: 'look'; readonly at: number | null }
  | { readonly for: 'coat'; readonly since: number | null }
  | { readonly for: 'abrade'; readonly since: number }
  | { readonly for: 'hand' }
  | { readonly for: 'heatFlash'; readonly until: number }
  | { readonly for: 'heat' }
  /** `isMeasured`: the part was read within the time that a reading holds; it is not hot enough yet. */
  | { readonly for: 'cure'; readonly until: number | null; readonly isMeasured: boolean }
  | { readonly for: 'cureEnd'; readonly since: number }
  | { readonly for: 'pass' }

export type Mark = { readonly stage: Stage; readonly from: number; readonly to: number | null }

/** From the last coat's finish: the flash, then the open window, then what follows it. */
export type Band = {
  readonly from: number
  readonly flashTo: number | null
  readonly shutsAt: number | null
  readonly afterWindow: string
}

export type Lane = {
  readonly panel: string
  readonly name: string
  readonly job: string
  readonly jobTitle: string
  readonly zone: string
  /** The stage that is due, and how many of its coats are on and wanted. */
  readonly stage: Stage | null
  readonly sheet: string | null
  readonly colour: string | null
  readonly coatsOn: number
  readonly coatsPlanned: number
  readonly waits: Waits
  /** What lies under the next coat of a sprayed stage; null for another stage. */
  readonly phase: SprayPhase | null
  readonly marks: readonly Mark[]
  readonly band: Band | null
  readonly cure: {
    readonly from: number
    readonly to: number | null
    readonly tempC: number | null
  } | null
  /** A deadline of this panel that has come: what the lane's chip is coloured by. */
  readonly bell: Deadline | null
  readonly isPaused: boolean
  /** No reading of its zone's air within 30 min. */
  readonly isBlind: boolean
}

/** What follows from where the panel's chart stands; the clocks say the rest. */
function waitsFor(state: State, panel: PanelContext, where: PanelState, now: number): Waits {
  if (isCoating(where)) return { for: 'spraying', since: panel.open?.startedAt ?? now }
  if (where === 'cure.running') {
    const until = cureEndsAt(state, panel)
    if (until !== null && now >= until) return { for: 'cureEnd', since: until }
    const last = lastPart(panel)
    return { for: 'cure', until, isMeasured: last !== undefined && now - last.at < PART_HOLD_MS }
  }
  if (where === 'cure.due') {
    const ends = (['bake', 'infrared'] as const).map((mode) => heatFromAt(state, panel, mode))
    const until = Math.min(...ends.filter((end) => end !== null))
    return Number.isFinite(until) && now < until ? { for: 'heatFlash', until } : { for: 'heat' }
  }
  if (where === 'finished') return { for: 'pass' }
  if (sprayPhase(where) === null) return { for: 'hand' }
  const gate = gateOf(state, panel, dueStep(panel), LATEST)
  if (!gate) return { for: 'coat', since: null }
  const shut = shutAt(gate, now)
  if (shut) return { for: 'abrade', since: shut.shutsAt }
  if (gate.needsLook) return { for: 'look', at: gate.lookAt ?? gate.flashEndsAt }
  if (gate.flashEndsAt === null) return { for: 'noFlash' }
  return now < gate.flashEndsAt
    ? { for: 'flash', until: gate.flashEndsAt }
    : { for: 'coat', since: gate.flashEndsAt }
}

function bandOf(state: State, panel: PanelContext, where: PanelState): Band | null {
  const isWaiting = sprayPhase(where) !== null && !isCoating(where)
  if (!isWaiting || panel.curedAt !== null) return null
  const gate = gateOf(state, panel, dueStep(panel), LATEST)
  if (!gate) return null
  return {
    from: gate.after.finishedAt,
    flashTo: gate.needsLook ? gate.lookAt : gate.flashEndsAt,
    shutsAt: shutsAt(gate),
    afterWindow: gate.after.opens?.afterWindow ?? 'abrade',
  }
}

function marksOf(panel: PanelContext): Mark[] {
  const mark = (step: number, from: number, to: number | null): Mark => ({
    stage: panel.route[step]?.stage ?? 'base',
    from,
    to,
  })
  return [
    ...panel.coats.map((c) => mark(c.step, c.startedAt, c.finishedAt)),
    ...(panel.open ? [mark(panel.open.step, panel.open.startedAt, null)] : []),
  ]
}

const isBlindAt = (state: State, panel: PanelContext, now: number): boolean => {
  const air = airAt(climateOf(state, panel), now)
  return !air || Math.abs(now - air.at) >= STALE_MS
}

function laneOf(state: State, id: string, panel: PanelContext, value: unknown, now: number): Lane {
  const step = panel.route[panel.open?.step ?? dueStep(panel)]
  const at = panel.open?.step ?? dueStep(panel)
  const bells = deadlines(state).filter(
    (d) => d.dueAt <= now && (d.panels ?? [d.thing.id]).includes(id),
  )
  const part = lastPart(panel)
  return {
    panel: id,
    name: panel.name,
    job: panel.job,
    jobTitle: contextOf(state, 'job', panel.job)?.title ?? '',
    zone: zoneOf(panel),
    stage: step?.stage ?? null,
    sheet: step?.sheet ?? lastCoat(panel)?.opens?.sheet ?? null,
    colour: step?.colour ?? null,
    coatsOn: coatsOn(panel, at),
    coatsPlanned: step?.coats?.planned ?? 0,
    waits: waitsFor(state, panel, routeState(value), now),
    phase: sprayPhase(routeState(value)),
    marks: marksOf(panel),
    band: bandOf(state, panel, routeState(value)),
    cure: panel.cure && {
      from: panel.cure.startedAt,
      to: cureEndsAt(state, panel),
      tempC: part?.partC ?? null,
    },
    // An alarm is shown before a prompt.
    bell: bells.find((d) => !isPrompt(d.bell)) ?? bells[0] ?? null,
    isPaused: isPaused(value),
    isBlind: isBlindAt(state, panel, now),
  }
}

/**
 * The lanes of all panels in work, job by job in the order in which they came. A lane keeps its
 * place as long as it is there: hands learn where it is, and the list of what comes next is beside it.
 * @param now kiosk time, UTC ms
 */
export function lanesOf(state: State, now: number): Lane[] {
  const openedAt = (job: string) => contextOf(state, 'job', job)?.openedAt ?? 0
  return Object.entries(state.things.panel)
    .map(([id, thing]) => ({ id, thing, panel: thing.context }))
    .filter(({ thing, panel }) => {
      const job = state.things.job[panel.job]
      return isInWork(routeState(thing.value)) && job !== undefined && job.value !== 'closed'
    })
    .sort(
      (a, b) =>
        openedAt(a.panel.job) - openedAt(b.panel.job) ||
        compareText(a.panel.job, b.panel.job) ||
        byOccurrence(a.thing.entries[0] as Draft, b.thing.entries[0] as Draft),
    )
    .map(({ id, thing, panel }) => laneOf(state, id, panel, thing.value, now))
}
