import * as v from 'valibot'
import { above0, duty, fields, number } from '../accept.ts'
import { calculator, crossChecked } from './calculator.ts'

const ATMOSPHERE_KPA = 101.325

/** A guess, and no maker's figure: a piston compressor that runs more of the time than this gets too hot. */
export const PISTON_DUTY = 0.6

/**
 * Whether a compressor keeps up with a gun. In: receiver L, free air L/min of compressor and gun,
 * gauge kPa at cut-out and at least needed at the gun; the share of the time that the compressor may run (1 without
 * it), which its free air is times; what the hose takes, kPa (0 without it), which the receiver must hold above the
 * need. t = V (P1 - P2) / (Patm (S - C)), S demand and C supply, of the DOE/ORNL MEASUR documentation: C is free
 * air x duty, P2 is need + hose. Out: L/min over or short, minutes until the receiver is
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
      duty: v.optional(duty),
      hoseDropKpa: v.optional(number(0, 5000, 'kPa')),
    }),
    ({ cutOutKpa, needKpa, hoseDropKpa = 0 }) => {
      if (hoseDropKpa >= cutOutKpa)
        return { path: ['hoseDropKpa'], code: 'belowCutOut', params: { kPa: cutOutKpa } }
      if (needKpa + hoseDropKpa < cutOutKpa) return null
      const kPa = cutOutKpa - hoseDropKpa
      const hose = hoseDropKpa > 0 ? { hoseDropKpa } : {}
      return { path: ['needKpa'], code: 'belowCutOut', params: { kPa, ...hose } }
    },
  ),
  about: {
    formula:
      'stored free air = receiver × (cut-out − needed − hose) / 101.325; compressor = free air × share of the time; draw-down = stored / (gun − compressor); recovery = stored / compressor',
    units: 'L, L/min of free air, kPa gauge, minutes',
    source: 'sizing sheets and the DOE/ORNL MEASUR documentation: t = V (P1 − P2) / (Patm (S − C))',
    caution:
      'Use the free air that a compressor delivers, not its displacement, which is more. Never go above the rated pressure of receiver, hose and gun.',
  },
  run: ({ receiverL, freeAirLpm, gunLpm, cutOutKpa, needKpa, duty = 1, hoseDropKpa = 0 }) => {
    const supplyLpm = freeAirLpm * duty
    const balanceLpm = supplyLpm - gunLpm
    const storedL = (receiverL * (cutOutKpa - needKpa - hoseDropKpa)) / ATMOSPHERE_KPA
    const sustained = balanceLpm >= 0
    return {
      balanceLpm,
      sustained,
      drawdownMin: sustained ? null : storedL / -balanceLpm,
      recoverMin: storedL / supplyLpm,
    }
  },
})
