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
