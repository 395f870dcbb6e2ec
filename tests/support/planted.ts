import { type Cause, causesOf, DEFECTS, type Defect } from '../../machines/trace/causes.ts'
import { type Ranked, STRENGTHS } from '../../machines/trace/rank.ts'
import { isKept, type Kept, type Signal } from '../../machines/trace/signals.ts'
import { causesIn, traced } from '../../machines/trace/trace.ts'
import { SimulatedJob } from './simulatedJob.ts'
import { type Layer, type Plan, seeded, soundPlan } from './simulatedPlan.ts'
import type { SimStage } from './simulatedSheets.ts'

/** Jobs in which one thing or two went wrong, and what the trace makes of them. */

export type Severity = 0 | 1 | 2
const SEVERITIES: readonly Severity[] = [0, 1, 2]

/** Which layer is planted in, by the layers that the cause acts in. */
function layerOf({ layers, id }: Pick<Cause, 'layers' | 'id'>, plan: Plan): SimStage {
  if (layers === 'under') return plan.kind === 'plastic' ? 'promoter' : 'primer'
  const isOfBase = layers === 'color' || layers === 'promoter' || OF_BASE.includes(id)
  return isOfBase ? 'base' : 'clear'
}
/** What is about a mix that is kept over a night, or the paper under the color. */
const OF_BASE: readonly Signal[] = [
  'gritCoarse',
  'gritFine',
  'notStirred',
  'notStrained',
  'cardMissing',
]

type Put = (plan: Plan, layer: Layer, at: Severity) => void
const of =
  <K extends keyof Layer>(key: K, values: readonly Layer[K][]): Put =>
  (_, layer, at) => {
    layer[key] = values[at] as Layer[K]
  }
const ofPlan =
  <K extends keyof Plan>(key: K, values: readonly Plan[K][]): Put =>
  (plan, _, at) => {
    plan[key] = values[at] as Plan[K]
  }
const skip = (what: Plan['skip'][number]): Put => ofPlan('skip', [[what], [what], [what]])
/** A wrong speed: so far outside the range of what was chosen. */
const speed =
  (option: 'fast' | 'slow', airs: readonly number[]): Put =>
  (plan, layer, at) => {
    of('option', [option, option, option])(plan, layer, at)
    layer.airC = airs[at] ?? 20
  }

const kept = (...done: readonly string[]) => [done, done, done]

/** How each signal is brought about; mild, clear, severe. */
const PUT: Partial<Record<Kept, Put>> = {
  flashShort: (plan, layer, at) => {
    of('between', [0.82, 0.65, 0.4])(plan, layer, at)
    // Between coats means two of them: a promoter has one otherwise, and nothing would be planted.
    layer.coats = Math.max(2, layer.coats)
  },
  nextShort: of('before', [0.82, 0.65, 0.4]),
  windowOver: of('window', [1.08, 1.3, 1.7]),
  standingShort: ofPlan('standing', [0.8, 0.5, 0.2]),
  undercoatShort: ofPlan('undercoat', [0.82, 0.65, 0.4]),
  surfaceWet: ofPlan('wetShare', [0.82, 0.65, 0.4]),
  cupOld: of('cupAge', [1.02, 1.18, 1.5]),
  activatorShort: of('activator', [-0.07, -0.12, -0.25]),
  activatorOver: of('activator', [0.07, 0.12, 0.25]),
  reducerOver: of('reducer', [0.07, 0.12, 0.25]),
  tooFast: speed('fast', [20, 22.5, 25.4]),
  tooSlow: speed('slow', [24.5, 21.5, 18.6]),
  cold: of('airC', [12.5, 10.5, 8]),
  hot: of('airC', [34.5, 36.5, 39]),
  humid: (plan, layer, at) => {
    of('rh', [0.82, 0.885, 0.955])(plan, layer, at)
    layer.marginC = 8.2
  },
  dewNear: of('marginC', [4.4, 2.2, -0.5]),
  pressureLow: of('pressure', [0.87, 0.78, 0.65]),
  pressureHigh: of('pressure', [1.13, 1.22, 1.35]),
  needleBig: of('needleMm', [1.4, 1.5, 1.7]),
  needleSmall: of('needleMm', [1.2, 1.1, 0.9]),
  turnsOpen: of('turns', [3.6, 4.1, 4.6]),
  turnsClosed: of('turns', [2.4, 1.9, 1.4]),
  filmHeavy: of('film', [1.25, 1.4, 1.6]),
  filmThin: of('film', [0.76, 0.62, 0.45]),
  filmOver: ofPlan('gauge', [1.15, 1.35, 1.6]),
  coatsFew: (_, layer, at) => {
    layer.coats -= at === 2 ? 2 : 1
    layer.isDropped = true
  },
  coatsMany: (_, layer, at) => {
    layer.coats += at === 2 ? 2 : 1
  },
  noDropCoat: of('isDropped', [false, false, false]),
  bakeShort: ofPlan('bake', [0.86, 0.78, 0.6]),
  bakeHot: ofPlan('bakeC', [68, 73, 80]),
  cleanSkipped: skip('degrease'),
  tackSkipped: skip('tack'),
  isolatorSkipped: skip('isolate'),
  promoterSkipped: skip('promoter'),
  scuffSkipped: skip('abrade'),
  guideCoatSkipped: skip('guideCoat'),
  cleanLong: ofPlan('cleanMin', [45, 85, 140]),
  gritCoarse: of('grit', [240, 240, 180]),
  gritFine: of('grit', [1000, 1000, 1500]),
  notStirred: of('stored', kept('strained', 'cardSprayed')),
  notStrained: of('stored', kept('stirred', 'cardSprayed')),
  cardMissing: of('stored', kept('stirred', 'strained')),
  otherMix: ofPlan('neighbor', ['otherMix', 'otherMix', 'otherMix']),
  blendShort: ofPlan('reach', [
    [20, 20, 20, 20],
    [20, 20, 20, 20],
    [20, 20, 20, 20],
  ]),
  noWetBed: skip('blender'),
  clearOffEdge: ofPlan('clearFace', ['spot', 'spot', 'spot']),
  filters: ofPlan('filterAge', [1.2, 1.7, 2.3]),
  handledEarly: ofPlan('handled', [0.82, 0.65, 0.3]),
}

/** On what a cause can be planted. */
const kindFor = (defect: Defect, id: Signal): Plan['kind'] => {
  if (defect === 'plasticFlaking' || id === 'promoterSkipped') return 'plastic'
  // Only what has no pot life is kept over a night.
  if (defect === 'pinholes' && id === 'notStirred') return 'plastic'
  if (id === 'blendShort' || id === 'noWetBed' || defect === 'halo') return 'blend'
  return 'repair'
}

export type Case = {
  readonly defect: Defect
  readonly planted: readonly Signal[]
  readonly severity: Severity | null
  readonly plan: Plan
}

function planOf(
  defect: Defect,
  causes: readonly Cause[],
  at: Severity,
  random: () => number,
): Plan {
  const kinds = causes.map(({ id }) => kindFor(defect, id))
  const plan = soundPlan(random, kinds.find((kind) => kind !== 'repair') ?? 'repair')
  for (const cause of causes) {
    const put = isKept(cause.id) ? PUT[cause.id] : undefined
    if (!put) throw new Error(`Nobody has said how to plant ${cause.id}.`)
    put(plan, plan.layers[layerOf(cause, plan)], at)
  }
  return plan
}

/** The three most usual causes of a defect that a log can show. */
const topOf = (defect: Defect): Cause[] =>
  causesOf(defect)
    .filter(({ id }) => isKept(id))
    .slice(0, 3)

/** Each defect with each of its three most usual causes, mild, clear and severe. */
export function singleCases(seed: number): Case[] {
  const random = seeded(seed)
  return DEFECTS.flatMap((defect) =>
    topOf(defect).flatMap((cause) =>
      SEVERITIES.map((severity) => ({
        ...{ defect, planted: [cause.id], severity },
        plan: planOf(defect, [cause], severity, random),
      })),
    ),
  )
}

const pick = <T>(items: readonly T[], random: () => number): T =>
  items[Math.floor(random() * items.length)] as T

/** Jobs with two causes of one defect, both clear or severe. */
export function doubleCases(seed: number, count: number): Case[] {
  const random = seeded(seed + 1)
  return Array.from({ length: count }, () => {
    for (;;) {
      const defect = pick(DEFECTS, random)
      const two = topOf(defect)
        .toSorted(() => random() - 0.5)
        .slice(0, 2)
      const [one, other] = two
      // One thing cannot be done both ways: two speeds, two prints of the same gun.
      if (!one || !other || clash(one.id, other.id)) continue
      const severity = pick([1, 2] as const, random)
      const plan = planOf(defect, two, severity, random)
      return { defect, planted: two.map(({ id }) => id), severity, plan }
    }
  })
}

const AIR: readonly Signal[] = ['cold', 'hot', 'tooFast', 'tooSlow', 'humid', 'dewNear']
const SKIPS: readonly Signal[] = [
  'cleanSkipped',
  'tackSkipped',
  'isolatorSkipped',
  'scuffSkipped',
  'cleanLong',
  'surfaceWet',
]
/** A window that was missed by hours leaves no flash short, and a coat too few cannot be dropped. */
const clash = (a: Signal, b: Signal): boolean => {
  const both = (group: readonly Signal[]) => group.includes(a) && group.includes(b)
  return (
    both(AIR) ||
    both(SKIPS) ||
    both(['windowOver', 'nextShort']) ||
    both(['standingShort', 'handledEarly']) ||
    both(['bakeShort', 'handledEarly']) ||
    both(['cleanLong', 'windowOver'])
  )
}

export function cleanCases(seed: number, count: number): Case[] {
  const random = seeded(seed + 2)
  return Array.from({ length: count }, () => {
    const kind = pick(['repair', 'plastic', 'blend'] as const, random)
    return {
      defect: pick(DEFECTS, random),
      planted: [],
      severity: null,
      plan: soundPlan(random, kind),
    }
  })
}

export type Told = {
  readonly of: Case
  /** Every cause in its order; those that are shown as one, the leading one first. */
  readonly order: readonly (Signal | 'notVisible')[]
  readonly top: Ranked | undefined
  readonly decides: boolean
}

/** Plays a case through the rules and traces it. */
export function told(of: Case): Told {
  const job = new SimulatedJob(of.plan)
  const { causes, decides } = causesIn(traced(job.entries), {
    defect: of.defect,
    panels: [job.panel],
  })
  const order = causes.flatMap(({ id, together }) => [id, ...together])
  return { of, order, top: causes[0], decides }
}

/** Of what was planted: found first, and found among the first three. */
export type Score = { readonly of: number; readonly first: number; readonly three: number }

export function scoreOf(all: readonly Told[]): Score {
  const isFirst = ({ of: { planted }, order }: Told) => planted.some((id) => order[0] === id)
  const isIn = ({ of: { planted }, order }: Told) =>
    planted.every((id) => order.slice(0, 3).includes(id))
  return { of: all.length, first: all.filter(isFirst).length, three: all.filter(isIn).length }
}

export const isStrong = ({ top }: Told): boolean => top?.strength === STRENGTHS.at(-1)

/** A job in which one signal is as bad as it gets, on a panel of a kind that can show it. */
export function jobShowing(signal: Kept): SimulatedJob {
  for (const defect of DEFECTS) {
    const cause = causesOf(defect).find(({ signals }) => signals.includes(signal))
    const put = PUT[signal]
    if (!cause || !put) continue
    // A blend is cleared to its edges, or its route is not taken.
    const kind = signal === 'clearOffEdge' ? 'repair' : kindFor(defect, signal)
    const plan = soundPlan(seeded(1), kind)
    put(plan, plan.layers[layerOf({ layers: cause.layers, id: signal }, plan)], 2)
    return new SimulatedJob(plan)
  }
  throw new Error(`Nobody has said how to plant ${signal}, or no cause names it.`)
}
