import type { EventType } from '../catalog.ts'
import type { CommandData } from '../commands.ts'
import { type Deciding, type Decision, type NewFact, refused } from '../deciding.ts'
import { judge, type OverrideWish } from '../judge.ts'
import type { Problem } from '../refusals.ts'
import type { ReadyFor } from '../sheet/intervals.ts'
import { isSprayed, type Stage } from '../sheet/schema.ts'
import { coatsOn, dueStep, type Work } from './context.ts'
import { cureEndsAt, neverCures } from './cureClock.ts'
import { readyForStep } from './filmReady.ts'
import { type FoundPanel, findPanel, isFound, keysOf } from './find.ts'
import { degreasedOver, notKnownFor, readyProblems, sandProblems } from './handWork.ts'
import { notFrom, wrongStep } from './notFrom.ts'

/** The work between coats: by hand, by eye, and the way back. */

type Ask = {
  readonly type: EventType
  readonly data: object
  /** What was asked for, as a refusal says it. */
  readonly value?: string | number
  readonly override?: OverrideWish | undefined
  /** The work for which the film has to be ready. */
  readonly needs?: ReadyFor | undefined
}

/** One panel, one fact: the panel is found, its chart asked, the other rules checked, the fact recorded. */
function onePanel(
  d: Deciding,
  id: string,
  ask: (p: FoundPanel) => Ask,
  wantsOf: (p: FoundPanel) => readonly Problem[] = () => [],
): Decision {
  const found = findPanel(d, id)
  if (!isFound(found)) return refused(found.problem)
  const { type, data, value, override, needs } = ask(found)
  const barred = notFrom(d, found, { type, data }, value)
  // What the route wants of a panel that is not known yet is not known either.
  const wants = (found.where === 'unknown' ? [] : wantsOf(found))
    .filter((want) => !barred.some(({ code }) => code === want.code))
    .map((want) => ({ ...want, panel: id, about: found.panel.name }))
  const verdict = judge({
    isLive: d.isLive,
    now: d.now,
    problems: [...barred, ...wants],
    notJudged: new Map([[id, found.where === 'unknown' ? [] : notKnownFor(d, found, needs)]]),
    override,
  })
  if ('refusal' in verdict) return verdict
  return { facts: [{ type, keys: keysOf(found), data, marks: verdict.marks(id) }] }
}

const HAND: readonly Stage[] = ['prep', 'sand', 'polish']

export function doPrepStep(d: Deciding<'DoPrepStep', CommandData<'DoPrepStep'>>): Decision {
  const { panel, step, grit, pad, override } = d.data
  const type = 'PrepStepDone'
  return onePanel(
    d,
    panel,
    (p) => {
      const work = workOf(d, p)
      const data = {
        step,
        ...(grit === undefined ? {} : { grit }),
        ...(pad === undefined ? {} : { pad }),
        ...(work === undefined ? {} : { work }),
      }
      return { type, data, value: step, override, needs: readyForStep(p.panel, d.data) }
    },
    (p) => [
      ...(step === dueStep(p.panel) ? [] : [wrongStep(type, p, step)]),
      ...handProblems(d, p),
    ],
  )
}

/** What was done in a step of preparation: as it is said, else as the route names it. */
const workOf = (
  d: Deciding<'DoPrepStep', CommandData<'DoPrepStep'>>,
  { panel }: FoundPanel,
): Work | undefined => d.data.work ?? panel.route[d.data.step]?.work

/** Whether the film is ready for what is done by hand on it. */
function handProblems(
  d: Deciding<'DoPrepStep', CommandData<'DoPrepStep'>>,
  p: FoundPanel,
): Problem[] {
  const needs = readyForStep(p.panel, d.data)
  if (needs === 'polish' || needs === 'tape') return readyProblems(d, p, needs)
  if (needs === 'sand') return sandProblems(d, p)
  return workOf(d, p) === 'degrease' ? degreasedOver(p) : []
}

export function skipStep(d: Deciding<'SkipStep', CommandData<'SkipStep'>>): Decision {
  const { panel, step, reason } = d.data
  const type = 'StepSkipped'
  return onePanel(
    d,
    panel,
    () => ({ type, data: { step, reason }, value: step }),
    (p) => (step === dueStep(p.panel) ? [] : [wrongStep(type, p, step)]),
  )
}

export const inspectCoat = (d: Deciding<'InspectCoat', CommandData<'InspectCoat'>>): Decision =>
  onePanel(d, d.data.panel, () => ({ type: 'CoatInspected', data: { result: d.data.result } }))

/** Once the least coats are on, the painter may report cover and continue. */
export function reachCover(d: Deciding<'ReachCover', CommandData<'ReachCover'>>): Decision {
  const { panel, override } = d.data
  const tooFew = (p: FoundPanel): Problem[] => {
    const step = dueStep(p.panel)
    const least = p.panel.route[step]?.coats?.least ?? 0
    const count = coatsOn(p.panel, step)
    return count < least ? [{ code: 'tooFewCoats', limit: least, value: count }] : []
  }
  const ask = (p: FoundPanel): Ask => ({
    type: 'CoverReached',
    data: { step: dueStep(p.panel), ...(override === undefined ? {} : { isForced: true }) },
    value: 'covered',
    override,
  })
  return onePanel(d, panel, ask, tooFew)
}

export function abradePanel(d: Deciding<'AbradePanel', CommandData<'AbradePanel'>>): Decision {
  const { panel, override, ...data } = d.data
  return onePanel(
    d,
    panel,
    () => ({ type: 'PanelAbraded', data, override, needs: 'sand' }),
    (p) => sandProblems(d, p),
  )
}

export function denibPanel(d: Deciding<'DenibPanel', CommandData<'DenibPanel'>>): Decision {
  const { panel, override, ...data } = d.data
  return onePanel(
    d,
    panel,
    () => ({ type: 'PanelDenibbed', data, override, needs: 'sand' }),
    (p) => sandProblems(d, p),
  )
}

export function sendBackPanel(
  d: Deciding<'SendBackPanel', CommandData<'SendBackPanel'>>,
): Decision {
  const { panel, toStep, done, reason, stripped } = d.data
  const type = 'PanelSentBack'
  return onePanel(
    d,
    panel,
    () => ({
      type,
      data: { toStep, done, reason, ...(stripped ? { stripped } : {}) },
      value: toStep,
    }),
    (p) => (toStep <= dueStep(p.panel) ? [] : [wrongStep(type, p, toStep)]),
  )
}

export const polishPanel = (d: Deciding<'PolishPanel', CommandData<'PolishPanel'>>): Decision =>
  onePanel(
    d,
    d.data.panel,
    () => ({ type: 'PanelPolished', data: {}, override: d.data.override, needs: 'polish' }),
    (p) => readyProblems(d, p, 'polish'),
  )

/** What a panel lacks to be passed. A cure that is over counts as ended. */
function lacking(d: Deciding, p: FoundPanel): Problem[] {
  const { panel } = p
  const endsAt = panel.cure ? cureEndsAt(d.state, panel) : null
  const isCureOver = endsAt !== null && d.at >= endsAt
  const open = panel.route.filter(
    (s, i) => panel.status[i] === 'open' && !(s.stage === 'cure' && isCureOver),
  )
  const cure: Problem = {
    code: 'cureNotOver',
    limit: endsAt,
    value: d.at,
    ...(endsAt === null ? {} : { clearsAt: endsAt }),
  }
  const names = (some: typeof open) => some.map((s) => s.stage).join(', ')
  const sprayed = open.filter((s) => isSprayed(s.stage))
  const byHand = open.filter((s) => HAND.includes(s.stage))
  return [
    ...(neverCures(panel) ? [{ code: 'neverCures' as const, limit: null, value: null }] : []),
    ...(sprayed.length > 0
      ? [{ code: 'coatsMissing' as const, limit: names(sprayed), value: null }]
      : []),
    ...(open.some((s) => s.stage === 'cure') ? [cure] : []),
    ...(byHand.length > 0
      ? [{ code: 'stepsLeft' as const, limit: names(byHand), value: null }]
      : []),
  ]
}

/** Passing a panel also ends its cure, where nobody has ended it yet. */
export function passPanel(d: Deciding<'PassPanel', CommandData<'PassPanel'>>): Decision {
  const { panel, override } = d.data
  const passed = onePanel(
    d,
    panel,
    () => ({ type: 'PanelPassed', data: {}, value: 'pass', override }),
    (p) => (p.where === 'passed' ? [] : lacking(d, p)),
  )
  const found = findPanel(d, panel)
  const endsAt = isFound(found) && found.panel.cure ? cureEndsAt(d.state, found.panel) : null
  if (!('facts' in passed) || !isFound(found) || endsAt === null || d.at < endsAt) return passed
  const ended: NewFact = {
    type: 'CureEnded',
    keys: keysOf(found),
    data: { isComplete: true, endsAt },
  }
  return { facts: [ended, ...passed.facts] }
}
