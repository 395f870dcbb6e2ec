import type { CommandType } from '../../machines/commands.ts'
import { cupEndsAt } from '../../machines/cup/ends.ts'
import { dueStep } from '../../machines/panel/context.ts'
import { isSprayed } from '../../machines/sheet/schema.ts'
import { GUNS, likely, type Maker, onPanel, overrideOf } from './randomChoices.ts'
import type { RandomDay } from './randomDay.ts'
import type { Dice } from './randomDice.ts'
import { recordMakers } from './randomRecords.ts'
import { setUpMakers } from './randomSetup.ts'
import {
  fullCups,
  openPanels,
  type SeenCup,
  type SeenPanel,
  seenCups,
  stepDue,
} from './randomView.ts'

/** How each command might come about: its data, out of what is seen and some rolls of the dice. */

const handStages = ['prep', 'sand', 'polish']
const isHandDue = (p: SeenPanel) => handStages.includes(stepDue(p)?.stage ?? '')
const isSprayDue = (p: SeenPanel) => isSprayed(stepDue(p)?.stage ?? 'cure') && p.panel.open === null
const isOpen = (p: SeenPanel) => p.panel.open !== null

/** A cup that goes on a panel's next step, and that may still be sprayed. */
export function cupFor(day: RandomDay, p: SeenPanel): SeenCup | undefined {
  const step = p.panel.route[p.panel.open?.step ?? dueStep(p.panel)]
  return fullCups(day.state).findLast(
    ({ cup }) =>
      cup.stage === step?.stage &&
      (cupEndsAt(day.state, cup) ?? day.now + 1) > day.now &&
      (step.sheet === undefined || cup.sheet === step.sheet) &&
      (step.colour === undefined || cup.colour === null || cup.colour === step.colour),
  )
}

/** Panels that take the same coat in one pass. */
function passOf(day: RandomDay, p: SeenPanel, dice: Dice): string[] {
  const with_ = openPanels(day.state).find(
    (o) => o.id !== p.id && isSprayDue(o) && stepDue(o)?.sheet === stepDue(p)?.sheet,
  )
  return with_ && dice.chance(35) ? [p.id, with_.id] : [p.id]
}

export const startCoat: Maker = (day, dice) => {
  const p = likely(dice, openPanels(day.state), isSprayDue)
  if (!p) return null
  const cup = (dice.chance(90) ? cupFor(day, p) : undefined) ?? dice.of(fullCups(day.state))
  if (!cup) return null
  return {
    data: {
      panels: passOf(day, p, dice),
      cup: dice.chance(2) ? day.newId('C') : cup.id,
      ...(dice.chance(40) ? { gun: dice.of(GUNS), gunSet: { inletKpa: 200 } } : {}),
      ...(dice.chance(10) ? { step: dueStep(p.panel) } : {}),
      ...(dice.chance(10) ? { kind: 'light' } : {}),
      ...overrideOf(dice),
    },
  }
}

/** A finish: of what runs, or of a coat whose start nobody told. */
export const finishCoat: Maker = (day, dice) => {
  const isAlone = dice.chance(25)
  const p = likely(dice, openPanels(day.state), isAlone ? isSprayDue : isOpen)
  if (!p) return null
  const pass = openPanels(day.state).filter((o) => isOpen(o) && isOpen(p) && o.id !== p.id)
  // Sprayed, thrown away, and only then told.
  const gone = seenCups(day.state).findLast((c) => c.cup.emptiedAt !== null)
  const cup = (dice.chance(15) ? gone : cupFor(day, p)) ?? dice.of(fullCups(day.state))
  const started = dice.chance(30) ? { startedAt: day.now - dice.between(1, 12) * 60_000 } : {}
  return {
    data: {
      panels: [p.id, ...(dice.chance(50) ? pass.slice(0, 1).map((o) => o.id) : [])],
      ...(isOpen(p) ? {} : { ...(cup && dice.chance(90) ? { cup: cup.id } : {}), ...started }),
      ...(dice.chance(30) ? { usedMl: dice.between(50, 400) } : {}),
      ...overrideOf(dice),
    },
  }
}

const job =
  (from: string): Maker =>
  (day, dice) => {
    const found = likely(dice, Object.entries(day.state.things.job), ([, t]) => t.value === from)
    return found ? { data: { job: found[0] } } : null
  }

const cardName = (dice: Dice): string => (dice.chance(60) ? 'A' : 'B')

export const panelMakers: { readonly [T in CommandType]?: Maker } = {
  ...setUpMakers,
  ...recordMakers,
  SetHeatLimit: (day, dice) => {
    const asked = job('open')(day, dice)
    const maxC = dice.chance(30) ? null : dice.between(40, 90)
    return asked && { data: { ...asked.data, maxC } }
  },
  DecideBlend: (day, dice) => {
    const asked = job('open')(day, dice)
    const blend = dice.chance(70)
    const beside = { body: 'car', on: 'roof', beside: ['left-quarter-panel'] }
    return (
      asked && { data: { ...asked.data, ...beside, blend, ...(blend ? {} : { reason: 'match' }) } }
    )
  },
  MeasureColourCard: (day, dice) => {
    const asked = job('open')(day, dice)
    const angles = [{ deg: 45, panel: [50, 0, 0], card: [50 + dice.between(0, 5), 0, 0] }]
    const midcoats = dice.chance(40) ? { midcoats: dice.between(1, 4) } : {}
    return (
      asked && {
        data: { ...asked.data, colour: 'body', card: cardName(dice), angles, ...midcoats },
      }
    )
  },
  ChooseColourCard: (day, dice) => {
    const asked = job('open')(day, dice)
    return asked && { data: { ...asked.data, colour: 'body', card: cardName(dice) } }
  },
  PauseJob: job('open'),
  ResumeJob: job('paused'),
  ReopenJob: job('closed'),
  CloseJob: (day, dice) => {
    const ids = Object.keys(day.state.things.job)
    const busy = openPanels(day.state)
      .filter((p) => p.where !== 'passed')
      .map((p) => p.panel.job)
    const id = likely(dice, ids, (j) => !busy.includes(j))
    return id === undefined ? null : { data: { job: id, ...overrideOf(dice, 60) } }
  },
  DoPrepStep: (day, dice) =>
    onPanel(dice, day, isHandDue, (p) => ({
      step: Math.min(dueStep(p.panel), 59),
      ...(dice.chance(50) ? { grit: 800 } : {}),
    })),
  SkipStep: (day, dice) =>
    onPanel(
      dice,
      day,
      () => true,
      (p) => ({ step: dueStep(p.panel), reason: 'not needed' }),
    ),
  StartCoat: startCoat,
  ContinueCoat: (day, dice) => {
    const p = likely(dice, openPanels(day.state), isOpen)
    const cup = p && (cupFor(day, p) ?? dice.of(fullCups(day.state)))
    return p && cup ? { data: { panels: [p.id], cup: cup.id, ...overrideOf(dice) } } : null
  },
  BreakOffCoat: (day, dice) => {
    const p = likely(dice, openPanels(day.state), isOpen)
    return p ? { data: { panels: [p.id], ...(dice.chance(50) ? { doneShare: 0.5 } : {}) } } : null
  },
  ReadFilm: (day, dice) =>
    onPanel(
      dice,
      day,
      (p) => p.panel.coats.length > 0,
      () => ({ um: dice.between(10, 200), method: dice.of(['wetComb', 'gauge']) }),
    ),
  FinishCoat: finishCoat,
  InspectCoat: (day, dice) =>
    onPanel(
      dice,
      day,
      (p) => p.panel.coats.length > 0 && !isOpen(p),
      () => ({
        result: dice.of(['matt', 'notYet', 'good', 'nibsOut', 'run']),
      }),
    ),
  ReachCover: (day, dice) =>
    onPanel(
      dice,
      day,
      (p) => isSprayDue(p) && p.panel.coats.length > 0,
      () => overrideOf(dice),
    ),
  DenibPanel: (day, dice) =>
    onPanel(
      dice,
      day,
      (p) => p.panel.coats.length > 0 && !isOpen(p),
      () => ({ grit: 1500, ...(dice.chance(20) ? { toGround: true } : {}) }),
    ),
  AbradePanel: (day, dice) =>
    onPanel(
      dice,
      day,
      (p) => !isOpen(p) && p.panel.cure === null,
      () => ({ grit: 1500 }),
    ),
  StartCure: (day, dice) => {
    const p = likely(dice, openPanels(day.state), (o) => stepDue(o)?.stage === 'cure')
    const mode = dice.of(['air', 'bake', 'infrared'])
    const setC = mode === 'bake' && dice.chance(70) ? { setC: dice.between(30, 90) } : {}
    return p ? { data: { panels: [p.id], mode, ...setC, ...overrideOf(dice) } } : null
  },
  ReadPart: (day, dice) =>
    onPanel(
      dice,
      day,
      (p) => p.panel.cure !== null,
      () => (dice.chance(70) ? { partC: dice.between(10, 90) } : {}),
    ),
  EndCure: (day, dice) => {
    const p = likely(dice, openPanels(day.state), (o) => o.panel.cure !== null)
    return p ? { data: { panels: [p.id] } } : null
  },
  PolishPanel: (day, dice) =>
    onPanel(
      dice,
      day,
      (p) => stepDue(p)?.stage === 'polish',
      () => ({}),
    ),
  PassPanel: (day, dice) =>
    onPanel(
      dice,
      day,
      (p) => p.where === 'finished',
      () => overrideOf(dice),
    ),
  SendBackPanel: (day, dice) =>
    onPanel(
      dice,
      day,
      (p) => p.panel.coats.length > 0,
      (p) => ({
        toStep: dice.below(Math.min(dueStep(p.panel), p.panel.route.length - 1) + 1),
        done: dice.below(2),
        reason: 'a run',
      }),
    ),
}
