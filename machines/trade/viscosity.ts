import { above0, fields, oneOf } from '../accept.ts'
import { calculator } from './calculator.ts'

/** A flow cup: its equation and the times its standard trusts it for. */
type FlowCup = {
  readonly mm2PerS: (seconds: number) => number
  readonly fromS: number
  readonly toS: number
}

const ford = (k: number, c: number, fromS = 20): FlowCup => ({
  mm2PerS: (t) => k * (t - c),
  fromS,
  toS: 100,
})
const iso = (a: number, b: number, fromS = 30, toS = 100): FlowCup => ({
  mm2PerS: (t) => a * t - b / t,
  fromS,
  toS,
})

const CUPS = {
  'Ford 1': ford(0.49, 35, 55),
  'Ford 2': ford(1.44, 18, 40),
  'Ford 3': ford(2.31, 6.58),
  'Ford 4': ford(3.85, 4.49),
  'Ford 5': ford(12.1, 2),
  'ISO 3': iso(0.443, 200),
  'ISO 4': iso(1.37, 200),
  'ISO 5': iso(3.28, 220),
  'ISO 6': iso(6.9, 570),
  'DIN 4': iso(4.57, 452, 25, 150),
} as const satisfies Record<string, FlowCup>

export type CupName = keyof typeof CUPS
export const cupNames = Object.keys(CUPS) as readonly CupName[]

/**
 * Kinematic viscosity from a flow cup. In: the cup and its flow time in seconds. Out: mm²/s, 0
 * where the time is below what the equation can tell, and whether the time is in the cup's range.
 */
export const viscosity = calculator({
  name: 'viscosity',
  schema: fields({ cup: oneOf(cupNames), seconds: above0(1000, 's') }),
  about: {
    formula: 'Ford: K (t − c). ISO and DIN: A t − B / t',
    units: 'seconds; mm²/s (cSt); Ford at 25 °C, ISO at 23 °C',
    source:
      'ASTM D1200, ISO 2431 and DIN 53211 (withdrawn), as public transcriptions give them; ISO 5 from one source only',
    caution:
      'Out of range choose another cup. Warm material flows faster: measure at the cup’s temperature.',
  },
  run: ({ cup, seconds }) => {
    const { mm2PerS, fromS, toS } = CUPS[cup]
    return {
      mm2PerS: Math.max(0, mm2PerS(seconds)),
      inRange: seconds >= fromS && seconds <= toS,
    }
  },
})
