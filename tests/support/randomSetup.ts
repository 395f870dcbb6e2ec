import { CLEARED_BY } from '../../machines/climate/context.ts'
import { dewPointC } from '../../machines/clock/moistAir.ts'
import type { CommandType } from '../../machines/commands.ts'
import { READY_FOR } from '../../machines/sheet/shopFigure.ts'
import { GUNS, likely, type Maker, onPanel, PEOPLE, ZONES } from './randomChoices.ts'
import type { Dice } from './randomDice.ts'
import { COLOURS, ROUTES, SHEETS } from './randomSheets.ts'
import { openPanels } from './randomView.ts'

/** What a shop sets up, people, jobs and panels. */

/** Air as it mostly is, sometimes as it seldom is; a surface near the dew point now and then. */
export function airOf(dice: Dice) {
  const airC = (dice.chance(25) ? dice.between(80, 380) : dice.between(170, 270)) / 10
  const rh = dice.chance(5) ? 0.96 : dice.between(30, 92) / 100
  const above = dice.chance(50) ? dice.between(0, 60) / 10 : dice.between(20, 120) / 10
  // JSON has no -0.
  const surfaceC = Math.round(10 * (dewPointC(airC, rh) + above)) / 10 + 0
  return { airC, rh, ...(dice.chance(50) ? { surfaceC } : {}) }
}

export const setUpMakers: { readonly [T in CommandType]?: Maker } = {
  SaveSheet: (_, dice) => {
    const sheet = dice.of(SHEETS)
    const shift = dice.between(0, 4)
    const flash = sheet?.flashBetween.map((p) => ({
      ...p,
      minutes: p.minutes && p.minutes + shift,
    }))
    return { data: { sheet: { ...sheet, edition: `${shift}`, flashBetween: flash } } }
  },
  ImportSheets: (_, dice) => {
    const sheet = dice.of(SHEETS)
    return {
      data: {
        format: 'flashbell-sheets',
        version: 1,
        sheets: [{ ...sheet, edition: `${dice.below(3)}` }],
      },
    }
  },
  RetireSheet: (_, dice) => ({ data: { sheet: dice.of(SHEETS)?.sheet } }),
  SetShopFigure: (_, dice) => ({
    data: {
      sheet: dice.of(SHEETS)?.sheet,
      ...(dice.chance(50)
        ? { dropOver: dice.of(['wet', 'halfMatte', 'matte']) }
        : dice.chance(30)
          ? { keep: { reduced: dice.chance(50), days: dice.of([1, 2, 60, 'unlimited']) } }
          : { ready: { for: dice.of(READY_FOR), after: dice.of([0, 20, 120, 'none']) } }),
    },
  }),
  SaveGun: (_, dice) => ({ data: { gun: dice.of(GUNS), needleMm: 1.3 } }),
  SaveZone: (_, dice) => ({
    data: { zone: dice.of(ZONES), clearanceMin: dice.below(30), coolMin: dice.below(40) },
  }),
  ChangeSettings: (_, dice) => ({
    data: { limits: { sprayMinPerM2: dice.between(1, 4), dewMarginC: dice.between(3, 5) } },
  }),
  SetAirMovers: (_, dice) => ({ data: { zone: dice.of(ZONES), on: dice.chance(50) } }),
  SetDayRange: (_, dice) => {
    const minC = dice.between(2, 25)
    const rhMax = dice.chance(50) ? { rhMax: dice.between(30, 90) / 100 } : {}
    const overnight = dice.chance(30)
    return {
      data: { zone: dice.of(ZONES), minC, maxC: minC + dice.below(15), ...rhMax, overnight },
    }
  },
  PurgeZone: (_, dice) => ({ data: { zone: dice.of(ZONES), minutes: dice.of([1, 3, 5]) } }),
  ClearZone: (_, dice) => ({ data: { zone: dice.of(ZONES), how: dice.of(CLEARED_BY) } }),
  ReadClimate: (_, dice) => ({ data: { zone: dice.of(ZONES), ...airOf(dice) } }),
  SaveAirSupply: (_, dice) => ({
    data: { air: 'air-1', receiverL: 270, freeAirLpm: dice.between(300, 500), cutOutKpa: 1_000 },
  }),
  AddPerson: (_, dice) => ({
    data: { person: dice.of(PEOPLE), name: 'somebody', role: dice.of(['painter', 'lead']) },
  }),
  RetirePerson: (day, dice) => {
    const person = dice.of(Object.keys(day.state.things.person))
    return person === undefined ? null : { data: { person } }
  },
  TestSound: (_, dice) => ({ data: { pattern: dice.of(['A', 'B2']), heard: !dice.chance(20) } }),
  CommissionLevel: (_, dice) => {
    const ambientDb = dice.between(55, 85)
    const signalDb = Math.min(100, ambientDb + dice.between(5, 20))
    return {
      data: { place: dice.of(['bench', 'booth']), ambientDb, signalDb, siteSignedOff: true },
    }
  },
  ReportFlood: (_, dice) => ({ data: { isOn: !dice.chance(50), count: dice.between(0, 12) } }),
  ReportSleep: (_, dice) => ({ data: { why: dice.of(['lost', 'refused']) } }),
  ReportClockJump: (day, dice) => {
    const fromMs = day.now
    return { data: { fromMs, toMs: fromMs + dice.between(-7_200_000, 7_200_000) } }
  },
  ConfirmClock: (day, dice) => ({ data: { nowMs: day.now + dice.between(-60_000, 60_000) } }),
  AddNote: (day, dice) => {
    const job = dice.of(Object.keys(day.state.things.job))
    return job === undefined ? null : { data: { job, text: 'a nib by the handle' } }
  },
  AddPhoto: (day, dice) => {
    const p = dice.of(openPanels(day.state))
    return p ? { data: { job: p.panel.job, panel: p.id, photo: 'ab'.repeat(32) } } : null
  },
  OpenJob: (day, dice) => ({
    data: {
      job: day.newId('J'),
      title: 'delivery van',
      ...(dice.chance(70) ? { colours: COLOURS } : {}),
    },
  }),
  AddPanel: (day, dice) => {
    const job = likely(dice, Object.entries(day.state.things.job), ([, t]) => t.value === 'open')
    return job
      ? {
          data: {
            job: job[0],
            panel: day.newId('P'),
            name: 'rear corner',
            operation: dice.of(['repair', 'new-part', 'blend', 'clear-only']),
            ...(dice.chance(60) ? { areaM2: dice.between(2, 30) / 10 } : {}),
            zone: dice.of(ZONES),
            route: dice.of(ROUTES),
          },
        }
      : null
  },
  MovePanel: (day, dice) =>
    onPanel(
      dice,
      day,
      () => true,
      () => ({ zone: dice.of(ZONES) }),
    ),
  RemovePanel: (day, dice) =>
    onPanel(
      dice,
      day,
      () => true,
      () => ({}),
    ),
  SetRoute: (day, dice) =>
    onPanel(
      dice,
      day,
      (p) => p.panel.open === null && p.panel.cure === null,
      (p) => ({
        route: dice.chance(20)
          ? dice.of(ROUTES)
          : [
              ...p.panel.route.map(({ coats, ...s }) => ({ ...s, ...(coats ? { coats } : {}) })),
              { stage: 'polish' },
            ],
      }),
    ),
}
