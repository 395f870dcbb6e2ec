import { type PanelContext, zoneOf } from '../panel/context.ts'
import { cureEndsAt } from '../panel/cureClock.ts'
import { isJobClosed } from '../panel/find.ts'
import { sprayMs, sprayMsOf } from '../panel/spraying.ts'
import { isInWork, isPaused, routeState } from '../panel/where.ts'
import { isSprayed, type SprayedStage } from '../sheet/schema.ts'
import { afterCoat, afterCure } from './actPanel.ts'
import type { Begun, Start } from './estimate.ts'
import type { PlannedAct } from './forecastTypes.ts'
import { sprayKey } from './learning.ts'
import { type Asking, coatNumber } from './nextAct.ts'
import { HEAT_UP_MS, heatOf } from './planCure.ts'

/** The panels of a plan as they stand now, and what goes on on them. */

/** A coat that is being sprayed: over when its pass is, as long as these take here. */
function coating(asking: Asking, panel: PanelContext): Begun | null {
  const { open } = panel
  const route = open ? panel.route[open.step] : undefined
  if (!open || !route || !isSprayed(route.stage)) return null
  const { state, now, lengths } = asking
  const stage: SprayedStage = route.stage
  const passMs = (open.pass?.panels ?? [])
    .map((id) => sprayMsOf(state, id, now) ?? 60_000)
    .reduce((sum, ms) => sum + ms, 0)
  const ms = (passMs || sprayMs(state, panel, now)) * lengths.factor(sprayKey(stage))
  const toMs = Math.max(now, open.startedAt + Math.round(ms))
  const sheet = open.holds?.at(-1)?.sheet ?? route.sheet ?? null
  const opens = sheet === null ? null : asking.opensOf(sheet)
  const coat = { step: open.step, fromMs: open.startedAt, toMs, sheet, stage, opens }
  return {
    act: {
      ...{ panel: '', job: panel.job, kind: 'coat', step: open.step, stage, zone: zoneOf(panel) },
      ...{ coat: coatNumber(panel, open.step), fromMs: open.startedAt, toMs },
      ...{ isRunning: true, wait: 'now' },
      ...(sheet === null ? {} : { sheet }),
    },
    after: afterCoat(panel, coat),
  }
}

/** A cure that runs: by its clock; of a bake that nobody measures as long as it takes from its start. */
function curing({ state, now }: Asking, panel: PanelContext): Begun | null {
  const { cure } = panel
  const step = panel.route.findIndex(
    ({ stage }, i) => stage === 'cure' && panel.status[i] === 'open',
  )
  if (!cure || step === -1) return null
  const { mode, figures, startedAt: fromMs } = cure
  const known = cureEndsAt(state, panel)
  const guessed =
    mode === 'air' ? now : fromMs + (heatOf(state, panel, figures, mode).ms || HEAT_UP_MS)
  const toMs = Math.max(now, known ?? guessed)
  const act: PlannedAct = {
    ...{ panel: '', job: panel.job, kind: 'cure', mode, step, stage: 'cure', zone: zoneOf(panel) },
    ...{ fromMs, toMs, isRunning: true, wait: 'now' },
  }
  const setC = cure.setC ?? null
  return { act, after: afterCure(panel, { step, mode, fromMs, toMs, setC, figures }) }
}

/** The panels that are in work, in the order in which they were added; those of paused jobs apart. */
export function startsOf(asking: Asking): { starts: Start[]; paused: string[] } {
  const starts: Start[] = []
  const paused = new Set<string>()
  for (const [id, { value, context: panel }] of Object.entries(asking.state.things.panel)) {
    const where = routeState(value)
    if (!isInWork(where) || isJobClosed(asking.state, panel.job)) continue
    if (isPaused(value)) {
      paused.add(panel.job)
      continue
    }
    const begun =
      coating(asking, panel) ?? (where === 'cure.running' ? curing(asking, panel) : null)
    starts.push({ id, panel, begun: begun && { ...begun, act: { ...begun.act, panel: id } } })
  }
  return { starts, paused: [...paused] }
}
