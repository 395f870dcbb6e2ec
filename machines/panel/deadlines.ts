import { type Deadline, type IsAbout, isPrompt, nearAt, ofAll } from '../bell/deadline.ts'
import { MINUTE_MS } from '../refusals.ts'
import { isSprayed } from '../sheet/schema.ts'
import type { State } from '../state.ts'
import type { Thing } from '../things.ts'
import { dueStep, lastCoat, type PanelContext } from './context.ts'
import { cureEndsAt, heatFromAt } from './cureClock.ts'
import { isJobClosed } from './find.ts'
import { type Gate, gateOf, LATEST } from './gate.ts'
import { shutAt, shutsAt as windowShutsAt } from './gateTimes.ts'
import { sprayMsOf } from './spraying.ts'
import { isCoating, isInWork, isPaused, routeState } from './where.ts'

/** What follows the last coat: the sprayed step that the panel waits for, or null for something else. */
function coatStepDue(panel: PanelContext): number | null {
  for (let i = dueStep(panel); i < panel.route.length; i += 1) {
    const stage = panel.route[i]?.stage
    // Sanding ends every window; after a cure nobody waits for a coat.
    if (stage === 'sand' || stage === 'cure' || stage === 'polish') return null
    if (stage && isSprayed(stage)) return i
  }
  return null
}

type Make = (bell: Deadline['bell'], dueAt: number, mark?: string) => Deadline

/**
 * The bells of the window that closes first. A window closed by a cure, or until sanding, has none; one that
 * was abraded and only wants its coat has been answered.
 */
function windowBells(gate: Gate, made: Make, isDueNow: boolean): Deadline[] {
  const { after, flashEndsAt } = gate
  const shutters = gate.shutters.filter(({ opensBy }) => opensBy !== 'recoat')
  const shutsAt = windowShutsAt({ ...gate, shutters })
  if (shutsAt === null || shutters.some((s) => s.why !== 'window')) return []
  const opensAt = Math.min(flashEndsAt ?? after.finishedAt, shutsAt)
  const agains = shutters.flatMap((s) => s.opensAgainAt ?? [])
  const isReady = (at: number) => flashEndsAt !== null && at > flashEndsAt && !shutAt(gate, at)
  return [
    made('windowClosing', nearAt(opensAt, shutsAt, 15, 0.1)),
    made('windowShut', shutsAt),
    ...agains
      .filter((again) => isDueNow && isReady(again))
      .map((again) => made('coatReady', again, ':again')),
  ]
}

function coatBells(id: string, panel: PanelContext, gate: Gate, isDueNow: boolean): Deadline[] {
  const { after, flashEndsAt, needsLook, lookAt } = gate
  const made: Make = (bell, dueAt, mark = '') => ({
    // A prompt belongs to the pass: it rings once, whichever of its panels is sprayed first.
    key: `${bell}:${isPrompt(bell) ? after.pass : `${id}:${after.entry}`}${mark}`,
    bell,
    thing: { kind: 'panel', id },
    dueAt,
    job: panel.job,
  })
  const dues: Deadline[] = []
  // No prompt for a window that is already closed: its closing has a bell of its own.
  const isOpen = (at: number) => !shutAt(gate, at)
  if (isDueNow && lookAt !== null && isOpen(lookAt)) dues.push(made('look', lookAt))
  // A painter who looked or sanded after the flash had ended was not waiting for it.
  const seenAt = Math.max(panel.mattAt ?? 0, panel.abradedAt ?? 0)
  const isKnown = (flashEndsAt ?? 0) <= seenAt
  const isWaited = !needsLook && !isKnown && after.part === undefined
  if (isDueNow && isWaited && flashEndsAt !== null && isOpen(flashEndsAt)) {
    dues.push(made('coatReady', flashEndsAt))
  }
  dues.push(...windowBells(gate, made, isDueNow))
  return dues
}

function cureBells(state: State, id: string, panel: PanelContext): Deadline[] {
  const { cure } = panel
  const dueAt = cureEndsAt(state, panel)
  if (!cure || dueAt === null) return []
  const key = `cureOver:${id}:${cure.entry}`
  return [{ key, bell: 'cureOver', thing: { kind: 'panel', id }, dueAt, job: panel.job }]
}

/** Oven and lamp each at their own time; coats of before rang once, at the earlier of them. */
function heatBells(state: State, id: string, panel: PanelContext): Deadline[] {
  const last = lastCoat(panel)
  if (!last || panel.curedAt !== null) return []
  const bell = 'mayGoToHeat'
  const thing = { kind: 'panel', id } as const
  const dues = (['bake', 'infrared'] as const).flatMap((mode): Deadline[] => {
    const dueAt = heatFromAt(state, panel, mode)
    const key = `${bell}:${last.pass}:${mode}`
    return dueAt === null ? [] : [{ key, bell, thing, dueAt, mode, job: panel.job }]
  })
  if (last.opens?.cure.heatByMode || dues.length === 0) return dues
  const dueAt = Math.min(...dues.map((due) => due.dueAt))
  return [{ key: `${bell}:${last.pass}`, bell, thing, dueAt, job: panel.job }]
}

/** Nobody sprays three times as long as a pass takes: was it finished? */
const OPEN_TIMES = 3

function openBells(state: State, id: string, { open, job }: PanelContext): Deadline[] {
  if (!open?.pass) return []
  const { startedAt, pass } = open
  const takesMs = pass.panels
    .map((panel) => sprayMsOf(state, panel, startedAt) ?? MINUTE_MS)
    .reduce((sum, ms) => sum + ms, 0)
  const dueAt = startedAt + OPEN_TIMES * takesMs
  const key = `coatOpen:${pass.command}`
  return [{ key, bell: 'coatOpen', thing: { kind: 'panel', id }, dueAt, job }]
}

function panelDues(state: State, id: string, thing: Thing<'panel'>): Deadline[] {
  const panel = thing.context
  const where = routeState(thing.value)
  if (!isInWork(where)) return []
  // Nothing can be done on a closed job's panels, so they have no bells.
  if (isJobClosed(state, panel.job)) return []
  if (isCoating(where)) return openBells(state, id, panel)
  if (where === 'cure.running') return cureBells(state, id, panel)
  if (where === 'cure.due') return heatBells(state, id, panel)
  const target = coatStepDue(panel)
  const last = lastCoat(panel)
  if (target === null || !last) return []
  const gate = gateOf(state, panel, target, LATEST)
  return gate ? coatBells(id, panel, gate, target === dueStep(panel)) : []
}

/** The panels of one pass have one bell, at the last of them. */
function oneBellAPass(dues: readonly Deadline[]): Deadline[] {
  const groups = new Map<string, Deadline[]>()
  for (const due of dues) groups.set(due.key, [...(groups.get(due.key) ?? []), due])
  return [...groups.values()].map((group) => {
    const last = group.reduce((a, b) => (b.dueAt > a.dueAt ? b : a))
    return group.length === 1 ? last : { ...last, panels: group.map((due) => due.thing.id) }
  })
}

/** Bells of panels. A paused job's prompts are silent; its alarms are not. */
export function panelDeadlines(state: State, isAbout: IsAbout = ofAll): Deadline[] {
  const own = Object.entries(state.things.panel).filter(
    ([id, { context }]) =>
      isAbout(id) ||
      isAbout(lastCoat(context)?.pass ?? id) ||
      isAbout(context.open?.pass?.command ?? id),
  )
  const dues = own.flatMap(([id, thing]) =>
    panelDues(state, id, thing).filter((due) => !(isPaused(thing.value) && isPrompt(due.bell))),
  )
  return oneBellAPass(dues)
}
