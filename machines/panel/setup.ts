import { defaultZone } from '../climate/zones.ts'
import type { CommandData, RouteStep } from '../commands.ts'
import { wrongAt } from '../contract/wrongField.ts'
import {
  type Deciding,
  type Decision,
  jobNotKnownYet,
  knownIds,
  refused,
  unknown,
} from '../deciding.ts'
import type { JobContext } from '../job/machine.ts'
import { judge, type Marks } from '../judge.ts'
import { mayLead } from '../people/lead.ts'
import { isRetired, sheetAt } from '../sheet/fold.ts'
import { type Coats, isSprayed } from '../sheet/schema.ts'
import { contextOf, thingOf } from '../state.ts'
import { coatsOn, type PanelContext, type Step } from './context.ts'
import { type FoundPanel, findPanel, isClosedFor, isFound, keysOf, notKnownYet } from './find.ts'
import { notKnownFor, readyProblems } from './handWork.ts'
import { notFrom } from './notFrom.ts'
import { moveProblems } from './room.ts'
import { routeState } from './where.ts'

const DEFAULT_COATS: Coats = { least: 1, planned: 1, most: 3 }

/** Coats from the route, else from the sheet: resolved now, so that a new sheet changes nothing. */
export function coatsOf(step: RouteStep, own: Coats | undefined): Coats | null {
  if (!isSprayed(step.stage)) return null
  const base = own ?? DEFAULT_COATS
  const given = step.coats
  if (given === undefined) return base
  const wanted = given.planned ?? Math.max(base.planned, given.least ?? 1)
  const planned = Math.min(wanted, given.most ?? wanted)
  return {
    least: given.least ?? Math.min(base.least, planned),
    planned,
    most: given.most ?? Math.max(base.most, planned),
  }
}

type Resolved = { steps: Step[] } | { decision: Decision }

/** A route with every sheet found and every coat count filled in. */
export function resolveRoute(
  d: Deciding,
  route: readonly RouteStep[],
  job: JobContext | undefined,
): Resolved {
  const steps: Step[] = []
  for (const [i, step] of route.entries()) {
    const field = `data.route.${i}`
    const saved = sheetAt(d.state, step.sheet, d.at)
    if (step.sheet !== undefined && (!saved || isRetired(d.state, step.sheet, d.at))) {
      return {
        decision: refused(unknown('sheet', step.sheet, knownIds(d.state, 'sheet'))),
      }
    }
    // A cure may name the product that it cures; every other step sprays the stage of its sheet.
    if (saved && step.stage !== 'cure' && saved.sheet.stage !== step.stage) {
      const params = { stage: saved.sheet.stage, sheet: saved.sheet.name }
      return { decision: wrongAt(`${field}.stage`, step.stage, 'stageOfSheet', params) }
    }
    const keys = job?.colours.map((c) => c.key) ?? []
    if (step.colour !== undefined && keys.length > 0 && !keys.includes(step.colour)) {
      const problem = unknown('colour', step.colour, keys)
      return { decision: refused(problem) }
    }
    const { sheet, colour, stage, face, work } = step
    if (work !== undefined && stage !== 'prep') {
      return { decision: wrongAt(`${field}.work`, work, 'workOfPrep', {}) }
    }
    steps.push({
      stage,
      ...(sheet === undefined ? {} : { sheet }),
      ...(colour === undefined ? {} : { colour }),
      coats: coatsOf(step, saved?.sheet.coats),
      face,
      ...(work === undefined ? {} : { work }),
    })
  }
  return { steps }
}

/** The clear of a blended panel goes over the whole of it, edge to edge. */
function faceError(operation: string, route: readonly RouteStep[]): Decision | null {
  const i =
    operation === 'blend' ? route.findIndex((s) => s.stage === 'clear' && s.face !== 'whole') : -1
  if (i === -1) return null
  return wrongAt(`data.route.${i}.face`, route[i]?.face, 'wholeFace', {})
}

export function addPanel(d: Deciding<'AddPanel', CommandData<'AddPanel'>>): Decision {
  const { job, panel, zone = defaultZone(d.state), route, ...rest } = d.data
  const jobThing = thingOf(d.state, { kind: 'job', id: job })
  const isKnown = jobThing !== undefined && jobThing.value !== 'unknown'
  if (!isKnown && d.isLive) return refused(unknown('job', job, knownIds(d.state, 'job')))
  const jobContext = jobThing?.context
  if (isClosedFor(d, job)) {
    return refused({ code: 'closed', limit: null, value: job, about: jobContext?.title ?? job })
  }
  const taken = thingOf(d.state, { kind: 'panel', id: panel })
  if (taken && routeState(taken.value) !== 'unknown') {
    return refused({ code: 'idTaken', what: 'panel', limit: null, value: panel })
  }
  const wrongFace = faceError(rest.operation, route)
  if (wrongFace) return wrongFace
  const resolved = resolveRoute(d, route, jobContext)
  if ('decision' in resolved) return resolved.decision
  const isPaused = jobThing?.value === 'paused'
  // What was said of it before belongs to this job too, though it does not say so.
  const isAwaited = taken?.entries.some((e) => e.job === undefined)
  const data = {
    ...{ ...rest, zone, route: resolved.steps },
    ...(isPaused ? { isPaused } : {}),
    ...(isAwaited ? { isAwaited } : {}),
  }
  const verdict = judge({ isLive: d.isLive, now: d.now, problems: jobNotKnownYet(isKnown, job) })
  if ('refusal' in verdict) return verdict
  return {
    facts: [{ type: 'PanelAdded', keys: { job, panel, zone }, data, marks: verdict.marks() }],
  }
}

/** Marks a fact of a panel that is not known yet. */
function waiting(d: Deciding, found: FoundPanel): { marks?: Marks } {
  const verdict = judge({ isLive: d.isLive, now: d.now, problems: notKnownYet(found) })
  return 'marks' in verdict ? { marks: verdict.marks() } : {}
}

export function movePanel(d: Deciding<'MovePanel', CommandData<'MovePanel'>>): Decision {
  const found = findPanel(d, d.data.panel)
  if (!isFound(found)) return refused(found.problem)
  const { zone, override } = d.data
  const verdict = judge({
    isLive: d.isLive,
    now: d.now,
    problems: [
      ...notKnownYet(found),
      ...readyProblems(d, found, 'handle'),
      ...moveProblems(d, found, zone),
    ],
    notJudged: new Map([[found.id, notKnownFor(d, found, 'handle')]]),
    override,
    mayLead: mayLead(d),
  })
  if ('refusal' in verdict) return verdict
  const marks = verdict.marks(found.id)
  return {
    facts: [{ type: 'PanelMoved', keys: { ...keysOf(found), zone }, data: { zone }, marks }],
  }
}

export function removePanel(d: Deciding<'RemovePanel', CommandData<'RemovePanel'>>): Decision {
  const found = findPanel(d, d.data.panel)
  if (!isFound(found)) return refused(found.problem)
  return {
    facts: [{ type: 'PanelRemoved', keys: keysOf(found), data: {}, ...waiting(d, found) }],
  }
}

/** Steps on which work was done must stay where they are. */
function touched(panel: PanelContext, route: readonly Step[]): number {
  return panel.route.findIndex((old, i) => {
    const isWorked = panel.status[i] === 'done' || panel.open?.step === i || coatsOn(panel, i) > 0
    const now = route[i]
    const isOther = now?.stage !== old.stage || now.sheet !== old.sheet || now.work !== old.work
    return isWorked && isOther
  })
}

export function setRoute(d: Deciding<'SetRoute', CommandData<'SetRoute'>>): Decision {
  const found = findPanel(d, d.data.panel)
  if (!isFound(found)) return refused(found.problem)
  const { panel, id } = found
  const wrongFace = faceError(panel.operation, d.data.route)
  if (wrongFace) return wrongFace
  const resolved = resolveRoute(d, d.data.route, contextOf(d.state, 'job', panel.job))
  if ('decision' in resolved) return resolved.decision
  const about = { panel: id, about: panel.name }
  const data = { route: resolved.steps }
  const problems = notFrom(d, found, { type: 'RouteSet', data }, id)
  const at = touched(panel, resolved.steps)
  if (at !== -1) {
    problems.push({
      code: 'routeInUse',
      limit: panel.route[at]?.stage ?? null,
      value: at,
      ...about,
    })
  }
  const verdict = judge({ isLive: d.isLive, now: d.now, problems })
  if ('refusal' in verdict) return verdict
  return {
    facts: [{ type: 'RouteSet', keys: keysOf(found), data, marks: verdict.marks() }],
  }
}
