import { fadeOut, type Pattern, type Playing, RAMP_S, toGain } from './patterns.ts'
import type { Steady } from './speaker.ts'

/**
 * A steady signal for setting the level at the work positions: a sound level meter cannot be read
 * during bursts. It is pink noise (equal power in every octave) over the range of the bells, as loud
 * as a bell while it sounds, repeated without a seam.
 */

/** The signal ends by itself after this time, s. */
export const TEST_S = 60
const LOOP_S = 4
/** Bells lie in 500 to 2500 Hz; filters of second order are within 1 dB of flat there. */
const FROM_HZ = 300
const TO_HZ = 4_000

const POINTS = 512

/** How loud a pattern's notes are, as power, dB of full scale: less than their peak. */
export function soundingDb({
  harmonicsDb,
  peakDb,
}: Pick<Pattern, 'harmonicsDb' | 'peakDb'>): number {
  const period = Array.from({ length: POINTS }, (_, n) =>
    harmonicsDb.reduce(
      (sum, db, k) => sum + toGain(db) * Math.sin((2 * Math.PI * (k + 1) * n) / POINTS),
      0,
    ),
  )
  const peak = Math.max(...period.map(Math.abs))
  return peakDb + 20 * Math.log10(rootMeanSquare(period) / peak)
}

function rootMeanSquare(samples: ArrayLike<number>): number {
  let sum = 0
  for (let n = 0; n < samples.length; n += 1) sum += (samples[n] ?? 0) ** 2
  return Math.sqrt(sum / samples.length)
}

/**
 * @param random 0 to below 1, as Math.random
 * @param levelDb its power, dB of full scale
 * @returns one loop of it, whose end goes on at its beginning
 */
export function pinkNoise(
  rate: number,
  levelDb: number,
  random: () => number,
): Float32Array<ArrayBuffer> {
  const white = Float32Array.from({ length: LOOP_S * rate }, () => 2 * random() - 1)
  const through = [pink(), biquad('high', FROM_HZ, rate), biquad('low', TO_HZ, rate)]
  const pass = () => white.map((sample) => through.reduce((x, filter) => filter(x), sample))
  // Once to swing in: the filters then end a loop as they began it.
  pass()
  const noise = pass()
  const gain = toGain(levelDb) / rootMeanSquare(noise)
  return noise.map((sample) => sample * gain)
}

type Filter = (x: number) => number

/** Minus 3 dB an octave to half a decibel: three poles by P. Kellet (from memory; a test measures it). */
function pink(): Filter {
  let [a, b, c] = [0, 0, 0]
  return (x) => {
    a = 0.99765 * a + 0.099046 * x
    b = 0.963 * b + 0.2965164 * x
    c = 0.57 * c + 1.0526913 * x
    return a + b + c + 0.1848 * x
  }
}

/** A Butterworth filter of second order by the bilinear transform (W3C Audio EQ Cookbook). */
function biquad(passes: 'high' | 'low', hz: number, rate: number): Filter {
  const w = (2 * Math.PI * hz) / rate
  const alpha = Math.sin(w) / Math.SQRT2
  const cos = Math.cos(w)
  const b1 = passes === 'high' ? -(1 + cos) : 1 - cos
  const b0 = Math.abs(b1) / 2
  const a0 = 1 + alpha
  let [x1, x2, y1, y2] = [0, 0, 0, 0]
  return (x) => {
    const y = (b0 * x + b1 * x1 + b0 * x2 + 2 * cos * y1 - (1 - alpha) * y2) / a0
    ;[x2, x1, y2, y1] = [x1, x, y1, y]
    return y
  }
}

/** Plays it until it is stopped, for a minute at most: the audio clock ends it, whatever the page does. */
export function playTestSignal(ctx: BaseAudioContext, how: Steady, random: () => number): Playing {
  const { sampleRate } = ctx
  const samples = pinkNoise(sampleRate, soundingDb(how.pattern), random)
  const buffer = new AudioBuffer({ length: samples.length, sampleRate, numberOfChannels: 1 })
  buffer.copyToChannel(samples, 0)
  const out = new GainNode(ctx, { gain: 0 })
  out.gain.setValueAtTime(0, how.atS)
  out.gain.linearRampToValueAtTime(1, how.atS + RAMP_S)
  out.connect(how.to)
  const source = new AudioBufferSourceNode(ctx, { buffer, loop: true })
  source.connect(out)
  source.addEventListener(
    'ended',
    () => {
      out.disconnect()
      how.ended()
    },
    { once: true },
  )
  source.start(how.atS)
  source.stop(how.atS + TEST_S)
  return {
    startS: how.atS,
    endS: how.atS + TEST_S,
    stop: () => fadeOut(ctx, out, [source]),
  }
}
