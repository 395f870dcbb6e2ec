import { durationMs, PATTERNS, type PatternName } from '../../../kiosk/sound/patterns.ts'
import { schedule } from '../../../kiosk/sound/schedule.ts'

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

declare global {
  interface Window {
    render: typeof render
  }
}
window.render = render
