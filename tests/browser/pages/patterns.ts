import {
  durationMs,
  PATTERNS,
  type PatternName,
  schedule,
} from '../../../kiosk/bells/sound/patterns.ts'
import { playTestSignal, TEST_S } from '../../../kiosk/bells/sound/testSignal.ts'

/** Renders a pattern without a loudspeaker and gives its samples, base64 of 32-bit floats. */
async function render(name: PatternName, gainDb: number, stopAtS: number | null): Promise<string> {
  const rate = 48_000
  const seconds = durationMs(PATTERNS[name]) / 1000 + 0.2
  const ctx = new OfflineAudioContext(1, Math.ceil(seconds * rate), rate)
  const playing = schedule(ctx, PATTERNS[name], { atS: 0.1, to: ctx.destination, gainDb })
  if (stopAtS !== null)
    void ctx.suspend(stopAtS).then(() => {
      playing.stop()
      return ctx.resume()
    })
  const bytes = new Uint8Array((await ctx.startRendering()).getChannelData(0).buffer)
  return btoa(Array.from(bytes, (b) => String.fromCharCode(b)).join(''))
}

/** The steady test signal, its power in each second of it and of two after it, dB of full scale. */
async function renderTestSignal(): Promise<number[]> {
  const rate = 12_000
  const seconds = TEST_S + 2
  const ctx = new OfflineAudioContext(1, seconds * rate, rate)
  const how = { atS: 0, to: ctx.destination, pattern: PATTERNS.A }
  playTestSignal(ctx, { ...how, ended: () => {} }, Math.random)
  const samples = (await ctx.startRendering()).getChannelData(0)
  return Array.from({ length: seconds }, (_, s) => {
    const part = samples.subarray(s * rate, (s + 1) * rate)
    return 10 * Math.log10(part.reduce((sum, x) => sum + x * x, 0) / rate)
  })
}

declare global {
  interface Window {
    renderTestSignal: typeof renderTestSignal
    render: typeof render
  }
}
window.render = render
window.renderTestSignal = renderTestSignal
