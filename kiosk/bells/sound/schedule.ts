import { durationMs, type Note, type Pattern } from './patterns.ts'

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
