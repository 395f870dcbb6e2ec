import { describe, expect, test } from 'vitest'
import reference from '../../reference/air.json'
import { answer, refusal } from './asking.ts'

const L_PER_FT3 = 28.316846592
const KPA_PER_PSI = 6.894757293
const LPM_PER_CFM = L_PER_FT3

const imperial = (
  volumeFt3: number,
  supply: number,
  demand: number,
  high: number,
  low: number,
  more: object = {},
) =>
  answer('air', {
    receiverL: volumeFt3 * L_PER_FT3,
    freeAirLpm: supply * LPM_PER_CFM,
    gunLpm: demand * LPM_PER_CFM,
    cutOutKpa: high * KPA_PER_PSI,
    needKpa: low * KPA_PER_PSI,
    ...more,
  })

describe('compressed air', () => {
  test('183.75 ft³ from 100 to 60 psig last 5 min at 350 on 250 cfm (published sizing sheet)', () => {
    const [sheet] = reference.drawdown.examples
    const { drawdownMin } = imperial(183.75, 250, 350, 100, 60)
    // The sheet takes the atmosphere as 14.7 psia.
    expect(Math.abs((drawdownMin as number) / (sheet?.minutes as number) - 1)).toBeLessThan(0.001)
  })

  test('a compressor that may run 60 % of the time, or a hose that takes 10 psi, comes to the same sheet', () => {
    const [sheet] = reference.drawdown.examples
    const resting = imperial(183.75, 250 / 0.6, 350, 100, 60, { duty: 0.6 })
    const hose = imperial(183.75, 250, 350, 100, 50, { hoseDropKpa: 10 * KPA_PER_PSI })
    const plain = imperial(183.75, 250, 350, 100, 60)
    for (const { drawdownMin, recoverMin } of [resting, hose]) {
      expect(Math.abs((drawdownMin as number) / (sheet?.minutes as number) - 1)).toBeLessThan(0.001)
      expect(recoverMin).toBeCloseTo(plain.recoverMin, 9)
    }
    expect(imperial(2, 5, 4, 120, 60, { duty: 0.6 })).toMatchObject({ sustained: false })
    expect(imperial(2, 5, 4, 120, 60, { duty: 1, hoseDropKpa: 0 })).toEqual(
      imperial(2, 5, 4, 120, 60),
    )
  })

  test('a 60 gal tank from 125 to 90 psig lasts 4.77 min at 12 on 8 cfm (derived from the same)', () => {
    const tank = reference.drawdown.examples[1]
    const { drawdownMin } = imperial(tank?.volumeFt3 as number, 8, 12, 125, 90)
    expect(Math.abs((drawdownMin as number) / (tank?.minutes as number) - 1)).toBeLessThan(0.001)
  })

  test('what is stored is the absolute pressure ratio’s difference (ORNL unit tests: 7.803 and 10.524)', () => {
    const { at100psig, at140psig } = reference.compressionRatio
    const { recoverMin } = imperial(10, 10, 1, 140, 100)
    expect(Math.abs(recoverMin / (at140psig - at100psig) - 1)).toBeLessThan(0.001)
  })

  test('a gun of 3.5 to 3.9 cfm on 5 to 6 is sustained, one of 12 is not (common practice, no source)', () => {
    for (const supply of [5, 6]) {
      for (const gun of [3.5, 3.9]) {
        const kept = imperial(2, supply, gun, 120, 60)
        expect(kept).toMatchObject({ sustained: true, drawdownMin: null })
        expect(kept.balanceLpm).toBeCloseTo((supply - gun) * LPM_PER_CFM, 9)
      }
      const short = imperial(2, supply, 12, 120, 60)
      expect(short.sustained).toBe(false)
      expect(short.drawdownMin).toBeGreaterThan(0)
    }
  })

  test('a gun that takes just what comes is sustained', () => {
    expect(imperial(2, 5, 5, 120, 60)).toMatchObject({ sustained: true, balanceLpm: 0 })
  })

  test('a pressure needed above the cut-out, no receiver and a compressor of nothing are refused', () => {
    const given = { receiverL: 50, freeAirLpm: 150, gunLpm: 300, cutOutKpa: 800, needKpa: 400 }
    expect(refusal('air', { ...given, needKpa: 900 })).toMatchObject({
      field: 'needKpa',
      message: "needKpa: 900 won't work. Use a pressure below the cut-out, 800 kPa.",
    })
    expect(refusal('air', { ...given, hoseDropKpa: 400 })).toMatchObject({
      field: 'needKpa',
      message:
        "needKpa: 400 won't work. Use a pressure below the cut-out less what the hose takes, 400 kPa.",
    })
    expect(refusal('air', { ...given, hoseDropKpa: 800 }).field).toBe('hoseDropKpa')
    for (const duty of [0, 1.1]) expect(refusal('air', { ...given, duty }).field).toBe('duty')
    expect(refusal('air', { ...given, receiverL: 0 }).field).toBe('receiverL')
    expect(refusal('air', { ...given, freeAirLpm: 0 }).field).toBe('freeAirLpm')
    expect(refusal('air', { ...given, gunLpm: -1 }).field).toBe('gunLpm')
    expect(refusal('air', { ...given, cutOutKpa: 'high' }).field).toBe('cutOutKpa')
  })
})
