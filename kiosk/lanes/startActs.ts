import { canNow } from '../../machines/can.ts'
import { fitsColour } from '../../machines/cup/colours.ts'
import type { CupContext } from '../../machines/cup/machine.ts'
import { storedChecks } from '../../machines/cup/stored.ts'
import { fitsTint, tintUnder } from '../../machines/panel/coatColour.ts'
import { dueStep, lastCoat, type PanelContext } from '../../machines/panel/context.ts'
import { gateOf } from '../../machines/panel/gate.ts'
import { shutAt } from '../../machines/panel/gateTimes.ts'
import type { Stage } from '../../machines/sheet/schema.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { actsIn } from '../words/acts.ts'
import type { Words } from '../words/en.ts'
import type { Act, ActOf } from './actTypes.ts'
import { type CupView, cupsOf } from './cups.ts'
import type { Lane } from './lanes.ts'

/** The coats that a lane may be given, and from which cups. */

/** The gun that holds a cup's material: a coat from that cup is sprayed with it. */
function gunOf(state: State, cup: string): { gun?: string } {
  const found = Object.entries(state.things.gun).find(
    ([, thing]) => thing.context.loads.at(-1)?.cup === cup,
  )
  return found ? { gun: found[0] } : {}
}

type Wanted = {
  readonly job: string
  readonly stage: Stage | null
  /** Null where the step names none: each product of its stage fits. */
  readonly sheet: string | null
  readonly colour: string | null
}

/** Cups that hold what a lane wants, the one that ends first before the others, past ones last. */
export function fittingCups(state: State, { job, stage, sheet, colour }: Wanted, now: number) {
  const fits = (cup: CupContext) =>
    (sheet === null ? cup.stage === stage : cup.sheet === sheet) &&
    fitsColour(state, job, colour ?? undefined, cup)
  const all = cupsOf(state, now).filter((view) => fits(view.cup))
  const isOver = (endsAt: number | null) => endsAt !== null && endsAt <= now
  return [...all.filter((v) => !isOver(v.endsAt)), ...all.filter((v) => isOver(v.endsAt))]
}

export function startActs(
  state: State,
  lane: Lane,
  words: Words,
  now: number,
): ActOf<'StartCoat'>[] {
  const stage = lane.stage === null ? '' : words.stage[lane.stage]
  const say = lane.isPart ? words.act.goOn : words.act.start
  const panel = contextOf(state, 'panel', lane.panel)
  const under = panel ? tintUnder(state, panel, dueStep(panel)) : null
  const fitting = fittingCups(state, lane, now)
  // Over a tinted coat the cups of its tint come first: the others would be refused.
  const inOrder = [true, false].flatMap((fits) =>
    fitting.filter(({ cup }) => fitsTint(cup, under) === fits),
  )
  return inOrder.flatMap(({ id, cup }, i): ActOf<'StartCoat'>[] => {
    const done = storedChecks({ state, at: now }, cup)
    const from = [words.act.from(id.slice(0, 4)), cup.paint?.tint].filter(Boolean).join(' · ')
    const start: ActOf<'StartCoat'> = {
      key: `start-${id}`,
      label: say(stage, lane.coatsOn + 1),
      small: from,
      type: 'StartCoat',
      data: { panels: [lane.panel], cup: id, ...gunOf(state, id) },
      isMain: i === 0,
      mayOverride: true,
    }
    if (done.length === 0) return [start]
    const checked = done.map((check) => words.act.checked[check]).join(', ')
    // One touch says that a stored mix was made ready, and starts; the other that it was not.
    return [
      { ...start, small: `${from}: ${checked}`, checks: { cup: id, done } },
      {
        ...start,
        key: `unchecked-${id}`,
        small: actsIn(words).unchecked(from),
        isMain: false,
        group: 'more',
      },
    ]
  })
}

/**
 * One more coat of the step just finished, while no coat of the next one is on: where the panel's chart
 * takes it and no window is shut. After a cure that is so once the panel is sanded.
 */
export function oneMoreActs(
  state: State,
  lane: Lane,
  panel: PanelContext,
  words: Words,
  now: number,
): Act[] {
  const last = lastCoat(panel)
  const step = last && panel.route[last.step]
  if (!last || !step || last.step >= dueStep(panel)) return []
  const gate = gateOf(state, panel, last.step, now)
  if (gate && shutAt(gate, now)) return []
  const isTaken = ({ cup: { sheet, stage } }: CupView) => {
    const data = { sheet, stage, step: last.step }
    return canNow(state, { kind: 'panel', id: lane.panel }, { type: 'CoatStarted', data }, now)
  }
  return fittingCups(
    state,
    {
      job: lane.job,
      stage: step.stage,
      sheet: step.sheet ?? null,
      colour: step.colour ?? null,
    },
    now,
  )
    .filter(isTaken)
    .slice(0, 1)
    .map(({ id }) => ({
      key: `more-${id}`,
      label: actsIn(words).oneMore(words.stage[step.stage]),
      small: words.act.from(id.slice(0, 4)),
      type: 'StartCoat',
      data: { panels: [lane.panel], cup: id, step: last.step, ...gunOf(state, id) },
      mayOverride: true,
    }))
}
