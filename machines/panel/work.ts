import type { EventType } from '../catalog.ts'
import type { CommandData } from '../commands.ts'
import { type Deciding, type Decision, type NewFact, refused } from '../deciding.ts'
import { judge, type OverrideWish } from '../judge.ts'
import type { Problem } from '../refusals.ts'
import { isSprayed, type Stage } from '../sheet/schema.ts'
import { coatsOn, dueStep, lastCoat } from './context.ts'
import { cureEndsAt } from './cureClock.ts'
import { type FoundPanel, findPanel, isFound } from './find.ts'

/** The work between coats: by hand, by eye, and the way back. */

type Ask = {
  readonly type: EventType
  readonly data: object
  readonly override?: OverrideWish | undefined
}

/** One panel, one fact: found, judged, kept. */
function onePanel(
  d: Deciding,
  id: string,
  problemsOf: (p: FoundPanel) => readonly Problem[],
  ask: (p: FoundPanel) => Ask,
): Decision {
  const found = findPanel(d, id)
  if (!isFound(found)) return refused(d, found.problem)
  const { type, data, override } = ask(found)
  const problems = problemsOf(found).map((p) => ({ ...p, panel: id, about: found.panel.name }))
  const verdict = judge({ isLive: d.isLive, now: d.now, problems, override })
  if ('refusal' in verdict) return verdict
  const keys = { job: found.panel.job, panel: id }
  return { facts: [{ type, keys, data, marks: verdict.marks(id) }] }
}

const HAND: readonly Stage[] = ['prep', 'sand', 'polish']
const dueText = ({ panel }: FoundPanel): string => {
  const due = panel.route[dueStep(panel)]
  return due ? `step ${dueStep(panel)}, ${due.stage},` : 'nothing more'
}
const wrongStep = (p: FoundPanel, value: number | string): Problem => ({
  code: 'wrongStep',
  limit: dueText(p),
  value,
})
const running = ({ panel }: FoundPanel): Problem[] =>
  panel.open ? [{ code: 'coatRunning', limit: null, value: null }] : []
const curing = ({ panel }: FoundPanel): Problem[] =>
  panel.cure ? [{ code: 'curing', limit: null, value: null }] : []

export function doPrepStep(d: Deciding<'DoPrepStep', CommandData<'DoPrepStep'>>): Decision {
  const { panel, step, grit } = d.data
  const isDue = (p: FoundPanel) => {
    const stage = p.panel.route[step]?.stage
    return step === dueStep(p.panel) && stage !== undefined && HAND.includes(stage)
  }
  return onePanel(
    d,
    panel,
    (p) => [
      ...running(p),
      ...curing(p),
      ...(isDue(p) && p.where !== 'passed' ? [] : [wrongStep(p, step)]),
    ],
    () => ({ type: 'PrepStepDone', data: { step, ...(grit === undefined ? {} : { grit }) } }),
  )
}

export function skipStep(d: Deciding<'SkipStep', CommandData<'SkipStep'>>): Decision {
  const { panel, step, reason } = d.data
  return onePanel(
    d,
    panel,
    (p) => [
      ...running(p),
      ...curing(p),
      ...(step === dueStep(p.panel) ? [] : [wrongStep(p, step)]),
    ],
    () => ({ type: 'StepSkipped', data: { step, reason } }),
  )
}

export function inspectCoat(d: Deciding<'InspectCoat', CommandData<'InspectCoat'>>): Decision {
  return onePanel(
    d,
    d.data.panel,
    (p) => [
      ...running(p),
      ...(lastCoat(p.panel) ? [] : [{ code: 'nothingThere' as const, limit: null, value: null }]),
    ],
    () => ({ type: 'CoatInspected', data: { result: d.data.result } }),
  )
}

/** From the least coats on the painter may say: covered, go on. */
export function reachCover(d: Deciding<'ReachCover', CommandData<'ReachCover'>>): Decision {
  const problemsOf = (p: FoundPanel): Problem[] => {
    const step = p.panel.route[dueStep(p.panel)]
    if (!step || !isSprayed(step.stage)) return [...running(p), wrongStep(p, 'covered')]
    const least = step.coats?.least ?? 1
    const count = coatsOn(p.panel, dueStep(p.panel))
    return [
      ...running(p),
      ...(count < least ? [{ code: 'tooFewCoats' as const, limit: least, value: count }] : []),
    ]
  }
  return onePanel(d, d.data.panel, problemsOf, (p) => ({
    type: 'CoverReached',
    data: { step: dueStep(p.panel) },
    override: d.data.override,
  }))
}

export function abradePanel(d: Deciding<'AbradePanel', CommandData<'AbradePanel'>>): Decision {
  return onePanel(
    d,
    d.data.panel,
    (p) => [...running(p), ...curing(p)],
    () => ({ type: 'PanelAbraded', data: { grit: d.data.grit } }),
  )
}

export function sendBackPanel(
  d: Deciding<'SendBackPanel', CommandData<'SendBackPanel'>>,
): Decision {
  const { panel, toStep, done, reason } = d.data
  const problemsOf = (p: FoundPanel): Problem[] => {
    const isBack = toStep <= Math.min(dueStep(p.panel), p.panel.route.length - 1)
    return [...running(p), ...(isBack ? [] : [wrongStep(p, toStep)])]
  }
  return onePanel(d, panel, problemsOf, () => ({
    type: 'PanelSentBack',
    data: { toStep, done, reason },
  }))
}

export function polishPanel(d: Deciding<'PolishPanel', CommandData<'PolishPanel'>>): Decision {
  return onePanel(
    d,
    d.data.panel,
    (p) => [...running(p), ...curing(p)],
    () => ({ type: 'PanelPolished', data: {} }),
  )
}

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
    ...(sprayed.length > 0
      ? [{ code: 'coatsMissing' as const, limit: names(sprayed), value: null }]
      : []),
    ...(open.some((s) => s.stage === 'cure') ? [cure] : []),
    ...(byHand.length > 0
      ? [{ code: 'stepsLeft' as const, limit: names(byHand), value: null }]
      : []),
  ]
}

/** Passing says that the cure is over as well, where nobody has said so yet. */
export function passPanel(d: Deciding<'PassPanel', CommandData<'PassPanel'>>): Decision {
  const problemsOf = (p: FoundPanel): Problem[] => [
    ...running(p),
    ...(p.where === 'passed' ? [wrongStep(p, 'pass')] : lacking(d, p)),
  ]
  const passed = onePanel(d, d.data.panel, problemsOf, () => ({
    type: 'PanelPassed',
    data: {},
    override: d.data.override,
  }))
  const found = findPanel(d, d.data.panel)
  const endsAt = isFound(found) && found.panel.cure ? cureEndsAt(d.state, found.panel) : null
  if (!('facts' in passed) || !isFound(found) || endsAt === null || d.at < endsAt) return passed
  const ended: NewFact = {
    type: 'CureEnded',
    keys: { job: found.panel.job, panel: found.id },
    data: { isComplete: true, endsAt },
  }
  return { facts: [ended, ...passed.facts] }
}
