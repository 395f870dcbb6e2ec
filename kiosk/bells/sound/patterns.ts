import type { SoundName } from '../../../machines/bell/kinds.ts'

/**
 * What bells and touches sound like, as data. Kinds differ in rhythm and pulse count first, in
 * pitch second, so that they are distinguishable through earmuffs and a booth fan.
 */

export type Note = {
  readonly onMs: number
  /** Silence after the note; the last one's is 0. */
  readonly offMs: number
  /** Fundamental, or several that sound together. */
  readonly hz: readonly number[]
  /** Where a glide ends. */
  readonly toHz?: number
}

export type Pattern = {
  readonly notes: readonly Note[]
  /** Level of harmonics 1, 2, 3 ... in dB. */
  readonly harmonicsDb: readonly number[]
  /** Peak of the pattern, full scale being 0. */
  readonly peakDb: number
}

export type TouchSound = 'ok' | 'error'
export type PatternName = SoundName | TouchSound

/** Four harmonics within 15 dB; the first two carry most, so that the energy lies in 500-2500 Hz. */
const BELL_DB = [0, -3, -9, -12, -18] as const
/** Room above a bell for the two steps of 5 dB by which an escalated bell may rise. */
const BELL_PEAK_DB = -10
/** A touch is at least 6 dB below a bell, as measured over the sounding part. */
const TOUCH_PEAK_DB = -24

const note = (onMs: number, offMs: number, hz: number): Note => ({ onMs, offMs, hz: [hz] })
const bell = (...notes: Note[]): Pattern => ({
  notes,
  harmonicsDb: BELL_DB,
  peakDb: BELL_PEAK_DB,
})
const touch = (...notes: Note[]): Pattern => ({
  notes,
  harmonicsDb: [0],
  peakDb: TOUCH_PEAK_DB,
})

const pairs = (first: number, second: number) => [
  note(150, 100, first),
  note(150, 350, second),
  note(150, 100, first),
  note(150, 0, second),
]

/** Two groups of five quick pulses. The 400 ms between them are all of the silence there. */
const pulses = (hz: readonly number[]) =>
  [...hz, ...hz].map((f, n, all) =>
    note(130, n === all.length - 1 ? 0 : n === hz.length - 1 ? 400 : 100, f),
  )

export const PATTERNS: Record<PatternName, Pattern> = {
  A: bell(note(250, 150, 523), note(250, 0, 784)),
  B1: bell(note(200, 200, 784), note(200, 200, 784), note(200, 0, 587)),
  B2: bell(...pulses([880, 880, 988, 988, 880])),
  C1: bell(...pairs(659, 880)),
  C2: bell(...pairs(880, 880)),
  D: bell({ onMs: 700, offMs: 150, hz: [784], toHz: 523 }, note(200, 0, 523)),
  ok: touch(note(40, 0, 1200)),
  error: touch({ onMs: 90, offMs: 60, hz: [300, 600] }, { onMs: 90, offMs: 0, hz: [300, 600] }),
}

/** How long a pattern lasts, ms, without the silence after it. */
export function durationMs({ notes }: Pattern): number {
  const total = notes.reduce((sum, n) => sum + n.onMs + n.offMs, 0)
  return total - (notes.at(-1)?.offMs ?? 0)
}

/** Rise and fall of every note: short enough to be crisp, long enough not to click. */
export const RAMP_S = 0.02

/** A pattern that is being played. */
export type Playing = {
  readonly startS: number
  readonly endS: number
  /** Ends it within a ramp, whatever of it has been heard. */
  stop(): void
}

type HowToPlay = {
  /** Start on the audio clock, s. */
  readonly atS: number
  readonly to: AudioNode
  /** Over or under the pattern's own peak. */
  readonly gainDb?: number
}

export const toGain = (db: number): number => 10 ** (db / 20)

/**
 * Lays a whole pattern ahead on the audio clock, so that no timer of the page can break its rhythm.
 * Works in a live context and in an OfflineAudioContext alike.
 */
export function schedule(ctx: BaseAudioContext, pattern: Pattern, how: HowToPlay): Playing {
  const out = new GainNode(ctx, { gain: 1 })
  out.connect(how.to)
  const wave = waveOf(ctx, pattern.harmonicsDb)
  const peak = toGain(pattern.peakDb + (how.gainDb ?? 0))
  const sources: OscillatorNode[] = []
  let atS = how.atS
  for (const note of pattern.notes) {
    sources.push(...sound(ctx, note, { atS, wave, peak, to: out }))
    atS += (note.onMs + note.offMs) / 1000
  }
  sources.at(-1)?.addEventListener('ended', () => out.disconnect(), { once: true })
  return {
    startS: how.atS,
    endS: how.atS + durationMs(pattern) / 1000,
    stop: () => fadeOut(ctx, out, sources),
  }
}

type Placed = {
  readonly atS: number
  readonly wave: PeriodicWave
  readonly peak: number
  readonly to: AudioNode
}

function sound(ctx: BaseAudioContext, note: Note, { atS, wave, peak, to }: Placed) {
  const endS = atS + note.onMs / 1000
  const level = new GainNode(ctx, { gain: 0 })
  level.gain.setValueAtTime(0, atS)
  level.gain.linearRampToValueAtTime(peak / note.hz.length, atS + RAMP_S)
  level.gain.setValueAtTime(peak / note.hz.length, endS - RAMP_S)
  level.gain.linearRampToValueAtTime(0, endS)
  level.connect(to)
  return note.hz.map((hz) => {
    const source = new OscillatorNode(ctx, { type: 'custom', periodicWave: wave, frequency: hz })
    source.frequency.setValueAtTime(hz, atS)
    if (note.toHz !== undefined) source.frequency.linearRampToValueAtTime(note.toHz, endS)
    source.connect(level)
    source.start(atS)
    source.stop(endS)
    return source
  })
}

/** Normalised by the browser to a peak of 1, so that peakDb means what it says. */
function waveOf(ctx: BaseAudioContext, harmonicsDb: readonly number[]): PeriodicWave {
  const sines = [0, ...harmonicsDb.map(toGain)]
  return new PeriodicWave(ctx, { real: sines.map(() => 0), imag: sines })
}

/** Ends sources within a ramp, so that nothing clicks. */
export function fadeOut(
  ctx: BaseAudioContext,
  out: GainNode,
  sources: readonly AudioScheduledSourceNode[],
): void {
  const nowS = ctx.currentTime
  out.gain.setValueAtTime(1, nowS)
  out.gain.linearRampToValueAtTime(0, nowS + RAMP_S)
  for (const source of sources) source.stop(nowS + RAMP_S)
}
