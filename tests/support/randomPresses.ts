import fc from 'fast-check'
import { CLEAR_CUP, DOOR, JOB, SEALER_CUP, SILL, WING } from './given.ts'
import { BASE, CLEAR, SEALER } from './sheets.ts'

/** What may be pressed on kiosks that are offline, about two panels and the cups beside them. */

const GUN = 'gun-1'
/** A panel and a job that are not known before somebody adds and opens them. */
const LATE_JOB = 'PPPP2222'
const LATE_CUPS = ['FFFF2222', 'GGGG2222'] as const
const CHILDREN = ['HHHH2222', 'KKKK2222'] as const
const CUPS = [CLEAR_CUP, SEALER_CUP, ...LATE_CUPS, ...CHILDREN] as const

const panel = fc.constantFrom(DOOR, WING, SILL)
const panels = fc.constantFrom([DOOR], [WING], [DOOR, WING], [SILL], [DOOR, SILL])
const cup = fc.constantFrom(...CUPS)
const maybe = <T>(of: fc.Arbitrary<T>) => fc.option(of, { nil: undefined, freq: 2 })

/** The end of a coat on some panels. */
const finish = (on: fc.Arbitrary<readonly string[]>) => ({
  weight: 4,
  arbitrary: fc.record({ type: fc.constant('FinishCoat'), panels: on, cup: maybe(cup) }),
})

/** What may be pressed beside that. A cup is mixed or poured once, by one kiosk: ids are random. */
const start = {
  weight: 4,
  arbitrary: fc.record({
    type: fc.constant('StartCoat'),
    panels,
    cup,
    gun: maybe(fc.constant(GUN)),
  }),
}
const others = [
  start,
  {
    weight: 2,
    arbitrary: fc.record({
      type: fc.constant('MixCup'),
      cup: fc.constantFrom(...LATE_CUPS),
      sheet: fc.constantFrom(CLEAR.sheet, SEALER.sheet, BASE.sheet),
      activator: fc.boolean(),
      ofJob: fc.boolean(),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      type: fc.constant('PourCup'),
      cup: fc.constantFrom(...CHILDREN),
      from: fc.uniqueArray(cup, { minLength: 1, maxLength: 2 }),
      ml: maybe(fc.constant(60)),
    }),
  },
  { weight: 2, arbitrary: fc.record({ type: fc.constant('LoadGun'), cup }) },
  { weight: 1, arbitrary: fc.record({ type: fc.constant('CleanGun') }) },
  { weight: 1, arbitrary: fc.record({ type: fc.constant('EmptyCup'), cup }) },
  { weight: 1, arbitrary: fc.record({ type: fc.constant('DoPrepStep'), panel }) },
  { weight: 1, arbitrary: fc.record({ type: fc.constant('AbradePanel'), panel }) },
  { weight: 1, arbitrary: fc.record({ type: fc.constant('MovePanel'), panel }) },
  { weight: 1, arbitrary: fc.record({ type: fc.constant('InspectCoat'), panel }) },
  {
    weight: 1,
    arbitrary: fc.record({ type: fc.constant('StartCure'), panels, bakes: fc.boolean() }),
  },
  {
    weight: 1,
    arbitrary: fc.record({ type: fc.constant('AddPanel'), job: fc.constantFrom(JOB, LATE_JOB) }),
  },
  { weight: 1, arbitrary: fc.record({ type: fc.constant('OpenJob') }) },
  {
    weight: 1,
    arbitrary: fc.record({
      type: fc.constant('ChangeSettings'),
      perM2: fc.constantFrom(0.5, 1, 4),
    }),
  },
]
export const press = fc.oneof(finish(fc.constantFrom([DOOR], [WING])), ...others)
/** With passes of two panels, whose finishes are spread over the time that each takes. */
export const pressOfPass = fc.oneof(finish(panels), ...others)
/** Several coats that begin and end within the time of one pass, as no painter is quick enough to spray them. */
export const pressOfHaste = fc.oneof(
  { ...finish(panels), weight: 18 },
  { ...start, weight: 12 },
  ...others,
)

/** A press whose data is as it is sent. */
const sent = (type: string, data: Record<string, fc.Arbitrary<unknown>>) =>
  fc.record({ type: fc.constant(type), data: fc.record(data) })
const own = fc.constantFrom(DOOR, WING)
const ofOne = own.map((id) => [id])
const kind = fc.constantFrom('full', 'light', 'drop')
const ofJob = { job: fc.constant(JOB) }

/** With what is done by hand, seen, measured and decided of panels, of cups and of their job. */
export const pressOfHand = fc.oneof(
  { weight: 3, arbitrary: pressOfPass },
  sent('FinishCoat', { panels: ofOne, cup, kind }),
  sent('FinishCoat', { panels, cup, ordered: fc.boolean(), usedMl: fc.constant(60) }),
  sent('ReachCover', { panel: own }),
  sent('ReachCover', { panel: own, override: fc.constant({ reason: 'one is enough' }) }),
  sent('SkipStep', { panel: own, step: fc.constantFrom(1, 2, 3), reason: fc.constant('none') }),
  sent('SendBackPanel', {
    panel: own,
    toStep: fc.constantFrom(0, 1, 2),
    done: fc.constantFrom(0, 1),
    reason: fc.constant('run'),
  }),
  sent('DenibPanel', { panel: own, grit: fc.constant(800) }),
  sent('BreakOffCoat', { panels: ofOne }),
  sent('ReadPart', { panel: own, partC: fc.constantFrom(22, 61) }),
  sent('ReadFilm', { panel: own, um: fc.constant(80), method: fc.constant('wetComb') }),
  sent('InspectCoat', { panel: own, result: fc.constantFrom('matt', 'notYet') }),
  sent('CheckCup', { cup, done: fc.constantFrom(['stirred'], ['strained']) }),
  sent('MeasureCup', { cup, leftMl: fc.constantFrom(20, 90) }),
  sent('MoveCup', { cup, zone: fc.constantFrom('bay', 'booth') }),
  sent('RinseGun', { gun: fc.constant(GUN) }),
  { weight: 2, arbitrary: sent('PourBack', { gun: fc.constant(GUN), cup }) },
  sent('PauseJob', ofJob),
  sent('ResumeJob', ofJob),
)
export type Pressed = Readonly<Record<string, unknown>> & { readonly type: string }

export function dataOf({
  type,
  data,
  panel: id,
  panels,
  cup: of,
  from,
  ml,
  gun,
  sheet,
  activator,
  ofJob,
  perM2,
  job,
  bakes,
}: Pressed): object {
  const some = (key: string, value: unknown) => (value === undefined ? {} : { [key]: value })
  if (data !== undefined) return data as object
  switch (type) {
    case 'StartCoat':
      return { panels, cup: of, ...some('gun', gun) }
    case 'FinishCoat':
      return { panels, ...some('cup', of) }
    case 'MixCup':
      return {
        cup: of,
        sheet,
        totalMl: 300,
        ...(ofJob === true ? { job: JOB } : {}),
        ...(activator === true && sheet === CLEAR.sheet ? { activator: 'slow' } : {}),
      }
    case 'PourCup':
      return { cup: of, from: (from as string[]).map((cup) => ({ cup, ...some('ml', ml) })) }
    case 'OpenJob':
      return { job: LATE_JOB, title: 'Trailer' }
    case 'AddPanel':
      return {
        job,
        panel: SILL,
        name: 'Sill',
        operation: 'repair',
        areaM2: 0.75,
        route: [{ stage: 'sealer', sheet: SEALER.sheet }, { stage: 'sand' }, { stage: 'clear' }],
      }
    case 'ChangeSettings':
      return { limits: { sprayMinPerM2: perM2 } }
    case 'StartCure':
      return bakes ? { panels, mode: 'bake', setC: 65 } : { panels, mode: 'air' }
    case 'LoadGun':
      return { gun: GUN, cup: of }
    case 'CleanGun':
      return { gun: GUN, solvent: 'gun wash' }
    case 'EmptyCup':
      return { cup: of, how: 'used' }
    case 'DoPrepStep':
      return { panel: id, step: 1, grit: 500 }
    case 'AbradePanel':
      return { panel: id, grit: 800 }
    case 'MovePanel':
      return { panel: id, zone: 'bay' }
    default:
      return { panel: id, result: 'good' }
  }
}
