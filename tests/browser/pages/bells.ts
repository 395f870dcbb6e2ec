import type { Bell } from '../../../kiosk/bells/cards.ts'
import type { RingerSaid } from '../../../kiosk/bells/reporter.ts'
import { workerTicks } from '../../../kiosk/bells/ticker.ts'
import { startKiosk } from '../../../kiosk/device/runtime.ts'

/** A kiosk without screens on real clocks and real sound: deadlines in, plays out. */

const plays: { atMs: number; peak: number }[] = []
const ticksMs: number[] = []
const said: RingerSaid[] = []
const audio = new AudioContext()
const analyser = new AnalyserNode(audio, { fftSize: 32_768 })
/** What the loudspeaker gets: every node that is joined to the output is joined to the analyser too. */
const join = AudioNode.prototype.connect as (this: AudioNode, to: AudioNode) => AudioNode
function joinHeard(this: AudioNode, to: AudioNode): AudioNode {
  if (to === audio.destination) join.call(this, analyser)
  return join.call(this, to)
}
Object.assign(AudioNode.prototype, { connect: joinHeard })

const kiosk = startKiosk({
  sample: () => ({ monotonicMs: performance.now(), deviceMs: Date.now() }),
  rememberedOffsetMs: 0,
  wait: (ms) => new Promise((done) => setTimeout(done, ms)),
  ticks: (look) =>
    workerTicks('/bells/tickWorker.js')(() => {
      ticksMs.push(Date.now())
      const before = said.length
      const next = look()
      if (said.slice(before).some((s) => s.type === 'rang'))
        plays.push({ atMs: Date.now(), peak: peak() })
      return next
    }),
  audio: () => audio,
  soundsHere: () => true,
  tell: (s) => said.push(s),
})
kiosk.clock.heard(Date.now())
addEventListener('click', () => void kiosk.speaker.wake())

function samples(): Float32Array<ArrayBuffer> {
  const now = new Float32Array(analyser.fftSize)
  analyser.getFloatTimeDomainData(now)
  return now
}
const peak = () => samples().reduce((most, s) => Math.max(most, Math.abs(s)), 0)

/** The strongest frequency of the last 0.7 s, Hz. */
function pitchHz(): number {
  const bins = new Float32Array(analyser.frequencyBinCount)
  analyser.getFloatFrequencyData(bins)
  const strongest = bins.indexOf(Math.max(...bins))
  return (strongest * audio.sampleRate) / analyser.fftSize
}

const seen = {
  plays,
  ticksMs,
  said,
  peak,
  pitchHz,
  state: () => kiosk.speaker.sound.value,
  ring: (bells: readonly Bell[]) => {
    kiosk.open.value = { ...kiosk.open.value, bells }
  },
  acknowledge: (key: string) => kiosk.ringer.acknowledge(key),
}
declare global {
  interface Window {
    bells: typeof seen
  }
}
window.bells = seen
