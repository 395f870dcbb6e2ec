import { type Mix, mixesIn } from '../cup/mixes.ts'
import { LATEST } from '../panel/gate.ts'
import { opensAt } from '../panel/opens.ts'
import { sheetAt } from '../sheet/fold.ts'
import type { Opens } from '../sheet/intervals.ts'
import { contextOf, type State } from '../state.ts'
import type { Plan } from './choice.ts'
import { meansOf } from './forecastMeans.ts'
import { jobsIn, tonightIn } from './forecastSays.ts'
import type {
  Forecast,
  ForecastAsked,
  Material,
  NextCoat,
  PlannedAct,
  WhatIf,
} from './forecastTypes.ts'
import { withHeldAir } from './heldAir.ts'
import { NOT_LEARNED } from './learned.ts'
import { coatMl, filmIn } from './learnFold.ts'
import { type LearnedFigures, volumeKey } from './learning.ts'
import type { Asking } from './nextAct.ts'
import { ordered } from './order.ts'
import { scheduled } from './schedule.ts'
import { startsOf } from './starts.ts'

/**
 * The rest of every panel's route as times. A forecast is made where it is looked at and is never in the
 * path of a command: nothing that a press is judged by reads it.
 */

/** Which end of the spread of every length a plan takes. */
type End = 'low' | 'middle' | 'high'

function factorOf(figures: LearnedFigures, end: End) {
  return (key: string): number => {
    const { factor, spread } = figures[key] ?? NOT_LEARNED
    return end === 'middle' ? factor : end === 'low' ? spread[0] : spread[1]
  }
}

/** The mixes that a sheet is planned with: as supposed, else as in the last cup of it that is there. */
function mixesFor(state: State, { activators = {} }: WhatIf) {
  const last = new Map<string, { at: number; mix: Mix }>()
  for (const { context: cup } of Object.values(state.things.cup)) {
    const known = last.get(cup.sheet)
    const { mixedAt: at } = cup
    const [mix] = mixesIn(cup)
    if (mix && (!known || known.at < at)) last.set(cup.sheet, { at, mix })
  }
  return (sheet: string): readonly Mix[] => {
    const mix = last.get(sheet)?.mix ?? { activator: null, reducer: null }
    const supposed = activators[sheet]
    return [supposed === undefined ? mix : { ...mix, activator: supposed }]
  }
}

function askingOf(
  state: State,
  now: number,
  figures: LearnedFigures,
  whatIf: WhatIf,
  end: End,
): Asking {
  const mixesOf = mixesFor(state, whatIf)
  const opened = new Map<string, Opens | null>()
  return {
    ...{ mixing: new Map(), next: new WeakMap(), after: new WeakMap() },
    ...{ state, now, mixesOf, lengths: { factor: factorOf(figures, end) } },
    opensOf(sheet) {
      const known = opened.get(sheet)
      if (known !== undefined) return known
      const opens = opensAt(state, { sheet, mixes: mixesOf(sheet) }, LATEST, 'full')
      opened.set(sheet, opens)
      return opens
    },
  }
}

/** One panel more like another one, from the beginning of its route. */
const ANOTHER = 'another'
function withAnother(state: State, { anotherOf }: WhatIf, now: number): State {
  const like = anotherOf === undefined ? undefined : state.things.panel[anotherOf]
  if (!like) return state
  const { context } = like
  const panel = {
    ...like,
    value: { route: 'prep', attention: 'awake' } as typeof like.value,
    context: {
      ...{ ...context, coats: [], open: null, cure: null, curedAt: null, heats: [], parts: [] },
      ...{ abradedAt: null, abrasion: null, wants: [], denibbedAt: null, degreasedAt: null },
      ...{ mattAt: null, notYetAt: null, passedAt: null },
      stays: context.stays.slice(-1).map((stay) => ({ ...stay, fromMs: now })),
      status: context.route.map(() => 'open' as const),
    },
  }
  return {
    ...state,
    things: { ...state.things, panel: { ...state.things.panel, [ANOTHER]: panel } },
  }
}

/** What the coats to come take, by product, with the spread of what was learned of it. */
function materialIn(state: State, plan: Plan, figures: LearnedFigures) {
  const found = new Map<string, Material>()
  const acts = plan.acts.map((act): PlannedAct => {
    if (act.kind !== 'coat' || act.isRunning || act.sheet === undefined) return act
    const panel = contextOf(state, 'panel', act.panel)
    const route = panel?.route[act.step]
    const sheet = sheetAt(state, act.sheet, LATEST)?.sheet
    const isWhole = route !== undefined && route.face === 'whole'
    const ml = sheet && isWhole ? coatMl(filmIn(sheet), panel?.areaM2 ?? null, 'full') : null
    if (ml === null || !sheet) return act
    const learned = figures[volumeKey(sheet.stage, act.gun ?? null)] ?? NOT_LEARNED
    const sum = found.get(act.sheet) ?? { volumeMl: 0, fromMl: 0, toMl: 0 }
    found.set(act.sheet, {
      ...{ stage: sheet.stage, sheet: act.sheet, volumeMl: sum.volumeMl + ml * learned.factor },
      fromMl: sum.fromMl + ml * learned.spread[0],
      toMl: sum.toMl + ml * learned.spread[1],
    })
    return { ...act, volumeMl: Math.round(ml * learned.factor) }
  })
  const round = Math.round
  const material = [...found.values()].map((one) => ({
    ...one,
    ...{ volumeMl: round(one.volumeMl), fromMl: round(one.fromMl), toMl: round(one.toMl) },
  }))
  return { acts, material }
}

/** A window that shuts so soon decides what is sprayed next. */
const SOON_MS = 3 * 3_600_000

function nextIn(acts: readonly PlannedAct[], { instead }: Plan): NextCoat | null {
  const act = acts.find(({ kind, isRunning }) => kind === 'coat' && !isRunning)
  if (!act) return null
  if (instead.length === 0) return { act, because: 'only', others: [] }
  const isSoon = act.shutsAtMs !== undefined && act.shutsAtMs - act.fromMs < SOON_MS
  return { act, because: isSoon ? 'window' : 'order', others: instead }
}

/**
 * @param now UTC ms
 * @param asked the shop's own figures, and what is supposed otherwise than it is
 */
export function forecastOf(shop: State, now: number, asked: ForecastAsked = {}): Forecast {
  const { figures = {}, whatIf = {} } = asked
  const { state, air } = withHeldAir(withAnother(shop, whatIf, now), now, whatIf)
  const means = meansOf(state, now, whatIf)
  const asking = (end: End) => askingOf(state, now, figures, whatIf, end)
  const middle = asking('middle')
  const { starts, paused } = startsOf(middle)
  const { plan, way } = ordered(middle, means, starts)
  const at = (end: End) => {
    const ask = asking(end)
    return scheduled(ask, means, startsOf(ask).starts, way)
  }
  const { acts, material } = materialIn(state, plan, figures)
  return {
    atMs: now,
    acts,
    jobs: jobsIn(starts, plan, at('low'), at('high'), now),
    next: nextIn(acts, plan),
    tonight: tonightIn(middle, means, starts, plan),
    cannot: plan.cannot,
    paused,
    material,
    means: {
      ...{ painters: means.painters, preppers: means.preppers },
      ...{ hasHours: means.hasHours, guns: means.guns.length },
    },
    air,
  }
}
