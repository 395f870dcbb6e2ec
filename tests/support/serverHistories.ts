import fc from 'fast-check'
import { dueBells } from '../../machines/deadlines.ts'
import type { State } from '../../machines/state.ts'
import { ROUTE } from './serverCommands.ts'
import { MINUTE } from './serverShop.ts'
import { BASE, CLEAR } from './sheets.ts'

/**
 * Anything that a shop may do, in any order: few ids, so that commands meet each other, most of
 * them accepted and many refused.
 */
export type Step = {
  /** How long after the step before it. */
  readonly minutes: number
  /** For whoever reads a failure. */
  readonly what: string
  readonly make: (id: string, at: { readonly now: number; readonly state: State }) => object
}

const JOBS = ['JJJJ2222', 'JJJJ3333']
const PANELS = ['PPPP2222', 'PPPP3333', 'PPPP4444']
const CUPS = ['CCCC2222', 'CCCC3333', 'CCCC4444']
const GUNS = ['gun-1', 'gun-2']
const ZONES = ['booth', 'bench']
const override = { reason: 'the lead said so' }

const job = fc.constantFrom(...JOBS)
const panel = fc.constantFrom(...PANELS)
const panels = fc.subarray(PANELS, { minLength: 1, maxLength: 2 })
const cup = fc.constantFrom(...CUPS)
const gun = fc.constantFrom(...GUNS)
const zone = fc.constantFrom(...ZONES)
const sheet = fc.constantFrom(BASE, CLEAR)
const maybeOverride = fc.constantFrom({}, { override })

type Data = { type: string; data: object }
const command = <T extends object>(type: string, shape: { [K in keyof T]: fc.Arbitrary<T[K]> }) =>
  fc.record(shape).map((data): Data => ({ type, data }))

const mixing = fc
  .record({ cup, sheet, job: fc.option(job, { nil: undefined }) })
  .map(({ cup, sheet, job }): Data => {
    return {
      type: 'MixCup',
      data: { cup, sheet: sheet.sheet, totalMl: 200, ...(job ? { job } : {}) },
    }
  })

const adding = fc.record({ job, panel, zone }).map(
  (where): Data => ({
    type: 'AddPanel',
    data: {
      ...where,
      name: `Panel ${where.panel}`,
      operation: 'repair',
      route: ROUTE,
    },
  }),
)

const starting = fc
  .record({ panels, cup, gun: fc.option(gun, { nil: undefined }), maybeOverride })
  .map(
    ({ panels, cup, gun, maybeOverride }): Data => ({
      type: 'StartCoat',
      data: { panels, cup, ...(gun ? { gun } : {}), ...maybeOverride },
    }),
  )

const reading = command('ReadClimate', {
  zone,
  airC: fc.integer({ min: 14, max: 34 }),
  rh: fc.constantFrom(0.4, 0.55, 0.9),
})

const anyCommand: fc.Arbitrary<Data> = fc.oneof(
  { arbitrary: sheet.map((s): Data => ({ type: 'SaveSheet', data: { sheet: s } })), weight: 3 },
  { arbitrary: command('OpenJob', { job, title: fc.constant('Delivery van') }), weight: 3 },
  { arbitrary: adding, weight: 5 },
  { arbitrary: mixing, weight: 4 },
  { arbitrary: reading, weight: 4 },
  { arbitrary: starting, weight: 8 },
  { arbitrary: command('FinishCoat', { panels }), weight: 6 },
  { arbitrary: command('FinishCoat', { panels, cup }), weight: 2 },
  {
    arbitrary: command('InspectCoat', { panel, result: fc.constantFrom('matt', 'good') }),
    weight: 1,
  },
  { arbitrary: command('StartCure', { panels, mode: fc.constant('air') }), weight: 1 },
  {
    arbitrary: command('StartCure', {
      panels,
      mode: fc.constant('bake'),
      setC: fc.constantFrom(60, 80),
      override: fc.constant(override),
    }),
    weight: 1,
  },
  { arbitrary: command('EndCure', { panels }), weight: 1 },
  { arbitrary: command('PassPanel', { panel, override: fc.constant(override) }), weight: 1 },
  { arbitrary: command('CloseJob', { job, override: fc.constant(override) }), weight: 2 },
  { arbitrary: command('ReopenJob', { job }), weight: 2 },
  { arbitrary: command('PauseJob', { job }), weight: 1 },
  { arbitrary: command('ResumeJob', { job }), weight: 1 },
  { arbitrary: command('EmptyCup', { cup, how: fc.constant('used') }), weight: 1 },
  { arbitrary: command('PrintLabel', { cup }), weight: 1 },
  { arbitrary: command('LoadGun', { gun, cup }), weight: 1 },
  { arbitrary: command('CleanGun', { gun }), weight: 1 },
)

/** Anything, now or as a late fact. */
const plain = fc
  .record({
    minutes: fc.constantFrom(0, 0, 1, 5, 12, 40),
    said: anyCommand,
    lateMin: fc.constantFrom(0, 0, 0, 0, 3, 30, 20 * 60),
  })
  .map(
    ({ minutes, said, lateMin }): Step => ({
      minutes,
      what: `${JSON.stringify(said)} ${lateMin} min late`,
      make: (id, { now }) => {
        const when = lateMin === 0 ? {} : { at: now - lateMin * MINUTE, reason: 'typed later' }
        return { id, ...said, ...when }
      },
    }),
  )

const ringing = fc.constant<Step>({
  minutes: 5,
  what: 'ring',
  make: (id, { now, state }) => ({
    id,
    type: 'RingBell',
    data: { key: dueBells(state, now)[0]?.key ?? 'coatReady:nothing' },
  }),
})

/** A void of some entry that the state holds, or of one that there never was. */
const voiding = fc.nat({ max: 200 }).map(
  (nth): Step => ({
    minutes: 1,
    what: `void ${nth}`,
    make: (id, { state }) => {
      const entries = Object.values(state.things).flatMap((of) =>
        Object.values(of).flatMap((thing) => thing.entries),
      )
      const entry = entries[nth % Math.max(1, entries.length)]?.id ?? 'never.0'
      return { id, type: 'VoidEntry', data: { entry, reason: 'pressed by mistake' } }
    },
  }),
)

/** Nights and weeks, after which much is evicted. */
const resting = fc.constantFrom(14 * 60, 9 * 24 * 60).map(
  (minutes): Step => ({
    minutes,
    what: 'rest',
    make: (id) => ({ id, type: 'ReadClimate', data: { zone: 'booth', airC: 20, rh: 0.5 } }),
  }),
)

const panelIn = (jobId: string, panelId: string) => ({
  type: 'AddPanel',
  data: {
    job: jobId,
    panel: panelId,
    zone: 'booth',
    name: `Panel ${panelId}`,
    operation: 'repair',
    route: ROUTE,
  },
})

/** The first steps make work possible. */
const setUp: readonly Step[] = [
  { type: 'SaveSheet', data: { sheet: BASE } },
  { type: 'SaveSheet', data: { sheet: CLEAR } },
  { type: 'OpenJob', data: { job: JOBS[0], title: 'Delivery van, rear corner' } },
  panelIn('JJJJ2222', 'PPPP2222'),
  panelIn('JJJJ2222', 'PPPP3333'),
  { type: 'MixCup', data: { cup: 'CCCC2222', sheet: BASE.sheet, totalMl: 300 } },
  { type: 'MixCup', data: { cup: 'CCCC3333', sheet: CLEAR.sheet, totalMl: 300 } },
].map((said) => ({ minutes: 0, what: said.type, make: (id) => ({ id, ...said }) }))

export const anyHistory: fc.Arbitrary<readonly Step[]> = fc
  .array(
    fc.oneof(
      { arbitrary: plain, weight: 20 },
      { arbitrary: ringing, weight: 2 },
      { arbitrary: voiding, weight: 2 },
      { arbitrary: resting, weight: 1 },
    ),
    { minLength: 5, maxLength: 60, size: 'max' },
  )
  .map((steps) => [...setUp, ...steps])
