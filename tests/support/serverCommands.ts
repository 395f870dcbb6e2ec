import { BASE, CLEAR } from './sheets.ts'

/** Commands of an invented shop: a delivery van with a damaged rear corner. */

export const JOB = 'VANJAB22'
export const DOOR = 'DDDD2222'
export const QUARTER = 'QQQQ2222'
export const CUP = 'CCCC2222'

export const ROUTE = [
  { stage: 'base', sheet: BASE.sheet },
  { stage: 'clear', sheet: CLEAR.sheet },
] as const

export const command = (id: string, type: string, data: unknown, extra: object = {}) => ({
  id,
  type,
  data,
  ...extra,
})

export const addPanel = (id: string, panel: string, name: string) =>
  command(id, 'AddPanel', {
    job: JOB,
    panel,
    name,
    operation: 'repair',
    areaM2: 1,
    route: ROUTE,
  })

/** Sheets, a job with two panels, and a cup of base. */
export const vanInWork = [
  command('s-base', 'SaveSheet', { sheet: BASE }),
  command('s-clear', 'SaveSheet', { sheet: CLEAR }),
  command('j-open', 'OpenJob', { job: JOB, title: 'Delivery van, rear corner' }),
  addPanel('p-door', DOOR, 'Rear door'),
  addPanel('p-quarter', QUARTER, 'Rear quarter'),
  command('air', 'ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 }),
  command('mix', 'MixCup', { cup: CUP, sheet: BASE.sheet, totalMl: 300, job: JOB }),
]
