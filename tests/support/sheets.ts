import * as v from 'valibot'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { sheetSchema } from '../../machines/sheet/sheetSchema.ts'

/** Invented sheets for an invented shop: products named by what they are. */

export const BASE = {
  sheet: 'base-solvent',
  name: 'Solvent base, ready to spray',
  stage: 'base',
  medium: 'solvent',
  components: [
    { name: 'base colour', role: 'base', parts: 1, densityGPerMl: 0.98, volatile: 0.7 },
    { name: 'reducer', role: 'reducer', parts: 0.5, densityGPerMl: 0.87, volatile: 1 },
  ],
  by: 'volume',
  potLife: null,
  keepDays: 30,
  flashBetween: [{ atC: 20, minutes: 8 }],
  flashBeforeNext: [{ atC: 20, minutes: 15 }],
  recoatWithin: [{ atC: 20, minutes: 1440 }],
  coats: { least: 2, planned: 2, most: 4 },
  dryUmPerCoat: 8,
  solids: 0.16,
  limits: { minC: 15, maxC: 32, maxRh: 0.85 },
  gun: { needleMm: 1.3, inletKpa: 180, distanceCm: 17 },
  activators: [],
  reducers: [],
  hazards: {
    signal: 'DANGER',
    pictograms: ['flame', 'exclamation'],
    isocyanate: false,
    words: 'FLAMMABLE',
  },
  vocCategory: 'topcoat',
} as const

export const CLEAR = {
  sheet: 'clear-2k',
  name: '2K clear, 2:1',
  stage: 'clear',
  medium: 'solvent',
  components: [
    { name: 'clear', role: 'base', parts: 2, densityGPerMl: 1.0, volatile: 0.5 },
    { name: 'activator', role: 'activator', parts: 1, densityGPerMl: 1.05, volatile: 0.4 },
  ],
  by: 'volume',
  potLife: [{ atC: 20, minutes: 60 }],
  flashBetween: [{ atC: 20, minutes: 10 }],
  flashBeforeNext: [{ atC: 20, minutes: 10 }],
  recoatWithin: [{ atC: 20, minutes: 480 }],
  cure: {
    air: [{ atC: 20, minutes: 720 }],
    bake: [{ tempC: 60, minutes: 30, basis: 'part', flashBefore: 10 }],
  },
  coats: { least: 2, planned: 2, most: 3 },
  dryUmPerCoat: 25,
  solids: 0.45,
  limits: { minC: 15, maxC: 35, maxRh: 0.85 },
  gun: { needleMm: 1.3, inletKpa: 200, distanceCm: 15 },
  activators: [
    { name: 'standard', fromC: 15, toC: 25 },
    { name: 'slow', fromC: 24, toC: 35, potLife: [{ atC: 20, minutes: 90 }] },
  ],
  reducers: [],
  hazards: {
    signal: 'DANGER',
    pictograms: ['flame', 'exclamation', 'health'],
    isocyanate: true,
    words: 'FLAMMABLE, ISOCYANATE: RESPIRATORY SENSITIZER',
  },
  vocCategory: 'topcoat',
} as const

export const SEALER = {
  ...CLEAR,
  sheet: 'sealer-2k',
  name: '2K sealer, 3:1',
  stage: 'sealer',
  components: [
    { name: 'sealer', role: 'base', parts: 3, densityGPerMl: 1.3 },
    { name: 'activator', role: 'activator', parts: 1, densityGPerMl: 1.0 },
  ],
  flashBetween: [{ atC: 20, minutes: 5 }],
  flashBeforeNext: [{ atC: 20, minutes: 15 }],
  recoatWithin: [{ atC: 20, minutes: 240 }],
  coats: { least: 1, planned: 1, most: 2 },
  cure: {},
  activators: [],
} as const

/** An invented sheet as the shop holds it once it is saved. @throws where a shop would refuse it */
export const asSaved = (sheet: object): Sheet => v.parse(sheetSchema, sheet)
