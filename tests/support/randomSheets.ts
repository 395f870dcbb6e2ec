import { BASE, CLEAR, SEALER } from './sheets.ts'

/** More invented sheets, one for each rule that a random day should come across, and routes of them. */

const at20 = (minutes: number) => [{ atC: 20, minutes }]

/** Dries into the air and is ready when it looks matt. */
const WATER_BASE = {
  ...BASE,
  sheet: 'base-water',
  name: 'Waterborne base, ready to spray',
  medium: 'waterborne',
  rhRef: 0.5,
  flashBy: 'appearance',
  floorMin: 3,
  flashBetween: at20(6),
  flashBeforeNext: at20(12),
  coats: { least: 1, planned: 2, most: 3 },
} as const

/** Flashes by the clock, but by the drying power of the air. */
const WATER_MID = {
  ...WATER_BASE,
  sheet: 'mid-water',
  name: 'Waterborne midcoat',
  stage: 'midcoat',
  flashBy: 'time',
  coats: { least: 1, planned: 1, most: 2 },
} as const

/** Has an induction time, must be sanded before the next product. */
const PRIMER = {
  ...SEALER,
  sheet: 'primer-2k',
  name: '2K primer, 4:1',
  stage: 'primer',
  potLife: [
    { atC: 20, minutes: 90 },
    { atC: 30, minutes: 40 },
  ],
  induction: at20(10),
  flashBetween: [
    { atC: 15, minutes: 15 },
    { atC: 25, minutes: 8 },
  ],
  recoatWithin: 'mustSand',
  coats: { least: 1, planned: 2, most: 4 },
} as const

/** A short window, a band in which nothing may go on, and the same product again after it. */
const EPOXY = {
  ...SEALER,
  sheet: 'epoxy',
  name: 'Epoxy sealer, 1:1',
  potLife: at20(240),
  induction: [
    { atC: 20, minutes: 15 },
    { atC: 10, minutes: 40 },
  ],
  flashBetween: at20(12),
  flashBeforeNext: at20(25),
  recoatWithin: at20(60),
  recoatAgainAfter: at20(180),
  afterWindow: 'abradeAndRecoat',
  coats: { least: 1, planned: 2, most: 3 },
} as const

/** Goes over itself at any time; no wait before the next product. */
const PROMOTER = {
  ...BASE,
  sheet: 'promoter',
  name: 'Adhesion promoter, ready to spray',
  stage: 'adhesion-promoter',
  flashBetween: at20(0),
  flashBeforeNext: at20(5),
  recoatWithin: at20(30),
  afterWindow: 'reapply',
  coats: { least: 1, planned: 1, most: 3 },
} as const

const SINGLE = {
  ...CLEAR,
  sheet: 'single-2k',
  name: '2K single stage, 2:1',
  stage: 'single-stage',
  potLife: at20(120),
  recoatWithin: 'unlimited',
  cure: {
    air: at20(600),
    bake: [
      { tempC: 60, minutes: 30, basis: 'air', flashBefore: 10 },
      { tempC: 80, minutes: 15, basis: 'part', flashBefore: 15 },
    ],
    // How long it flashes before a lamp nobody has typed: it is not known.
    infrared: { minutes: 12 },
  },
  reducers: [
    { name: 'fast', fromC: 5, toC: 20, flashBetween: at20(6) },
    { name: 'slow', fromC: 20, toC: 38, potLife: at20(150), flashBeforeNext: at20(20) },
  ],
} as const

/** Has its own word on what it goes over. */
const CLEAR_OVER = {
  ...CLEAR,
  over: [
    { stage: 'base', flashBeforeNext: at20(20), recoatWithin: at20(600) },
    { stage: 'midcoat', recoatWithin: at20(90) },
  ],
} as const

export const SHEETS = [
  BASE,
  SEALER,
  WATER_BASE,
  WATER_MID,
  PRIMER,
  EPOXY,
  PROMOTER,
  SINGLE,
  CLEAR_OVER,
] as const

const spray = (sheet: { sheet: string; stage: string }, colour?: string) => ({
  stage: sheet.stage,
  sheet: sheet.sheet,
  ...(colour === undefined ? {} : { colour }),
})
const hand = (stage: string) => ({ stage })

export const COLOURS = [
  { key: 'body', code: 'white' },
  { key: 'stripe', code: 'blue', kind: 'metallic' },
] as const

/** Routes as panels of a van might have them. */
export const ROUTES = [
  [hand('prep'), spray(SEALER), spray(BASE, 'body'), spray(CLEAR), hand('cure'), hand('polish')],
  [spray(WATER_BASE, 'body'), spray(CLEAR), hand('cure')],
  [hand('prep'), spray(PRIMER), hand('sand'), spray(WATER_BASE, 'stripe'), spray(CLEAR)],
  [spray(SINGLE, 'body'), { stage: 'cure', sheet: 'single-2k' }, hand('polish')],
  [spray(PROMOTER), spray(EPOXY), spray(SINGLE, 'stripe'), hand('cure')],
  [spray(EPOXY), { ...spray(BASE, 'body'), coats: 1 }, spray(WATER_MID), spray(CLEAR)],
  [spray(PRIMER), spray(SEALER), hand('base'), hand('clear')],
] as const
