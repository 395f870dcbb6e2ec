/** Looks at rendered sound as a measuring microphone would. Times in ms, levels in dB of full scale. */

export type Pulse = { readonly onsetMs: number; readonly lengthMs: number }

/** Below this a sample is silence: 40 dB under the loudest. */
const SILENT = 0.01
/** Longer than the longest period of a bell (523 Hz), shorter than any gap. */
const HOLD_MS = 4

/** Where the sound is on: every stretch that is louder than silence, with holes of a period closed. */
export function pulses(samples: Float32Array, rate: number): readonly Pulse[] {
  const peak = samples.reduce((most, s) => Math.max(most, Math.abs(s)), 0)
  const found: { from: number; to: number }[] = []
  samples.forEach((s, n) => {
    if (Math.abs(s) < peak * SILENT) return
    const last = found.at(-1)
    if (last !== undefined && n - last.to < (HOLD_MS / 1000) * rate) last.to = n
    else found.push({ from: n, to: n })
  })
  const ms = (n: number) => (n / rate) * 1000
  return found.map(({ from, to }) => ({ onsetMs: ms(from), lengthMs: ms(to - from) }))
}

export const rms = (samples: Float32Array): number =>
  Math.sqrt(samples.reduce((sum, s) => sum + s * s, 0) / Math.max(1, samples.length))

export const db = (ratio: number): number => 20 * Math.log10(ratio)

/** Time from the first sound of a pulse to 95 % of its loudest, ms. */
export function riseMs(samples: Float32Array, rate: number, { onsetMs, lengthMs }: Pulse): number {
  const from = Math.round((onsetMs / 1000) * rate)
  const pulse = samples.subarray(from, from + Math.round((lengthMs / 1000) * rate))
  const peak = pulse.reduce((most, s) => Math.max(most, Math.abs(s)), 0)
  return (pulse.findIndex((s) => Math.abs(s) >= 0.95 * peak) / rate) * 1000
}

export type Line = { readonly hz: number; readonly power: number }

/** Power in steps of 10 Hz up to 6 kHz over 100 ms or less about the middle of a stretch (Hann window). */
export function spectrum(samples: Float32Array, rate: number, fromMs: number, toMs: number) {
  const middle = (fromMs + toMs) / 2
  const half = Math.min(50, (toMs - fromMs) / 2)
  const part = samples.subarray(
    Math.round(((middle - half) / 1000) * rate),
    Math.round(((middle + half) / 1000) * rate),
  )
  const windowed = part.map(
    (s, n) => s * (0.5 - 0.5 * Math.cos((2 * Math.PI * n) / (part.length - 1))),
  )
  return Array.from({ length: 596 }, (_, n) => {
    const hz = 50 + 10 * n
    return { hz, power: powerAt(windowed, rate, hz) }
  })
}

function powerAt(samples: Float32Array, rate: number, hz: number): number {
  const step = (2 * Math.PI * hz) / rate
  let re = 0
  let im = 0
  samples.forEach((s, n) => {
    re += s * Math.cos(step * n)
    im += s * Math.sin(step * n)
  })
  return re * re + im * im
}

/** The strongest line within `widthHz` of a frequency. */
export function lineNear(lines: readonly Line[], hz: number, widthHz = 25): Line {
  const near = lines.filter((l) => Math.abs(l.hz - hz) <= widthHz)
  return near.reduce((most, l) => (l.power > most.power ? l : most), { hz, power: 0 })
}

export const powerBetween = (lines: readonly Line[], fromHz: number, toHz: number): number =>
  lines.filter((l) => l.hz >= fromHz && l.hz <= toHz).reduce((sum, l) => sum + l.power, 0)
