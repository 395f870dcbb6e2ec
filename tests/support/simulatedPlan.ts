import type { SimStage } from './simulatedSheets.ts'

/** What a simulated job is to be like. */

/** How a layer is sprayed. Ratios are of what the rules themselves want; 1 is enough. */
export type Layer = {
  between: number
  before: number
  /** Of the window, where the coat waits longer than its flash; 0 goes as soon as it may. */
  window: number
  cupAge: number
  activator: number
  reducer: number
  option: 'fits' | 'fast' | 'slow'
  airC: number
  rh: number
  /** The surface above the dew point; null: as warm as the air. */
  marginC: number | null
  pressure: number
  needleMm: number
  turns: number
  film: number
  coats: number
  isDropped: boolean
  /** From the day before, and what was done with it then. */
  stored: readonly string[] | null
  grit: number
}
export type Plan = {
  kind: 'repair' | 'plastic' | 'blend'
  layers: Record<SimStage, Layer>
  skip: readonly (
    | 'degrease'
    | 'tack'
    | 'isolate'
    | 'abrade'
    | 'guideCoat'
    | 'promoter'
    | 'blender'
  )[]
  cleanMin: number
  wetShare: number
  undercoat: number
  standing: number
  bake: number
  bakeC: number
  /** Moved so soon after the clear, of when it may be handled; null: after its bake. */
  handled: number | null
  gauge: number
  reach: readonly number[]
  clearFace: 'whole' | 'spot'
  /** The neighbor is sprayed as well: from the same cups, or its color from another mix. */
  neighbor: 'none' | 'sameCup' | 'otherMix'
  /** How long ago the filters were changed, of the time until they are due. */
  filterAge: number
}

/** Mulberry32: a small generator, so that a seed gives the same jobs everywhere. */
export function seeded(seed: number): () => number {
  let a = seed >>> 0
  return () => {
    a = (a + 0x6d2b79f5) >>> 0
    let t = Math.imul(a ^ (a >>> 15), 1 | a)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296
  }
}

/** A job on which everything is right, each figure somewhere inside its limits. */
export function soundPlan(random: () => number, kind: Plan['kind'] = 'repair'): Plan {
  const between = (from: number, to: number) => from + (to - from) * random()
  const airC = between(19.5, 24)
  const rh = between(0.35, 0.6)
  const layer = (coats: number): Layer => ({
    between: between(1.02, 1.5),
    before: between(1.02, 1.5),
    window: 0,
    cupAge: 0,
    activator: between(-0.015, 0.015),
    reducer: between(-0.015, 0.015),
    option: 'fits',
    airC,
    rh,
    marginC: null,
    pressure: between(0.96, 1.04),
    needleMm: 1.3,
    turns: 3,
    film: between(0.93, 1.08),
    coats,
    isDropped: true,
    stored: null,
    grit: 500,
  })
  return {
    kind,
    layers: {
      promoter: layer(1),
      primer: { ...layer(2), grit: 180 },
      blender: layer(1),
      base: layer(4),
      clear: layer(2),
    },
    skip: [],
    cleanMin: between(10, 14),
    wetShare: between(1.1, 1.5),
    undercoat: between(1.02, 1.3),
    standing: between(1.05, 1.4),
    bake: between(1.03, 1.2),
    bakeC: 61,
    handled: null,
    gauge: between(0.7, 0.95),
    reach: [10, 18, 26, 34],
    clearFace: 'whole',
    neighbor: 'none',
    filterAge: 0.4,
  }
}
