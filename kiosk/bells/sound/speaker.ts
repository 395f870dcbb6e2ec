import { computed, type ReadonlySignal, signal } from '@preact/signals'
import type { SoundName } from '../../../machines/bell/kinds.ts'
import {
  PATTERNS,
  type Pattern,
  type PatternName,
  type Playing,
  schedule,
  type TouchSound,
  toGain,
} from './patterns.ts'

/** How long a browser may take to start the audio before it counts as silent. */
const WAKE_MS = 1_000
/** An audio clock that has not moved for this long has lost its output. */
const STALLED_MS = 1_000
/** Between asking for a sound and its start: the audio thread needs it in the future. */
const LEAD_S = 0.02
/** An escalated bell may rise by two steps of 5 dB; the patterns leave room for just that. */
export const MAX_RISE_DB = 10

/** `starting` until the browser has answered; `silent` asks for the banner. */
type SoundState = 'starting' | 'ready' | 'silent'

export type Speaker = {
  readonly sound: ReadonlySignal<SoundState>
  readonly soundReady: ReadonlySignal<boolean>
  /** Asks the browser to start the audio; it does so only within a touch. True when it runs. */
  wake(): Promise<boolean>
  /** Plays a bell's pattern and stops one already sounding. Null while nothing can be heard. */
  play(name: SoundName, riseDb?: number): Playing | null
  /**
   * A steady signal to be measured; any bell ends it, and a minute does. Nothing while a bell sounds.
   * @param play of testSignal.ts, which no first Wall needs
   */
  startTest(play: (ctx: BaseAudioContext, how: Steady) => Playing): void
  stopTest(): void
  /** Whether the steady signal sounds. */
  readonly isTesting: ReadonlySignal<boolean>
  /** A touch is not sounded over a bell. */
  touch(name: TouchSound): void
  /** The level set when the kiosk was commissioned, dB under full scale. */
  setLevelDb(db: number): void
  /** To be called at every tick: an output that was lost reports nothing by itself. */
  look(monotonicMs: number): void
}

/** How a steady signal is played. */
export type Steady = {
  /** Start on the audio clock, s. */
  readonly atS: number
  readonly to: AudioNode
  readonly pattern: Pattern
  /** Called when it is over, however it came to its end. */
  readonly ended: () => void
}

type Output = { readonly ctx: AudioContext; readonly master: GainNode }

/**
 * The kiosk's loudspeaker.
 * @param make called once, when the first sound or level is asked for: a slow device takes its time, and
 *   draws its first frame before. A browser leaves it suspended until somebody touches the page
 * @param wait a timer, against which resume() is raced: without a touch it never settles
 */
export function speaker(make: () => AudioContext, wait: (ms: number) => Promise<void>): Speaker {
  let output: Output | null = null
  let levelDb = 0
  const sound = signal<SoundState>('starting')
  let bell: Playing | null = null
  let touched: Playing | null = null
  let steady: Playing | null = null
  const isTesting = signal(false)
  let seen = { audioS: -1, monotonicMs: Number.NEGATIVE_INFINITY }

  const settle = ({ ctx }: Output) => {
    sound.value = ctx.state === 'running' ? 'ready' : 'silent'
  }
  const fail = () => {
    sound.value = 'silent'
  }
  const isBellSounding = () => bell !== null && out().ctx.currentTime < bell.endS
  const start = ({ ctx, master }: Output, name: PatternName, gainDb: number) =>
    schedule(ctx, PATTERNS[name], { atS: ctx.currentTime + LEAD_S, to: master, gainDb })

  function out(): Output {
    output ??= opened()
    return output
  }

  function opened(): Output {
    const ctx = make()
    const master = new GainNode(ctx, { gain: toGain(levelDb) })
    master.connect(ctx.destination)
    ctx.addEventListener('statechange', () => {
      // A context that is made suspended says so before resume() has been answered.
      if (sound.value !== 'starting' || ctx.state === 'running') settle({ ctx, master })
    })
    ctx.addEventListener('error', fail)
    return { ctx, master }
  }

  return {
    sound,
    soundReady: computed(() => sound.value === 'ready'),
    wake: async () => {
      const { ctx } = out()
      await Promise.race([ctx.resume().catch(fail), wait(WAKE_MS)])
      settle(out())
      return ctx.state === 'running'
    },
    play: (name, riseDb = 0) => {
      if (isBellSounding()) bell?.stop()
      touched?.stop()
      steady?.stop()
      if (out().ctx.state !== 'running') return null
      bell = start(out(), name, Math.min(Math.max(riseDb, 0), MAX_RISE_DB))
      return bell
    },
    isTesting,
    startTest: (play) => {
      const { ctx, master } = out()
      if (ctx.state !== 'running' || isBellSounding() || isTesting.value) return
      touched?.stop()
      isTesting.value = true
      const ended = () => {
        isTesting.value = false
        steady = null
      }
      const atS = ctx.currentTime + LEAD_S
      steady = play(ctx, { atS, to: master, pattern: PATTERNS.A, ended })
    },
    stopTest: () => steady?.stop(),
    touch: (name) => {
      // While the signal is measured nothing else may sound.
      const isFree = out().ctx.state === 'running' && !isBellSounding() && !isTesting.value
      if (isFree) touched = start(out(), name, 0)
    },
    setLevelDb: (db) => {
      levelDb = Math.min(db, 0)
      if (output !== null) output.master.gain.value = toGain(levelDb)
    },
    look: (monotonicMs) => {
      if (output?.ctx.state !== 'running') return
      const { ctx } = output
      if (ctx.currentTime !== seen.audioS) {
        seen = { audioS: ctx.currentTime, monotonicMs }
        settle(output)
      } else if (monotonicMs - seen.monotonicMs >= STALLED_MS) fail()
    },
  }
}
