import { describe, expect, test } from 'vitest'
import { PATTERNS } from '../../kiosk/bells/sound/patterns.ts'
import { pinkNoise, soundingDb } from '../../kiosk/bells/sound/testSignal.ts'

/** The steady signal by which the level is set, as a measuring microphone would hear it. */

const RATE = 16_000

/** Of a seeded generator, so that a failure comes again (Numerical Recipes' linear congruence). */
function seeded(seed: number): () => number {
  let state = seed
  return () => {
    state = (Math.imul(1_664_525, state) + 1_013_904_223) >>> 0
    return state / 2 ** 32
  }
}
const db = (power: number) => 10 * Math.log10(power)
const power = (samples: ArrayLike<number>): number =>
  Array.from(samples).reduce((sum, s) => sum + s * s, 0) / samples.length

/** Power of the k-th line by Goertzel's recurrence. */
function line(samples: Float32Array, k: number): number {
  const twice = 2 * Math.cos((2 * Math.PI * k) / samples.length)
  let before = 0
  let last = 0
  for (const sample of samples) {
    const next = sample + twice * last - before
    before = last
    last = next
  }
  return (last * last + before * before - twice * last * before) / samples.length ** 2
}

/** Power between two frequencies, from every line that a loop has there. */
function between(samples: Float32Array, fromHz: number, toHz: number): number {
  const hzPerLine = RATE / samples.length
  let sum = 0
  for (let k = Math.ceil(fromHz / hzPerLine); k < toHz / hzPerLine; k += 1) {
    sum += line(samples, k)
  }
  return 2 * sum
}
/** IEC 61260-1: a third-octave about its middle. */
const third = (samples: Float32Array, hz: number) =>
  between(samples, hz * 2 ** (-1 / 6), hz * 2 ** (1 / 6))

describe('the steady test signal', () => {
  const samples = pinkNoise(RATE, -16, seeded(7))

  test('has as much power in every third-octave where bells sound, within 1.5 dB', () => {
    const half = samples.subarray(0, samples.length / 2)
    const bands = [630, 1_000, 1_600, 2_000].map((hz) => db(third(half, hz)))
    expect(Math.max(...bands) - Math.min(...bands)).toBeLessThan(1.5)
  })

  test('has little beside that', () => {
    expect(db(between(samples, 20, 150) / power(samples))).toBeLessThan(-12)
  })

  test('is as loud as asked for, and is never clipped', () => {
    expect(db(power(samples))).toBeCloseTo(-16, 2)
    expect(Math.max(...samples.map(Math.abs))).toBeLessThan(1)
  })

  test('goes on at its beginning without a step larger than those within', () => {
    const steps = samples.subarray(1).map((s, n) => Math.abs(s - (samples[n] ?? 0)))
    const seam = Math.abs((samples[0] ?? 0) - (samples.at(-1) ?? 0))
    expect(seam).toBeLessThan(Math.max(...steps))
  })
})

test('a bell’s power is that of its five harmonics, of which the peak is set', () => {
  // One sine: 3 dB under its peak.
  expect(soundingDb({ harmonicsDb: [0], peakDb: -24 })).toBeCloseTo(-27.01, 1)
  const a = soundingDb(PATTERNS.A)
  expect(a).toBeLessThan(PATTERNS.A.peakDb - 3)
  expect(a).toBeGreaterThan(PATTERNS.A.peakDb - 9)
})
