import type { Settings } from '../../machines/shop/settingsSchema.ts'
import { type Measure, plainUnit, type Unit, unitOf } from '../units/measure.ts'

/**
 * The unit of every number of the calculations, by the name of its field. Pure.
 */

const QUANTITIES: Readonly<Record<string, Measure>> = {
  atC: 'temperature',
  airC: 'temperature',
  surfaceC: 'temperature',
  fromC: 'temperature',
  toC: 'temperature',
  nowC: 'temperature',
  warmestC: 'temperature',
  dewPointC: 'temperature',
  marginC: 'difference',
  totalMl: 'volume',
  cupMl: 'volume',
  lossMl: 'volume',
  volumeMl: 'volume',
  ml: 'volume',
  cutOutKpa: 'pressure',
  needKpa: 'pressure',
  rh: 'fraction',
  rhRef: 'fraction',
  solids: 'fraction',
  transfer: 'fraction',
  volatile: 'fraction',
  water: 'fraction',
  exempt: 'fraction',
  share: 'fraction',
}

const UNITS: Readonly<Record<string, string>> = {
  minutes: 'min',
  atMin: 'min',
  endsAtMin: 'min',
  sprayMinPerPanel: 'min',
  mixAtMin: 'min',
  lastCoatAtMin: 'min',
  livesUntilMin: 'min',
  drawdownMin: 'min',
  recoverMin: 'min',
  densities: 'g/mL',
  densityGPerMl: 'g/mL',
  exemptDensity: 'g/mL',
  stepG: 'g',
  pouredG: 'g',
  g: 'g',
  scaleG: 'g',
  targetG: 'g',
  addG: 'g',
  totalG: 'g',
  errorPct: '%',
  thinnerPct: '%',
  areaM2: 'm²',
  spreadM2PerL: 'm²/L',
  dryUmPerCoat: 'µm',
  wetUm: 'µm',
  dryUm: 'µm',
  base: 'g/L',
  mid: 'g/L',
  clear: 'g/L',
  gPerL: 'g/L',
  regulatoryGPerL: 'g/L',
  actualGPerL: 'g/L',
  receiverL: 'L',
  freeAirLpm: 'L/min',
  gunLpm: 'L/min',
  balanceLpm: 'L/min',
  seconds: 's',
  mm2PerS: 'mm²/s',
}

/** @param units the shop's choice */
export const unitFor =
  (units: Settings['units']) =>
  (key: string): Unit => {
    const quantity = QUANTITIES[key]
    return quantity === undefined ? plainUnit(UNITS[key] ?? '') : unitOf(quantity, units)
  }
