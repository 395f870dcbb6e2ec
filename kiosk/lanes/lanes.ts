import type { Deadline } from '../../machines/bell/deadline.ts'
import { byOccurrence, compareText, type Draft } from '../../machines/envelope.ts'
import { PART_HOLD_MS } from '../../machines/panel/climate.ts'
import {
  coatsOn,
  dueStep,
  lastCoat,
  type PanelContext,
  type Work,
  zoneOf,
} from '../../machines/panel/context.ts'
import { cureEndsAt, lastPart } from '../../machines/panel/cureClock.ts'
import { handFrom, workableAt } from '../../machines/panel/filmReady.ts'
import { gateOf, LATEST } from '../../machines/panel/gate.ts'
import { shutsAt } from '../../machines/panel/gateTimes.ts'
import { underOf } from '../../machines/panel/under.ts'
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
import type { Thing } from '../../machines/things.ts'
import { jobName } from '../commands/panelName.ts'
import { bellNow } from './bellNow.ts'
import { isBlindNow, isPartCold } from './blind.ts'
import { type HeatWait, heatWait } from './heat.ts'
import { hotUntil, isColdNow } from './heatNow.ts'
import { Moment } from './moment.ts'
import { type NoWay, noWayOf, sheetOfStep } from './noWay.ts'
import { type AbradeWait, type ShutWait, waitsShut } from './shut.ts'

/**
 * What a lane of the Wall shows: a panel, what it waits for, and its stretch of time. Pure: from the
 * folded state and the kiosk's time.
 */

/** What a lane waits for. Instants are UTC ms. */
type Waits =
  | { readonly for: 'spraying'; readonly since: number }
  | { readonly for: 'flash'; readonly until: number }
  | { readonly for: 'noFlash' }
  | { readonly for: 'look'; readonly at: number | null }
  | { readonly for: 'coat'; readonly since: number | null }
  | ShutWait
  /** `until`: when the film is ready for it, where that is known and still to come. */
  | { readonly for: 'hand'; readonly until: number | null }
  | HeatWait
  /**
   * `isMeasured`: the part was read within the time that a reading holds; it is not hot enough yet.
   * `isTooCold`: the air is below what its sheet needs to cure.
   */
  | {
      readonly for: 'cure'
      readonly until: number | null
      readonly isMeasured: boolean
      readonly isTooCold: boolean
    }
  | { readonly for: 'cureEnd'; readonly since: number }
  | { readonly for: 'pass' }

type Mark = { readonly stage: Stage; readonly from: number; readonly to: number | null }

/** From the last coat's finish, or its heat's end: the wait, then the open window, then what follows it. */
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
  /** What tells its job from the others comes first. */
  readonly jobTitle: string
  readonly zone: string
  /** The stage that is due, and how many of its coats are on and wanted. */
  readonly stage: Stage | null
  /** Of a sprayed stage its step's, if that names one; else that of what is on. */
  readonly sheet: string | null
  readonly colour: string | null
  readonly coatsOn: number
  readonly coatsPlanned: number
  /** The coat that comes was broken off, and is continued. */
  readonly isPart: boolean
  /** What is done by hand in the step that is due. */
  readonly work: Work | null
  readonly waits: Waits
  readonly noWay: NoWay | null
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
  /** When it is cool after its last heat, where that is still to come. */
  readonly hotUntil: number | null
  /** No reading of its zone's air within 30 min. */
  readonly isBlind: boolean
  /** A coat went on, and nobody knows how warm the part is. */
  readonly isPartCold: boolean
}

/** What follows from where the panel's chart stands; the clocks say the rest. */
function waitsFor(state: State, panel: PanelContext, where: PanelState, moment: Moment): Waits {
  if (isCoating(where)) return { for: 'spraying', since: panel.open?.startedAt ?? moment.ms }
  if (where === 'cure.running') {
    const until = cureEndsAt(state, panel)
    if (until !== null && moment.isPast(until)) return { for: 'cureEnd', since: until }
    const last = lastPart(panel)
    const isMeasured = last !== undefined && !moment.isPast(last.at + PART_HOLD_MS)
    const isTooCold = until === null && isColdNow(state, panel, moment.ms)
    return { for: 'cure', until, isMeasured, isTooCold }
  }
  if (where === 'cure.due') return heatWait(state, panel, moment)
  if (where === 'finished') return { for: 'pass' }
  if (sprayPhase(where) === null) {
    return { for: 'hand', until: toCome(handFrom(state, panel), moment) }
  }
  const under = underOf(state, panel, dueStep(panel), LATEST)
  if (under) return abrading({ for: 'abrade', since: under.sinceMs, why: under.why })
  const gate = gateOf(state, panel, dueStep(panel), LATEST)
  if (!gate) return { for: 'coat', since: null }
  const shut = waitsShut(panel, gate, moment)
  if (shut) return shut.for === 'abrade' ? abrading(shut) : shut
  if (gate.needsLook) {
    const at = gate.lookAt ?? gate.flashEndsAt
    // From then on the chip says so.
    if (at !== null) moment.isPast(at)
    return { for: 'look', at }
  }
  if (gate.flashEndsAt === null) return { for: 'noFlash' }
  return moment.isPast(gate.flashEndsAt)
    ? { for: 'coat', since: gate.flashEndsAt }
    : { for: 'flash', until: gate.flashEndsAt }

  /** Abrading is refused until the film is ready. Where a sheet forbids the product, abrading does not help. */
  function abrading(waits: AbradeWait): Waits {
    if (waits.why === 'never') return waits
    const until = toCome(workableAt(state, panel, 'sand'), moment)
    return until === null ? waits : { ...waits, until }
  }
}

/** An instant that is known and still to come. */
const toCome = (at: number | null, moment: Moment): number | null =>
  at === null || moment.isPast(at) ? null : at

function bandOf(state: State, panel: PanelContext, where: PanelState, waits: Waits): Band | null {
  const after = lastCoat(panel)
  if (waits.for === 'hand' && waits.until !== null && after) {
    const from = panel.curedAt ?? after.finishedAt
    return { from, flashTo: waits.until, shutsAt: null, afterWindow: 'abrade' }
  }
  const isWaiting = sprayPhase(where) !== null && !isCoating(where)
  if (!isWaiting || panel.curedAt !== null) return null
  const gate = gateOf(state, panel, dueStep(panel), LATEST)
  if (!gate) return null
  const at = shutsAt(gate)
  const next = gate.shutters.find(({ why, shutsAt: ends }) => why === 'window' && ends === at)
  return {
    from: gate.after.finishedAt,
    flashTo: gate.needsLook ? gate.lookAt : gate.flashEndsAt,
    shutsAt: at,
    afterWindow: next?.opensBy ?? gate.after.opens?.afterWindow ?? 'abrade',
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

function laneOf(state: State, id: string, thing: Thing<'panel'>, moment: Moment): Lane {
  const { context: panel, value } = thing
  const at = panel.open?.step ?? dueStep(panel)
  const step = panel.route[at]
  const where = routeState(value)
  const waits = waitsFor(state, panel, where, moment)
  return {
    panel: id,
    name: panel.name,
    job: panel.job,
    jobTitle: jobName(state, panel.job),
    zone: zoneOf(panel),
    stage: step?.stage ?? null,
    sheet: sheetOfStep(panel, step),
    colour: step?.colour ?? null,
    coatsOn: coatsOn(panel, at),
    coatsPlanned: step?.coats?.planned ?? 0,
    isPart: lastCoat(panel)?.part !== undefined && lastCoat(panel)?.step === at,
    work: step?.work ?? null,
    waits,
    noWay: noWayOf(state, panel),
    phase: sprayPhase(where),
    marks: marksOf(panel),
    band: bandOf(state, panel, where, waits),
    cure: panel.cure && {
      from: panel.cure.startedAt,
      to: cureEndsAt(state, panel),
      tempC: lastPart(panel)?.partC ?? null,
    },
    bell: bellNow(state, id, moment),
    isPaused: isPaused(value),
    hotUntil: hotUntil(state, panel, moment),
    isBlind: isBlindNow(state, panel, moment),
    isPartCold: isPartCold(state, thing, moment),
  }
}

type PanelInWork = { readonly id: string; readonly thing: Thing<'panel'> }

/** All panels in work, job by job in the order in which they came. */
function panelsInWork(state: State): PanelInWork[] {
  const openedAt = (job: string) => contextOf(state, 'job', job)?.openedAt ?? 0
  const jobOf = ({ thing }: PanelInWork) => thing.context.job
  return Object.entries(state.things.panel)
    .map(([id, thing]) => ({ id, thing }))
    .filter(({ thing }) => {
      const job = state.things.job[thing.context.job]
      return isInWork(routeState(thing.value)) && job !== undefined && job.value !== 'closed'
    })
    .sort(
      (a, b) =>
        openedAt(jobOf(a)) - openedAt(jobOf(b)) ||
        compareText(jobOf(a), jobOf(b)) ||
        byOccurrence(a.thing.entries[0] as Draft, b.thing.entries[0] as Draft),
    )
}

/**
 * The lanes of all panels in work. A lane keeps its place as long as it is there: hands learn where it
 * is, and the list of what comes next is beside it.
 * @param now kiosk time, UTC ms
 */
export const lanesOf = (state: State, now: number): Lane[] =>
  panelsInWork(state).map(({ id, thing }) => laneOf(state, id, thing, new Moment(now)))

type Kept = { readonly lane: Lane; readonly moment: Moment }

/**
 * The lanes as `lanesOf` gives them, of which only those are calculated again for which a moment has
 * come. A lane that is the same stays the same object.
 */
export function lanesKept(): (state: State, moment: Moment) => readonly Lane[] {
  let of: State | null = null
  let panels: readonly PanelInWork[] = []
  let kept = new Map<string, Kept>()
  return (state, moment) => {
    if (state !== of) {
      of = state
      panels = panelsInWork(state)
      kept = new Map()
    }
    return panels.map(({ id, thing }) => {
      const before = kept.get(id)
      const one = before?.moment.holdsAt(moment.ms) ? before : calculated(state, id, thing, moment)
      kept.set(id, one)
      moment.restsOn(one.moment)
      return one.lane
    })
  }
}

function calculated(state: State, id: string, thing: Thing<'panel'>, { ms }: Moment): Kept {
  const moment = new Moment(ms)
  return { lane: laneOf(state, id, thing, moment), moment }
}
