import { above0, fields, number } from '../accept.ts'
import { calculator, crossChecked } from './calculator.ts'

const ATMOSPHERE_KPA = 101.325

/**
 * Whether a compressor keeps up with a gun. In: receiver L, free air L/min of compressor and gun,
 * gauge kPa at cut-out and at least needed. Out: L/min over or short, minutes until the receiver is
 * down (null when it never is), minutes to fill it again with the gun off.
 */
export const air = calculator({
  name: 'air',
  schema: crossChecked(
    fields({
      receiverL: above0(100_000, 'L'),
      freeAirLpm: number(1, 100_000, 'L/min'),
      gunLpm: above0(100_000, 'L/min'),
      cutOutKpa: above0(5000, 'kPa gauge'),
      needKpa: number(0, 5000, 'kPa gauge'),
    }),
    ({ cutOutKpa, needKpa }) =>
      needKpa < cutOutKpa
        ? null
        : { path: ['needKpa'], code: 'belowCutOut', params: { kPa: cutOutKpa } },
  ),
  about: {
    formula:
      'stored free air = receiver × (cut-out − needed) / 101.325; draw-down = stored / (gun − compressor); recovery = stored / compressor',
    units: 'L, L/min of free air, kPa gauge, minutes',
    source: 'sizing sheets and the DOE/ORNL MEASUR documentation: t = V (P1 − P2) / (Patm (S − C))',
    caution:
      'Use the free air that a compressor delivers, not its displacement, which is more. Never go above the rated pressure of receiver, hose and gun.',
  },
  run: ({ receiverL, freeAirLpm, gunLpm, cutOutKpa, needKpa }) => {
    const balanceLpm = freeAirLpm - gunLpm
    const storedL = (receiverL * (cutOutKpa - needKpa)) / ATMOSPHERE_KPA
    const sustained = balanceLpm >= 0
    return {
      balanceLpm,
      sustained,
      drawdownMin: sustained ? null : storedL / -balanceLpm,
      recoverMin: storedL / freeAirLpm,
    }
  },
})
