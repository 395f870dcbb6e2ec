import type { ShopSite } from '../support/browserShop.ts'
import { finishCoats, openJobs, PROBE, readyAtMs } from './busy.ts'
import { type Chromium, openChromium, type Tab } from './devtools.ts'
import { median, note, quantile, times, title } from './figures.ts'
import { oursAtMost, part } from './table.ts'

/**
 * How long after its deadline a bell starts to sound, with the server gone. Onset is the start
 * that the page gave to the first oscillator of the pattern, put onto the machine's clock. What comes
 * after it (the audio device) is not in these times. Once a hidden tab has been heard the browser holds
 * it back no longer; to measure it at its slowest the hidden kiosks play into a closed gain.
 */

type Way = {
  readonly kiosks: number
  readonly alerts: number
  readonly everyMs: number
  readonly leadMs: number
  /** Each kiosk behind another tab of its window. */
  readonly isHidden: boolean
}

/** The first note of the prompt, and no other's. */
const FIRST_HZ = 523
/** A bell that sounds later than this after its deadline has missed it. */
const LOST_MS = 5_000
/** A bell lasts 650 ms and a second of quiet must follow: answered in between, it is out of the way. */
const FRONT = { kiosks: 4, everyMs: 2_000, leadMs: 40_000, isHidden: false }
/** Further apart: what is late here must not run into the next. */
const HIDDEN = { kiosks: 8, everyMs: 3_000, leadMs: 60_000, isHidden: true }
/** A kiosk that has been on for a while has heard the time more than once; a beat comes every 5 s. */
const BEATS_MS = 11_000
/** Two readings of one machine's time may differ by this much; a bell is never earlier than that. */
const CLOCK_MS = 50
/** Between the second note and the answer. */
const ANSWER_AFTER_MS = 300

type Measured = {
  readonly lateMs: readonly number[]
  readonly lost: number
  /** The page's own timer of 100 ms: its last interval before each deadline. */
  readonly ownTimerMs: readonly number[]
  /** A bare tick of the Worker in the same page: the first after each deadline. */
  readonly tickMs: readonly number[]
  readonly states: readonly string[]
}

const FRONT_ROW = 'onset after the deadline in front, server gone, p95'
const FRONT_MOST = 'the same, the latest'
const HIDDEN_ROW = 'onset after the deadline in a hidden tab, server gone, p95'
const LOST_ROW = 'bells not heard, in front and hidden'

const PROMISED = {
  [FRONT_ROW]: oursAtMost(500),
  [FRONT_MOST]: oursAtMost(1_000),
  [HIDDEN_ROW]: oursAtMost(1_500),
  [LOST_ROW]: oursAtMost(0),
}

export const bells = part('bells', PROMISED, async (put, { alerts }) => {
  title('Deadline to sound onset, server gone')
  const front = await measure({ ...FRONT, alerts: Math.ceil(alerts / FRONT.kiosks) })
  print('in front', front)
  const hidden = await measure({ ...HIDDEN, alerts: Math.ceil(alerts / HIDDEN.kiosks) })
  print('in a hidden tab', hidden)
  const p95 = (of: Measured) => ({
    ours: quantile(of.lateMs, 0.95),
    unit: 'ms',
    limit: { what: 'a bare tick', value: quantile(of.tickMs, 0.95) },
  })
  put(FRONT_ROW, p95(front))
  put(FRONT_MOST, { ours: quantile(front.lateMs, 1), unit: 'ms' })
  put(HIDDEN_ROW, p95(hidden))
  put(LOST_ROW, { ours: front.lost + hidden.lost, unit: '' })
})

function print(where: string, measured: Measured) {
  const { lateMs, lost, ownTimerMs, tickMs, states } = measured
  times(`onset after the deadline, ${where}`, lateMs)
  times(`a bare tick after the same deadlines, ${where}`, tickMs)
  note(`document.visibilityState: ${[...new Set(states)].join(', ')}; bells not heard: ${lost}`)
  note(
    `the page's own 100 ms timer came every ${median(ownTimerMs).toFixed(0)} ms (median), ${quantile(ownTimerMs, 1).toFixed(0)} at most`,
  )
}

async function measure(way: Way): Promise<Measured> {
  const site = await openJobs(way.alerts)
  const browser = await openChromium()
  try {
    await finishCoats(site, way)
    const kiosks = await Promise.all(
      Array.from({ length: way.kiosks }, () => openKiosk(browser, site, way)),
    )
    const dueAtMs = readyAtMs(site)
    await Bun.sleep(BEATS_MS)
    if ((dueAtMs[0] ?? 0) < Date.now()) throw new Error('The kiosks were opened too late.')
    await site.away()
    for (const kiosk of kiosks) await kiosk.until(`document.querySelector('.away') !== null`)
    await Bun.sleep((dueAtMs.at(-1) ?? 0) + LOST_MS - Date.now())
    const all = await Promise.all(kiosks.map((kiosk) => heard(kiosk, dueAtMs, way)))
    return {
      lateMs: all.flatMap((one) => one.lateMs),
      lost: all.reduce((sum, one) => sum + one.lost, 0),
      ownTimerMs: all.flatMap((one) => one.ownTimerMs),
      tickMs: all.flatMap((one) => one.tickMs),
      states: all.flatMap((one) => one.states),
    }
  } finally {
    await browser.close()
    await site.stop()
  }
}

async function openKiosk(browser: Chromium, site: ShopSite, { isHidden }: Way): Promise<Tab> {
  const context = await browser.context()
  const before = isHidden ? `${PROBE}\nprobe.mute()` : PROBE
  const kiosk = await browser.tab({ context, ownWindow: true, before })
  await kiosk.open(site.url)
  await kiosk.until(`document.querySelector('.lane') !== null`)
  await kiosk.until(`document.querySelector('.lamp[data-sound=ready]') !== null`)
  await kiosk.evaluate(`probe.answerAll(${ANSWER_AFTER_MS})`)
  if (isHidden) {
    const other = await browser.tab({ context })
    await other.show()
    await kiosk.until(`document.visibilityState === 'hidden'`)
  }
  return kiosk
}

async function heard(kiosk: Tab, dueAtMs: readonly number[], { everyMs }: Way): Promise<Measured> {
  const { sounds, timerAtMs, tickAtMs, state } = await kiosk.evaluate<{
    sounds: { atMs: number; hz: number }[]
    timerAtMs: number[]
    tickAtMs: number[]
    state: string
  }>(`({ ...probe, state: document.visibilityState })`)
  const onsets = sounds.filter(({ hz }) => hz === FIRST_HZ).map(({ atMs }) => atMs)
  const late = dueAtMs.map((dueMs) => {
    const onset = onsets.find((atMs) => atMs >= dueMs - CLOCK_MS)
    return onset === undefined ? LOST_MS : onset - dueMs
  })
  return {
    lateMs: late.filter((ms) => ms < Math.min(LOST_MS, everyMs)),
    lost: late.filter((ms) => ms >= Math.min(LOST_MS, everyMs)).length,
    ownTimerMs: dueAtMs.flatMap((dueMs) => {
      const before = timerAtMs.filter((atMs) => atMs <= dueMs).slice(-2)
      return before.length === 2 ? [(before[1] ?? 0) - (before[0] ?? 0)] : []
    }),
    tickMs: dueAtMs.flatMap((dueMs) => {
      const tick = tickAtMs.find((atMs) => atMs >= dueMs)
      return tick === undefined ? [] : [tick - dueMs]
    }),
    states: [state],
  }
}
