import { dueStep } from '../panel/context.ts'
import { gateOf, LATEST } from '../panel/gate.ts'
import { shutAt, shutsAt } from '../panel/gateTimes.ts'
import type { Plan } from './choice.ts'
import type { Start } from './estimate.ts'
import type { JobForecast, Means, PlannedAct, TonightOrAbrade } from './forecastTypes.ts'
import type { Asking } from './nextAct.ts'

/** What a plan says of its jobs, and of the night. */

/** When the last panel of a job is through; null where one is never. */
function doneOf(ids: readonly string[], { doneAt }: Plan): number | null {
  const ends = ids.map((id) => doneAt.get(id) ?? null)
  return ends.some((end) => end === null) ? null : Math.max(...ends.filter((end) => end !== null))
}

/** The act that takes longest on a panel, or the wait before it. */
function longest(acts: readonly PlannedAct[], now: number): JobForecast['decides'] {
  let freeAt = now
  let best: JobForecast['decides'] = null
  for (const act of acts) {
    const { panel, stage, kind, wait } = act
    const waitMs = act.fromMs - freeAt
    const ms = act.toMs - Math.max(now, act.fromMs)
    const isWait = waitMs > ms
    if (best === null || Math.max(waitMs, ms) > best.ms)
      best = { panel, stage, kind, wait, ms: Math.max(waitMs, ms), isWait }
    freeAt = act.toMs
  }
  return best
}

/**
 * @param low the same plan with every length at the lower end of its spread
 * @param high at the upper end
 */
export function jobsIn(
  starts: readonly Start[],
  plan: Plan,
  low: Plan,
  high: Plan,
  now: number,
): JobForecast[] {
  const jobs = Map.groupBy(starts, ({ panel }) => panel.job)
  return [...jobs].map(([job, of]): JobForecast => {
    const ids = of.map(({ id }) => id)
    const doneAtMs = doneOf(ids, plan)
    const ends = [doneAtMs, doneOf(ids, low), doneOf(ids, high)].filter((end) => end !== null)
    const last = ids.reduce((a, b) =>
      (plan.doneAt.get(b) ?? 0) > (plan.doneAt.get(a) ?? 0) ? b : a,
    )
    return {
      ...{ job, doneAtMs },
      earlyMs: doneAtMs === null ? null : Math.min(...ends),
      lateMs: doneAtMs === null ? null : Math.max(...ends),
      decides: longest(
        plan.acts.filter(({ panel }) => panel === last),
        now,
      ),
    }
  })
}

/**
 * Windows that are open now and shut before somebody is there again, while the plan has abrading before
 * that panel's next coat: whoever sprays it tonight need not.
 */
export function tonightIn(
  { state, now }: Asking,
  { open }: Means,
  starts: readonly Start[],
  plan: Plan,
): TonightOrAbrade[] {
  const opensAt = open.find(({ fromMs }) => fromMs > now)?.fromMs
  if (opensAt === undefined) return []
  return starts.flatMap(({ id, panel }) => {
    const step = dueStep(panel)
    const stage = panel.route[step]?.stage
    const gate = gateOf(state, panel, step, LATEST)
    const shutsAtMs = gate && shutsAt(gate)
    if (!gate || !stage || shutsAtMs === null || shutsAtMs === undefined) return []
    if (shutsAtMs > opensAt || shutAt(gate, now)) return []
    const coat = plan.acts.find((act) => act.panel === id && act.kind === 'coat' && !act.isRunning)
    if (coat && coat.fromMs < shutsAtMs) return []
    const fromMs = Math.max(now, gate.lookAt ?? gate.flashEndsAt ?? now)
    return [{ panel: id, job: panel.job, stage, shutsAtMs, fromMs }]
  })
}
