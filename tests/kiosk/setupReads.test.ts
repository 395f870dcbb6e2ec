import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import * as forms from '../../kiosk/setup/forms.ts'
import { askedIn, formNamed } from '../support/formPaths.ts'

/**
 * Nothing is asked for in Setup that nothing reads: of every field of its forms, where it is read. A field
 * that is new in a form has no row here, and the test says so.
 */

const OPTION = {
  name: 'machines/sheet/intervals.ts',
  fromC: 'machines/trade/activator.ts',
  toC: 'machines/trade/activator.ts',
  potLife: 'machines/sheet/potLife.ts',
  flashBetween: 'machines/sheet/intervals.ts',
  flashBeforeNext: 'machines/sheet/intervals.ts',
}
const CURE = {
  air: 'machines/sheet/intervals.ts',
  'bake.tempC': 'machines/panel/cureClock.ts',
  'bake.minutes': 'machines/panel/cureClock.ts',
  'bake.basis': 'machines/panel/cureClock.ts',
  'bake.flashBefore': 'machines/sheet/heatFlash.ts',
  'infrared.minutes': 'machines/panel/cureClock.ts',
  'infrared.halfMin': 'machines/sheet/intervals.ts',
  'infrared.distanceCm': 'kiosk/lanes/heatActs.ts',
  'infrared.flashBefore': 'machines/sheet/heatFlash.ts',
}
const under = (path: string, rows: Readonly<Record<string, string>>) =>
  Object.fromEntries(Object.entries(rows).map(([name, file]) => [`${path}.${name}`, file]))

/** By form and path, the file that reads it to judge, to reckon, or to say it where the work is. */
const READ: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  SHEET: {
    sheet: 'machines/panel/place.ts',
    name: 'machines/cup/decide.ts',
    edition: 'kiosk/setup/sheets.tsx',
    stage: 'machines/panel/place.ts',
    medium: 'machines/panel/room.ts',
    rhRef: 'machines/sheet/intervals.ts',
    'components.name': 'machines/cup/ratio.ts',
    'components.role': 'machines/cup/ratio.ts',
    'components.parts': 'machines/cup/ratio.ts',
    'components.densityGPerMl': 'machines/cup/ratio.ts',
    'components.volatile': 'machines/records/material.ts',
    'components.water': 'machines/records/material.ts',
    'components.exempt': 'machines/records/material.ts',
    by: 'machines/cup/ratio.ts',
    ratioTolerance: 'machines/cup/ratio.ts',
    potLife: 'machines/sheet/potLife.ts',
    keepDays: 'machines/cup/keep.ts',
    keepDaysReduced: 'machines/cup/contents.ts',
    induction: 'machines/cup/decide.ts',
    flashBy: 'machines/panel/gate.ts',
    floorMin: 'machines/panel/gate.ts',
    matteOnly: 'machines/sheet/intervals.ts',
    flashBetween: 'machines/panel/gate.ts',
    'forcedDry.minutes': 'machines/sheet/intervals.ts',
    ...under('flashByKind', {
      full: 'machines/sheet/between.ts',
      light: 'machines/sheet/between.ts',
      drop: 'machines/panel/kindWait.ts',
      blend: 'machines/sheet/between.ts',
      withinMin: 'machines/panel/gate.ts',
    }),
    flashBeforeNext: 'machines/panel/gate.ts',
    recoatWithin: 'machines/panel/gate.ts',
    afterWindow: 'machines/panel/gate.ts',
    recoatAgainAfter: 'machines/panel/gate.ts',
    recoatAfterBake: 'machines/panel/shutters.ts',
    'heavyCoat.flashBetween': 'machines/sheet/intervals.ts',
    'heavyCoat.flashBeforeNext': 'machines/sheet/intervals.ts',
    clearWithinFromFirstCoat: 'machines/panel/layers.ts',
    'prepFor.over': 'machines/sheet/fold.ts',
    'prepFor.gritMin': 'machines/panel/layers.ts',
    'prepFor.gritMax': 'machines/panel/layers.ts',
    'prepFor.pads': 'machines/panel/layers.ts',
    'over.stage': 'machines/sheet/intervals.ts',
    'over.sheet': 'machines/sheet/intervals.ts',
    'over.flashBeforeNext': 'machines/sheet/intervals.ts',
    'over.recoatWithin': 'machines/sheet/intervals.ts',
    ...under('cure', CURE),
    'coats.least': 'machines/panel/work.ts',
    'coats.planned': 'machines/panel/record.ts',
    'coats.most': 'machines/panel/coatProblems.ts',
    dryUmPerCoat: 'machines/cup/left.ts',
    maxFilmUm: 'machines/panel/film.ts',
    solids: 'machines/cup/left.ts',
    'viscosity.cup': 'kiosk/lanes/beforeStart.ts',
    'viscosity.seconds': 'kiosk/lanes/beforeStart.ts',
    strainUm: 'kiosk/lanes/beforeStart.ts',
    grit: 'kiosk/lanes/acts.ts',
    'limits.minC': 'machines/panel/airGate.ts',
    'limits.maxC': 'machines/panel/airGate.ts',
    'limits.maxRh': 'machines/panel/airGate.ts',
    'limits.minPartC': 'machines/panel/partTemp.ts',
    'limits.maxPartC': 'machines/panel/partTemp.ts',
    'gun.needleMm': 'kiosk/bench/guns.tsx',
    'gun.inletKpa': 'kiosk/bench/guns.tsx',
    'gun.distanceCm': 'kiosk/bench/guns.tsx',
    'gun.turns': 'kiosk/bench/guns.tsx',
    ...under('activators', { ...OPTION, ...under('cure', CURE) }),
    ...under('reducers', { ...OPTION, ...under('cure', CURE) }),
    ...under('additives', {
      ...OPTION,
      potLifeFactor: 'machines/sheet/potLife.ts',
      ...under('cure', CURE),
    }),
    ...under('ready', {
      dustFree: 'machines/sheet/intervals.ts',
      handle: 'machines/sheet/intervals.ts',
      tape: 'machines/sheet/intervals.ts',
      sand: 'machines/sheet/intervals.ts',
      polish: 'machines/sheet/intervals.ts',
    }),
    finish: 'kiosk/lanes/beforeStart.ts',
    'hazards.signal': 'labels/code.ts',
    'hazards.pictograms': 'labels/code.ts',
    'hazards.isocyanate': 'machines/panel/breathing.ts',
    'hazards.words': 'labels/cupLabel.ts',
    vocCategory: 'machines/records/material.ts',
  },
  GUN: {
    name: 'machines/gun/find.ts',
    needleMm: 'kiosk/bench/guns.tsx',
    airLpm: 'kiosk/setup/forms.ts',
    inletKpa: 'kiosk/bench/guns.tsx',
  },
  AIR_SUPPLY: {
    name: 'kiosk/setup/things.tsx',
    receiverL: 'machines/trade/air.ts',
    freeAirLpm: 'machines/trade/air.ts',
    cutOutKpa: 'machines/trade/air.ts',
    duty: 'machines/trade/air.ts',
  },
  ZONE: {
    name: 'kiosk/lanes/zones.ts',
    clearanceMin: 'machines/panel/breathing.ts',
    sprayed: 'machines/climate/zones.ts',
    opensTo: 'machines/climate/neighbors.ts',
    purgeMin: 'machines/climate/neighbors.ts',
    coolMin: 'machines/climate/neighbors.ts',
    lagC: 'machines/climate/neighbors.ts',
    fitsJobs: 'machines/plan/places.ts',
    inUse: 'machines/climate/zones.ts',
  },
  PERSON: { name: 'kiosk/frame/who.tsx', role: 'machines/people/lead.ts' },
  LEVEL: {
    place: 'kiosk/setup/levelPage.tsx',
    ambientDb: 'machines/devices/level.ts',
    signalDb: 'machines/devices/level.ts',
    thirdOctaveDb: 'machines/devices/level.ts',
    siteSignedOff: 'machines/devices/level.ts',
  },
  SHOP: {
    shopName: 'server/routes/records.ts',
    timeZone: 'machines/panel/asks.ts',
    'hours.opensAt': 'machines/shop/hours.ts',
    'hours.closesAt': 'machines/shop/hours.ts',
    'bells.escalateAfterS.first': 'machines/bell/rules.ts',
    'bells.escalateAfterS.second': 'machines/bell/rules.ts',
    'bells.riseDb': 'machines/bell/rules.ts',
    'colour.match': 'machines/job/cards.ts',
    'colour.blend': 'machines/job/cards.ts',
    'colour.atGun': 'machines/panel/colourGate.ts',
    'limits.dewMarginC': 'machines/panel/airGate.ts',
    'limits.partMarkMinC': 'machines/panel/partTemp.ts',
    'limits.partMarkMaxC': 'machines/panel/partTemp.ts',
    'limits.partMinC': 'machines/panel/partTemp.ts',
    'limits.partMaxC': 'machines/panel/partTemp.ts',
    'limits.sprayMinPerM2': 'machines/panel/spraying.ts',
  },
  LABELS: { cupsMm: 'labels/cupWidth.ts', phoneAddress: 'server/printing/makeLabel.ts' },
}

/** A file's program, without comments. */
const program = (file: string): string =>
  readFileSync(new URL(`../../${file}`, import.meta.url), 'utf8').replace(
    /\/\*[\s\S]*?\*\/|\/\/.*$/gm,
    '',
  )

describe.each(Object.keys(READ))('%s', (form) => {
  const rows = READ[form] ?? {}

  test('every field that it asks for has a place that reads it, and no other has a row', () => {
    const fields = askedIn(formNamed(form))
    expect(fields.length).toBeGreaterThan(1)
    expect(Object.keys(rows).sort()).toEqual(fields.sort())
  })

  test.each(Object.entries(rows))('%s is read in %s', (path, file) => {
    const name = path.split('.').at(-1)
    expect(program(file)).toMatch(new RegExp(`\\b${name}\\b`))
  })
})

test('every form of Setup is here', () => {
  const all = Object.keys(forms).filter((name) => name === name.toUpperCase())
  expect(all.sort()).toEqual(Object.keys(READ).sort())
})
