import sheets from '../../machines/sheet/samples.json' with { type: 'json' }

/**
 * An invented morning: a delivery van with a damaged rear corner, in the middle of its clear coats.
 * Minutes are before the moment at which the practice begins.
 */
export type PracticeLine = {
  readonly minBefore: number
  readonly type: string
  readonly data: object
}

const JOB = 'VANREAR2'
const QUARTER = 'REARQTR2'
const DOOR = 'SDEDR222'
const BUMPER = 'BMPRCVR2'
const CLEAR_CUP = 'CRC5M2XT'
const BASE_CUP = 'BASE3W9K'

const line = (minBefore: number, type: string, data: object): PracticeLine => ({
  minBefore,
  type,
  data,
})
const clearAndCure = [
  { stage: 'clear', sheet: 'clear-2k' },
  { stage: 'cure', sheet: 'clear-2k' },
  { stage: 'polish' },
]
const base = { stage: 'base', sheet: 'base-water', colour: 'body' }

/**
 * What has happened when the practice begins. One lane rings within 30 seconds at ten times speed;
 * one refuses its next coat if somebody tries; the cup of clear is dying.
 */
export const PRACTICE_DAY: readonly PracticeLine[] = [
  line(120, 'SaveZone', { zone: 'bench', name: 'Mixing bench' }),
  line(120, 'SaveZone', { zone: 'booth', name: 'Booth', clearanceMin: 20 }),
  line(120, 'SaveGun', { gun: 'gun-1', name: 'Primer gun', needleMm: 1.7, airLpm: 280 }),
  line(120, 'SaveGun', { gun: 'gun-2', name: 'Base gun', needleMm: 1.3, airLpm: 300 }),
  line(120, 'SaveGun', { gun: 'gun-3', name: 'Clear gun', needleMm: 1.3, airLpm: 320 }),
  line(120, 'SaveAirSupply', {
    air: 'compressor',
    receiverL: 200,
    freeAirLpm: 350,
    cutOutKpa: 1000,
  }),
  ...sheets.map((sheet) => line(120, 'SaveSheet', { sheet })),
  line(119, 'OpenJob', {
    job: JOB,
    title: 'Delivery van, rear right corner',
    vehicle: 'delivery van',
    colours: [{ key: 'body', code: 'van grey', kind: 'solid' }],
  }),
  line(119, 'AddPanel', {
    job: JOB,
    panel: QUARTER,
    name: 'Rear quarter, right',
    operation: 'repair',
    substrate: 'steel',
    areaM2: 1.4,
    route: [base, ...clearAndCure],
  }),
  line(119, 'AddPanel', {
    job: JOB,
    panel: DOOR,
    name: 'Sliding door, right',
    operation: 'blend',
    areaM2: 2.1,
    route: [{ ...base, face: 'spot' }, ...clearAndCure],
  }),
  line(119, 'AddPanel', {
    job: JOB,
    panel: BUMPER,
    name: 'Rear bumper cover',
    operation: 'new-part',
    substrate: 'plastic',
    areaM2: 0.9,
    route: [
      { stage: 'prep' },
      { stage: 'adhesion-promoter', sheet: 'promoter-1k' },
      base,
      ...clearAndCure,
    ],
  }),
  line(118, 'ReadClimate', { zone: 'booth', airC: 22, rh: 0.5, surfaceC: 21.5 }),
  line(118, 'ReadClimate', { zone: 'bench', airC: 24, rh: 0.5 }),
  line(110, 'MixCup', {
    cup: BASE_CUP,
    sheet: 'base-water',
    totalMl: 600,
    job: JOB,
    colour: 'body',
  }),
  line(109, 'PrintLabel', { cup: BASE_CUP }),
  line(105, 'StartCoat', { panels: [QUARTER, DOOR], cup: BASE_CUP, gun: 'gun-2' }),
  line(98, 'FinishCoat', { panels: [QUARTER, DOOR] }),
  line(92, 'ReadClimate', { zone: 'booth', airC: 22, rh: 0.5 }),
  line(92, 'ReadClimate', { zone: 'bench', airC: 24, rh: 0.5 }),
  line(90, 'InspectCoat', { panel: QUARTER, result: 'matt' }),
  line(90, 'InspectCoat', { panel: DOOR, result: 'matt' }),
  line(89, 'StartCoat', { panels: [QUARTER, DOOR], cup: BASE_CUP, gun: 'gun-2' }),
  line(82, 'FinishCoat', { panels: [QUARTER, DOOR] }),
  line(70, 'CleanGun', { gun: 'gun-2', solvent: 'water gun wash' }),
  line(66, 'ReadClimate', { zone: 'booth', airC: 22, rh: 0.5 }),
  line(66, 'ReadClimate', { zone: 'bench', airC: 24, rh: 0.5 }),
  line(60, 'InspectCoat', { panel: QUARTER, result: 'matt' }),
  line(60, 'InspectCoat', { panel: DOOR, result: 'matt' }),
  line(50, 'ReadClimate', { zone: 'booth', airC: 22, rh: 0.5 }),
  line(50, 'ReadClimate', { zone: 'bench', airC: 24, rh: 0.5 }),
  line(40, 'MixCup', {
    cup: CLEAR_CUP,
    sheet: 'clear-2k',
    totalMl: 600,
    job: JOB,
    activator: 'standard',
  }),
  line(39, 'PrintLabel', { cup: CLEAR_CUP }),
  line(25, 'ReadClimate', { zone: 'booth', airC: 22.5, rh: 0.52, surfaceC: 22 }),
  line(25, 'ReadClimate', { zone: 'bench', airC: 24.5, rh: 0.5 }),
  line(10, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP, gun: 'gun-3' }),
  line(6, 'FinishCoat', { panels: [DOOR] }),
  line(5, 'StartCoat', { panels: [QUARTER], cup: CLEAR_CUP, gun: 'gun-3' }),
  line(1, 'FinishCoat', { panels: [QUARTER] }),
  line(1, 'ReadClimate', { zone: 'booth', airC: 22.5, rh: 0.55, surfaceC: 22 }),
]
