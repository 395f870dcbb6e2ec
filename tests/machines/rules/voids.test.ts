import { describe, expect, test } from 'vitest'
import { EVENTS } from '../../../machines/catalog.ts'
import { folders } from '../../../machines/folders.ts'
import type { State } from '../../../machines/state.ts'
import {
  addPanel,
  air,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_CURE,
  CLEAR_ONLY,
  coat,
  DOOR,
  dueMin,
  JOB,
  keyOf,
  mix,
  vanWith,
  WING,
} from '../../support/given.ts'
import { BASE, CLEAR, SEALER } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

/** What things come to, without their entries and without those that are as if they had never been. */
function bare(state: State): Record<string, unknown> {
  const all = Object.entries(state.things).flatMap(([kind, things]) =>
    Object.entries(things).map(
      ([id, { value, context }]) =>
        [`${kind} ${id}`, { value, context }, folders[kind as keyof typeof folders].blank] as const,
    ),
  )
  const blank = ({ value, context }: { value: unknown; context: unknown }) =>
    JSON.stringify([value, context])
  return Object.fromEntries(
    all.filter(([, is, was]) => blank(is) !== blank(was)).map(([key, is]) => [key, is]),
  )
}

/** A door with two coats of clear and a cure to come, and a job beside it that nothing rests on. */
function past(): Shop {
  const shop = vanWith([{ stage: 'prep' }, ...CLEAR_CURE], [BASE, CLEAR, SEALER])
  addPanel(shop, CLEAR_ONLY, { panel: WING, name: 'Side' })
  return shop
}
const prepped = (): Shop => {
  const shop = past()
  shop.do('DoPrepStep', { panel: DOOR, step: 0 })
  return shop
}
const coating = (): Shop => {
  const shop = prepped()
  shop.at(1).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
  return shop
}
const cleared = (): Shop => coat(coat(prepped(), CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
const curing = (): Shop => {
  const shop = cleared()
  shop.at(30).do('StartCure', { panels: [DOOR], mode: 'air' })
  return shop
}
const rung = (): Shop => {
  const shop = cleared().at(60)
  shop.do('RingBell', { key: keyOf(shop, 'mayGoToHeat') })
  return shop
}
const POT = `potOver:${CLEAR_CUP}`
const potOver = (): Shop => {
  const shop = past().at(60)
  shop.do('RingBell', { key: POT })
  return shop
}
const key = () => ({ key: keyOf(cleared(), 'mayGoToHeat') })

const BLEND = {
  job: JOB,
  body: 'van',
  on: 'roof',
  beside: ['left-rear-side'],
  blend: true,
} as const
const CARD = {
  job: JOB,
  colour: 'body',
  card: 'A',
  angles: [{ deg: 45, panel: [50, 0, 0], card: [51, 0, 0] }],
} as const

const loaded = () => {
  const shop = past()
  shop.do('MixCup', { cup: 'GGGG2222', sheet: CLEAR.sheet, totalMl: 100 })
  shop.do('LoadGun', { gun: 'gun-1', cup: CLEAR_CUP })
  return shop
}

/** For every kind of entry: a past, and the command that makes it. */
const KINDS: { readonly [type: string]: readonly [() => Shop, string, () => object] } = {
  SettingsChanged: [past, 'ChangeSettings', () => ({ shopName: 'Corner' })],
  SheetSaved: [past, 'SaveSheet', () => ({ sheet: { ...CLEAR, sheet: 'clear-fast' } })],
  SheetRetired: [past, 'RetireSheet', () => ({ sheet: CLEAR.sheet })],
  ShopFigureSet: [past, 'SetShopFigure', () => ({ sheet: CLEAR.sheet, dropOver: 'wet' })],
  ZoneSaved: [past, 'SaveZone', () => ({ zone: 'booth', name: 'Booth' })],
  DayRangeSet: [past, 'SetDayRange', () => ({ zone: 'booth', minC: 5, maxC: 9 })],
  AirMoversSet: [past, 'SetAirMovers', () => ({ zone: 'booth', on: true })],
  BlendDecided: [past, 'DecideBlend', () => BLEND],
  ColourCardMeasured: [past, 'MeasureColourCard', () => CARD],
  ColourCardChosen: [
    () => {
      const shop = past()
      shop.do('MeasureColourCard', CARD)
      return shop
    },
    'ChooseColourCard',
    () => ({ job: JOB, colour: 'body', card: 'A' }),
  ],
  HeatLimitSet: [past, 'SetHeatLimit', () => ({ job: JOB, maxC: null })],
  ZonePurged: [past, 'PurgeZone', () => ({ zone: 'booth', minutes: 5 })],
  ZoneCleared: [past, 'ClearZone', () => ({ zone: 'booth', how: 'smokeTest' })],
  ClimateRead: [past, 'ReadClimate', () => ({ zone: 'booth', airC: 10, rh: 0.5 })],
  GunSaved: [past, 'SaveGun', () => ({ gun: 'gun-1', name: 'Clear gun' })],
  GunLoaded: [past, 'LoadGun', () => ({ gun: 'gun-1', cup: CLEAR_CUP })],
  GunPouredBack: [loaded, 'PourBack', () => ({ gun: 'gun-1', cup: 'GGGG2222', ml: 20 })],
  GunRinsed: [loaded, 'RinseGun', () => ({ gun: 'gun-1' })],
  GunCleaned: [
    () => {
      const shop = past()
      shop.do('LoadGun', { gun: 'gun-1', cup: CLEAR_CUP })
      return shop
    },
    'CleanGun',
    () => ({ gun: 'gun-1' }),
  ],
  JobOpened: [past, 'OpenJob', () => ({ job: 'KKKK2222', title: 'Another van' })],
  JobPaused: [past, 'PauseJob', () => ({ job: JOB })],
  JobResumed: [
    () => {
      const shop = past()
      shop.do('PauseJob', { job: JOB })
      return shop
    },
    'ResumeJob',
    () => ({ job: JOB }),
  ],
  JobClosed: [past, 'CloseJob', () => ({ job: JOB, override: { reason: 'Called off' } })],
  JobReopened: [
    () => {
      const shop = past()
      shop.do('CloseJob', { job: JOB, override: { reason: 'Called off' } })
      return shop
    },
    'ReopenJob',
    () => ({ job: JOB }),
  ],
  NoteAdded: [past, 'AddNote', () => ({ job: JOB, text: 'Dent under the handle' })],
  TrainingRecorded: [
    past,
    'RecordTraining',
    () => ({ person: 'ann', name: 'Ann', kind: 'initial', doneMs: Date.UTC(2026, 0, 2) }),
  ],
  FilterServiced: [past, 'ServiceFilter', () => ({ zone: 'booth', what: 'changed' })],
  SolventUsed: [past, 'UseSolvent', () => ({ zone: 'booth', solvent: 'gun wash', ml: 200 })],
  DeviationSettled: [
    () => {
      const shop = past()
      shop.do('AddNote', { job: JOB, text: 'Looked at' })
      return shop
    },
    'SettleDeviation',
    () => ({
      ...{ job: JOB, entry: past().state.things.job[JOB]?.entries[0]?.id, code: 'flashNotOver' },
      ...{ disposition: 'accept', reason: 'CLIMATE' },
    }),
  ],
  CauseReviewed: [
    past,
    'ReviewCause',
    () => ({
      ...{ job: JOB, panels: [DOOR], defect: 'runs', cause: 'cold' },
      ...{ verdict: 'reject', reason: 'the part was warm' },
    }),
  ],
  PhotoAdded: [past, 'AddPhoto', () => ({ job: JOB, photo: 'a'.repeat(64) })],
  PanelAdded: [
    past,
    'AddPanel',
    () => ({ job: JOB, panel: 'HHHH2222', name: 'Hood', operation: 'blend', route: CLEAR_ONLY }),
  ],
  PanelMoved: [past, 'MovePanel', () => ({ panel: DOOR, zone: 'bay' })],
  PanelRemoved: [past, 'RemovePanel', () => ({ panel: DOOR })],
  RouteSet: [past, 'SetRoute', () => ({ panel: DOOR, route: CLEAR_ONLY })],
  PrepStepDone: [past, 'DoPrepStep', () => ({ panel: DOOR, step: 0, grit: 500 })],
  StepSkipped: [past, 'SkipStep', () => ({ panel: DOOR, step: 0, reason: 'Sound' })],
  CoatStarted: [prepped, 'StartCoat', () => ({ panels: [DOOR], cup: CLEAR_CUP, gun: 'gun-1' })],
  CoatContinued: [
    () => mix(coating(), 'FFFF2222', CLEAR.sheet),
    'ContinueCoat',
    () => ({ panels: [DOOR], cup: 'FFFF2222' }),
  ],
  CoatBrokenOff: [() => coating().at(4), 'BreakOffCoat', () => ({ panels: [DOOR] })],
  FilmRead: [cleared, 'ReadFilm', () => ({ panel: DOOR, um: 60, method: 'wetComb' })],
  CoatFinished: [() => coating().at(4), 'FinishCoat', () => ({ panels: [DOOR] })],
  CoatInspected: [cleared, 'InspectCoat', () => ({ panel: DOOR, result: 'matt' })],
  CoverReached: [
    () => {
      const shop = past()
      const route = [{ ...CLEAR_ONLY[0], coats: { least: 1, planned: 2, most: 3 } }]
      addPanel(shop, route, { panel: 'HHHH2222', name: 'Hood' })
      return coat(shop, CLEAR_CUP, 1, 2, { panels: ['HHHH2222'] })
    },
    'ReachCover',
    () => ({ panel: 'HHHH2222' }),
  ],
  PanelAbraded: [() => cleared().at(30), 'AbradePanel', () => ({ panel: DOOR, grit: 800 })],
  PanelDenibbed: [() => cleared().at(30), 'DenibPanel', () => ({ panel: DOOR, grit: 1500 })],
  CureStarted: [() => cleared().at(30), 'StartCure', () => ({ panels: [DOOR], mode: 'bake' })],
  PartRead: [curing, 'ReadPart', () => ({ panel: DOOR, partC: 25 })],
  CureEnded: [() => curing().at(40), 'EndCure', () => ({ panels: [DOOR] })],
  PanelPolished: [() => vanWith([{ stage: 'polish' }]), 'PolishPanel', () => ({ panel: DOOR })],
  PanelPassed: [cleared, 'PassPanel', () => ({ panel: DOOR, override: { reason: 'Trial' } })],
  PanelSentBack: [
    cleared,
    'SendBackPanel',
    () => ({ panel: DOOR, toStep: 1, done: 0, reason: 'Run' }),
  ],
  CupMixed: [past, 'MixCup', () => ({ cup: 'FFFF2222', sheet: CLEAR.sheet, totalMl: 100 })],
  CupPoured: [past, 'PourCup', () => ({ cup: 'FFFF2222', from: [{ cup: CLEAR_CUP }] })],
  CupLabelPrinted: [past, 'PrintLabel', () => ({ cup: CLEAR_CUP })],
  CupChecked: [past, 'CheckCup', () => ({ cup: BASE_CUP, done: ['stirred'] })],
  CupShared: [
    past,
    'MixCup',
    () => ({ cup: 'SSSS2222', sheet: CLEAR.sheet, totalMl: 9, alsoFor: [JOB] }),
  ],
  CupMeasured: [past, 'MeasureCup', () => ({ cup: BASE_CUP, leftMl: 40 })],
  CupMoved: [past, 'MoveCup', () => ({ cup: CLEAR_CUP, zone: 'prep' })],
  CupEmptied: [past, 'EmptyCup', () => ({ cup: BASE_CUP, how: 'discarded' })],
  AirSupplySaved: [
    past,
    'SaveAirSupply',
    () => ({ air: 'compressor', receiverL: 270, freeAirLpm: 400, cutOutKpa: 1000 }),
  ],
  PersonAdded: [past, 'AddPerson', () => ({ person: 'ana', name: 'A. Painter', role: 'painter' })],
  PersonRetired: [
    () => {
      const shop = past()
      shop.do('AddPerson', { person: 'ana', name: 'A. Painter', role: 'painter' })
      return shop
    },
    'RetirePerson',
    () => ({ person: 'ana' }),
  ],
  SoundTested: [past, 'TestSound', () => ({ pattern: 'A', heard: true, place: 'Booth door' })],
  LevelCommissioned: [
    past,
    'CommissionLevel',
    () => ({ place: 'Booth door', ambientDb: 70, signalDb: 85 }),
  ],
  ScreenSlept: [past, 'ReportSleep', () => ({ why: 'lost' })],
  ClockJumped: [past, 'ReportClockJump', () => ({ fromMs: 0, toMs: 3_600_000 })],
  ClockConfirmed: [past, 'ConfirmClock', () => ({ nowMs: Date.UTC(2026, 0, 5) })],
  BellRang: [() => cleared().at(60), 'RingBell', key],
  BellAcknowledged: [rung, 'AcknowledgeBell', key],
  BellSnoozed: [rung, 'SnoozeBell', () => ({ ...key(), minutes: 5 })],
  BellEscalated: [potOver, 'EscalateBell', () => ({ key: POT, to: 'lead' })],
  BellHeld: [rung, 'HoldBell', key],
  BellFlood: [past, 'ReportFlood', () => ({ isOn: true, count: 11 })],
}

describe('a void of each kind of entry', () => {
  test('has an example here: every kind that is part of a thing, but the void itself', () => {
    const parts = Object.entries(EVENTS).filter(([, { of }]) => of.length > 0)
    expect(Object.keys(KINDS).sort()).toEqual(parts.map(([type]) => type).sort())
  })

  test.each(Object.entries(KINDS))(
    '%s: it stays in the log, and the shop is as if it had never been',
    (type, [before, command, data]) => {
      const shop = before()
      const was = bare(shop.state)
      const drafts = shop.do(command, data())
      expect(drafts.map((d) => d.type)).toContain(type)
      const isWrittenDown = ['FilterServiced', 'SolventUsed'].includes(type)
      // These change no clock and no rule: they are for records, which leave out what was voided.
      if (isWrittenDown) expect(bare(shop.state)).toEqual(was)
      else expect(bare(shop.state)).not.toEqual(was)
      const voids = shop.do('VoidEntry', { command: drafts[0]?.command, reason: 'Wrong button' })
      expect(voids.map((d) => [d.type, d.data.entry, d.reason])).toEqual(
        drafts.map((d) => ['EntryVoided', d.id, 'Wrong button']),
      )
      expect(bare(shop.state)).toEqual(was)
      expect(shop.entries.map((e) => e.id)).toEqual(expect.arrayContaining(drafts.map((d) => d.id)))
    },
  )

  test('a reading that was a mistake moves no clock any more', () => {
    const shop = air(coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 5), 6, 10)
    expect(dueMin(shop, 'coatReady')).toBe(25)
    shop.do('VoidEntry', { entry: shop.entries.at(-1)?.id, reason: 'Sensor by the door' })
    expect(dueMin(shop, 'coatReady')).toBe(15)
  })
})
