import type { CommandType } from '../../machines/commands.ts'
import { deadlines, dueBells } from '../../machines/deadlines.ts'
import type { Step } from '../../machines/panel/context.ts'
import { GUNS, likely, type Maker, overrideOf } from './randomChoices.ts'
import type { RandomDay } from './randomDay.ts'
import type { Dice } from './randomDice.ts'
import { SHEETS } from './randomSheets.ts'
import { fullCups, openPanels, type SeenPanel, seenCups, stepDue } from './randomView.ts'

/** Cups, guns, bells and mistakes. */

const sheetFor = (step: Step | undefined) =>
  SHEETS.find((s) => s.sheet === step?.sheet) ?? SHEETS.find((s) => s.stage === step?.stage)

/** About what the ratio asks for, or now and then none of a part. */
type Weighed = { readonly parts: number; readonly densityGPerMl?: number }
const weighed = (sheet: { readonly components: readonly Weighed[] }, dice: Dice): number[] =>
  sheet.components.map(({ parts, densityGPerMl = 1 }) => {
    const percent = dice.chance(8) ? 0 : dice.between(90, 112)
    return Math.round(parts * densityGPerMl * percent * 10) / 10
  })

/** A cup for a step, or of anything. */
export function mix(day: RandomDay, dice: Dice, step: Step | undefined) {
  const sheet = sheetFor(step) ?? dice.of(SHEETS)
  if (!sheet) return null
  const activator = dice.of(sheet.activators)
  const reducer = dice.of<{ name: string }>(sheet.reducers)
  const job = dice.of(Object.keys(day.state.things.job))
  return {
    data: {
      cup: day.newId('C'),
      sheet: sheet.sheet,
      totalMl: dice.between(2, 12) * 50,
      ...(dice.chance(30) ? { pouredG: weighed(sheet, dice) } : {}),
      ...(step?.colour === undefined ? {} : { colour: step.colour }),
      ...(step?.colour !== undefined && dice.chance(20) ? { tint: dice.of(['T1', 'T2']) } : {}),
      ...(job !== undefined && dice.chance(60) ? { job } : {}),
      ...(activator && dice.chance(60) ? { activator: activator.name } : {}),
      ...(reducer && dice.chance(60) ? { reducer: reducer.name } : {}),
      ...(dice.chance(30) ? { zone: 'booth' } : {}),
    },
  }
}

const pour: Maker = (day, dice) => {
  const first = likely(dice, seenCups(day.state), (c) => c.cup.emptiedAt === null)
  if (!first) return null
  const second = fullCups(day.state).find(
    (c) =>
      c.id !== first.id && c.cup.sheet === first.cup.sheet && c.cup.colour === first.cup.colour,
  )
  const hardener = SHEETS.find((s) => s.sheet === first.cup.sheet)?.activators[0]
  const name = hardener?.name ?? 'activator'
  return {
    data: {
      cup: day.newId('C'),
      from: [
        { cup: first.id, ...(dice.chance(60) ? { ml: dice.between(10, 100) } : {}) },
        ...(second && dice.chance(50) ? [{ cup: second.id }] : []),
      ],
      ...(dice.chance(25) ? { add: [{ role: 'activator', name, ml: 50 }] } : {}),
      ...overrideOf(dice),
    },
  }
}

/** A mistake, and often what it should have been: the same a little earlier or later. */
const voidEntry: Maker = (day, dice) => {
  const entry = likely(dice, day.entries.slice(-20), (e) => e.type !== 'EntryVoided')
  const command = entry && day.commandOf(entry.command)
  if (!entry || !command) return null
  const at = Math.min(day.now, entry.at + dice.between(-4, 4) * 60_000)
  const replace = { type: command.type, at, data: command.data }
  return {
    data: {
      ...(dice.chance(60) ? { entry: entry.id } : { command: entry.command }),
      reason: 'pressed by mistake',
      ...(dice.chance(50) && command.type !== 'VoidEntry' ? { replace } : {}),
    },
  }
}

const bellKey = (day: RandomDay, dice: Dice, keys: readonly string[]) => {
  const key = dice.of(keys) ?? dice.of(deadlines(day.state).map((d) => d.key))
  return key === undefined ? null : key
}
const rung = (day: RandomDay) => Object.keys(day.state.things.bell)

const stepOf = (p: SeenPanel | undefined) => p && stepDue(p)

export const benchMakers: { readonly [T in CommandType]?: Maker } = {
  MixCup: (day, dice) => mix(day, dice, stepOf(dice.of(openPanels(day.state)))),
  PourCup: pour,
  PrintLabel: (day, dice) => {
    const cup = likely(dice, seenCups(day.state), (c) => c.cup.emptiedAt === null)
    return cup ? { data: { cup: cup.id, ...(dice.chance(20) ? { byHand: true } : {}) } } : null
  },
  MeasureCup: (day, dice) => {
    const cup = likely(dice, seenCups(day.state), (c) => c.cup.emptiedAt === null)
    return cup ? { data: { cup: cup.id, leftMl: dice.between(0, 400) } } : null
  },
  EmptyCup: (day, dice) => {
    const cup = likely(dice, seenCups(day.state), (c) => c.cup.emptiedAt === null)
    return cup ? { data: { cup: cup.id, how: dice.of(['used', 'discarded']), leftMl: 20 } } : null
  },
  LoadGun: (day, dice) => {
    const cup = dice.of(fullCups(day.state))
    return cup ? { data: { gun: dice.of(GUNS), cup: cup.id, ...overrideOf(dice) } } : null
  },
  CheckCup: (day, dice) => {
    const cup = likely(dice, seenCups(day.state), (c) => c.cup.emptiedAt === null)
    return cup
      ? { data: { cup: cup.id, done: [dice.of(['stirred', 'strained', 'cardSprayed'])] } }
      : null
  },
  MoveCup: (day, dice) => {
    const cup = likely(dice, seenCups(day.state), (c) => c.cup.emptiedAt === null)
    return cup ? { data: { cup: cup.id, zone: dice.of(['booth', 'bench']) } } : null
  },
  PourBack: (day, dice) => {
    const guns = Object.entries(day.state.things.gun).filter(([, t]) => t.context.loads.length > 0)
    const loaded = likely(dice, guns, ([, t]) => t.value === 'loaded')
    const held = loaded?.[1].context.loads.at(-1)
    const cup = likely(
      dice,
      seenCups(day.state),
      (c) => c.cup.emptiedAt === null && c.cup.sheet === held?.sheet,
    )
    if (!loaded) return null
    if (!cup || dice.chance(15)) {
      const into = { cup: day.newId('C'), ml: dice.between(3, 30) * 10, cleanCup: true }
      return { data: { gun: loaded[0], ...into, ...overrideOf(dice) } }
    }
    const ml = dice.chance(40) ? { ml: dice.between(1, 10) * 10 } : {}
    return { data: { gun: loaded[0], cup: cup.id, ...ml, ...overrideOf(dice) } }
  },
  RinseGun: (_, dice) => ({ data: { gun: dice.of(GUNS) } }),
  CleanGun: (_, dice) => ({ data: { gun: dice.of(GUNS), solvent: 'gun wash' } }),
  RingBell: (day, dice) => {
    const key = bellKey(
      day,
      dice,
      dueBells(day.state, day.now).map((d) => d.key),
    )
    return key === null ? null : { data: { key } }
  },
  AcknowledgeBell: (day, dice) => {
    const key = bellKey(day, dice, rung(day))
    return key === null ? null : { data: { key } }
  },
  SnoozeBell: (day, dice) => {
    const key = bellKey(day, dice, rung(day))
    return key === null ? null : { data: { key, minutes: dice.between(1, 6) } }
  },
  EscalateBell: (day, dice) => {
    const key = bellKey(day, dice, rung(day))
    return key === null ? null : { data: { key, to: dice.of(['zone', 'lead', 'shop']) } }
  },
  HoldBell: (day, dice) => {
    const key = bellKey(day, dice, rung(day))
    return key === null ? null : { data: { key } }
  },
  VoidEntry: voidEntry,
}
