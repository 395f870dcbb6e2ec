import { zoneOf } from '../panel/context.ts'
import { shutsAt } from '../panel/gateTimes.ts'
import type { Stage } from '../sheet/schema.ts'
import type { Estimate, Simulated } from './estimate.ts'
import type { CannotBe, PlannedAct } from './forecastTypes.ts'
import { type Act, type CoatAct, coatNumber } from './nextAct.ts'

/** Which of the acts that could be begun is planned next. */

export type Candidate = { readonly one: Simulated; readonly act: Act; readonly at: Estimate }

/** How an order is kept: what comes first waits for nobody, or everybody for it. */
export type Patience = 0 | 1

export type Plan = {
  readonly acts: readonly PlannedAct[]
  readonly cannot: readonly CannotBe[]
  /** When each panel is through; not there for one that cannot be planned. */
  readonly doneAt: ReadonlyMap<string, number>
  /** What else could have gone on instead of the coat that is sprayed first. */
  readonly instead: readonly string[]
}

/** In which order acts are planned: by the priority of their panels, or each as it is named. */
export type Way =
  | { readonly order: readonly string[]; readonly patience: Patience }
  | { readonly sequence: readonly string[] }

/** A wait that takes nobody's time is begun when it can be. */
export const isAlone = ({ act }: Candidate): boolean => act.kind === 'cure' && act.mode === 'air'

/** A gun that is cleaned for a coat leaves vapor as the coat does. */
const beginOf = ({ at }: Candidate): number => at.fromMs - at.setUpMs

const soonestOf = (
  all: readonly Candidate[],
  begin: (one: Candidate) => number = ({ at }) => at.fromMs,
): Candidate => all.reduce((a, b) => (begin(b) < begin(a) ? b : a))

const isHeat = ({ act }: Candidate): boolean => act.kind === 'cure' && act.mode !== 'air'

/**
 * Heat keeps coats out of its zone, the air is cleared before it, and what is activated there is over in it.
 * So it is planned when nothing else begins sooner, and before what begins later: in its own zone that may
 * also go on first, which moves the heat.
 */
export function heatInTime(chosen: Candidate, all: readonly Candidate[]): Candidate {
  const zone = zoneOf(chosen.one.panel)
  const heat = isHeat(chosen)
    ? chosen
    : all.find(
        (other) =>
          isHeat(other) && other.at.fromMs < chosen.at.toMs && zoneOf(other.one.panel) !== zone,
      )
  if (!heat) return chosen
  const soonest = soonestOf(all, beginOf)
  return beginOf(soonest) < heat.at.fromMs ? soonest : heat
}

/** Of what could begin before the first of them would be over, or first, what has priority. */
export function byPriority(all: readonly Candidate[], patience: Patience): Candidate {
  const soonest = soonestOf(all).at.fromMs
  const over = Math.min(...all.map(({ at }) => at.toMs))
  const until = soonest + patience * Math.max(0, over - soonest)
  const fits = all.filter(({ at }) => at.fromMs <= until)
  const chosen = fits.find(isAlone) ?? fits.reduce((a, b) => (b.one.rank < a.one.rank ? b : a))
  return heatInTime(chosen, all)
}

/** What an act says of itself, whatever it is. */
export const plainOf = ({ id, panel }: Simulated, step: number, stage: Stage) => ({
  ...{ panel: id, job: panel.job, step, stage },
  zone: zoneOf(panel),
})

export const timesOf = ({ fromMs, toMs, wait }: Estimate) => ({ fromMs, toMs, wait })

const shutting = (shutsAtMs: number | null) => (shutsAtMs === null ? {} : { shutsAtMs })

export const plannedCoat = (
  one: Simulated,
  { step, stage, sheet, gate }: CoatAct,
  at: Estimate,
): PlannedAct => ({
  ...{ ...plainOf(one, step, stage), kind: 'coat', coat: coatNumber(one.panel, step) },
  ...timesOf(at),
  ...shutting(gate && shutsAt(gate)),
  ...(sheet === null ? {} : { sheet }),
  ...(at.gun?.id ? { gun: at.gun.id } : {}),
  ...(at.setUpMs > 0 ? { setUpFromMs: at.fromMs - at.setUpMs } : {}),
  ...(at.isGunChanged ? { isGunChanged: true } : {}),
  ...(at.cup?.isFresh ? { isFreshCup: true } : {}),
})
