import type { CalculatorName } from '../../machines/trade/registry.ts'

const points = [{ atC: 20, minutes: 30 }]
const component = {
  parts: 2,
  densityGPerMl: 1,
  volatile: 0.6,
  water: 0.2,
  exempt: 0.1,
  exemptDensity: 0.8,
}

/** One sound input for each name, every optional field given. */
export const soundInputs: Record<CalculatorName, Record<string, unknown>> = {
  interval: { kind: 'notAfter', points, atC: 25 },
  clock: {
    kind: 'notBefore',
    points,
    readings: [{ atMin: 5, airC: 22, rh: 0.5 }],
    waterborne: { rhRef: 0.5 },
  },
  pour: {
    ratio: '2:1',
    by: 'mass',
    totalMl: 300,
    densities: [1.2, 1],
    stepG: 0.1,
    percentOf: 'base',
  },
  overPour: {
    ratio: '2:1',
    by: 'volume',
    totalMl: 300,
    densities: [1.2, 1],
    stepG: 0.1,
    percentOf: 'sum',
    pouredG: [10, 200],
    cupMl: 600,
  },
  quantity: { areaM2: 2, coats: 2, dryUmPerCoat: 30, solids: 0.5, transfer: 0.6, lossMl: 40 },
  film: { wetUm: 100, solids: 0.5, thinnerPct: 10 },
  dewPoint: { airC: 20, rh: 0.5, surfaceC: 18 },
  voc: { components: [component] },
  vocStages: { base: 500, mid: [450], clear: 400 },
  colour: { panel: [50, 1, 2], card: [51, 1, 2] },
  air: { receiverL: 100, freeAirLpm: 200, gunLpm: 300, cutOutKpa: 800, needKpa: 400 },
  viscosity: { cup: 'ISO 4', seconds: 40 },
  activator: { options: [{ name: 'slow', fromC: 20, toC: 30 }], nowC: 22, warmestC: 26 },
  cupPlan: { coats: 2, sprayMinPerPanel: 4, panels: 3, flash: points, potLife: points, airC: 20 },
}
