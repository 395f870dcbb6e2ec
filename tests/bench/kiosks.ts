import { panelId } from '../browser/busyShop.ts'
import { finishCoats, openJobs, PROBE } from './busy.ts'
import { type Chromium, openChromium, type Tab } from './devtools.ts'
import { note, quantile, title } from './figures.ts'
import { oursAtMost, type Put, part } from './table.ts'

/**
 * Two kiosks of one shop, the server between them: how soon a press is felt, how soon it is
 * answered, and how soon the other kiosk shows it or falls silent. A time runs from the
 * finger's contact to the frame that shows the change. The press lets go at once, so a real finger
 * adds the time for which it rests: a control acts when it is let go.
 */

/** As many lanes as a Wall has to bear; on each a coat is started. */
const PANELS = 40
const BELLS = 25
/** A bell is answered before the next, with room for its second of quiet. */
const APART = { alerts: BELLS, everyMs: 2_500, leadMs: 12_000 }
const ANSWER_AFTER_MS = 150

type Times = Record<'felt' | 'answered' | 'other', number[]>

const PROMISED = {
  'a lane pressed, its acts shown, p95': oursAtMost(100),
  'a lane pressed, its touch sound begun, p95': oursAtMost(100),
  'an act pressed, feedback shown, p95': oursAtMost(100),
  'an act pressed, shown on another kiosk, p95': oursAtMost(1_000),
  'an act pressed, shown on another kiosk, p99': oursAtMost(3_000),
  'acknowledged, told to fall silent on another, p95': oursAtMost(1_000),
  'acknowledged, told to fall silent on another, p99': oursAtMost(3_000),
} as const
type What = keyof typeof PROMISED

export const kiosks = part<What>('kiosks', PROMISED, async (put) => {
  const browser = await openChromium()
  try {
    await presses(browser, put)
    await silences(browser, put)
  } finally {
    await browser.close()
  }
})

const ms = (all: readonly number[], share: number) => ({ ours: quantile(all, share), unit: 'ms' })

async function presses(browser: Chromium, put: Put<What>): Promise<void> {
  title('A press on one kiosk, felt, answered, and shown on another')
  const site = await openJobs(PANELS)
  const [here, there] = await openTwo(browser, site.url)
  const opened: number[] = []
  const heard: number[] = []
  const all: Times = { felt: [], answered: [], other: [] }
  for (let n = 0; n < PANELS; n += 1) {
    const lane = `[data-panel="${panelId(n)}"]`
    opened.push(await openLane(here, lane))
    heard.push(await touchHeard(here))
    await change(here, there, '[data-act=StartCoat]', `${lane}[data-waits=spraying]`, all)
  }
  const same = { what: 'the answer on the same Wall', value: quantile(all.answered, 0.95) }
  put('a lane pressed, its acts shown, p95', ms(opened, 0.95))
  put('a lane pressed, its touch sound begun, p95', ms(heard, 0.95))
  put('an act pressed, feedback shown, p95', ms(all.felt, 0.95))
  put('an act pressed, shown on another kiosk, p95', { ...ms(all.other, 0.95), limit: same })
  put('an act pressed, shown on another kiosk, p99', ms(all.other, 0.99))
  await Promise.all([here.close(), there.close()])
  await site.stop()
}

async function openLane(here: Tab, lane: string): Promise<number> {
  await watch(here, 'opened', `document.querySelector('${lane}[aria-pressed=true]')`)
  await here.press(lane)
  return (await seenAt(here, 'opened')) - (await pressedAt(here))
}

/** No bell rings meanwhile: the first sound after a press is the press's own. */
async function touchHeard(here: Tab): Promise<number> {
  const after = `probe.sounds.find(({ atMs }) => atMs >= probe.presses.at(-1))`
  await here.until(`${after} !== undefined`)
  return (await here.evaluate<number>(`${after}.atMs`)) - (await pressedAt(here))
}

async function change(here: Tab, there: Tab, act: string, after: string, all: Times) {
  await here.until(`document.querySelector('${act}:enabled') !== null`)
  const isDone = `document.querySelector('${after}')`
  // A pressed control is disabled until it is answered, or has gone.
  await watch(here, 'felt', `!document.querySelector('${act}:enabled')`)
  await watch(here, 'answered', isDone)
  await watch(there, 'answered', isDone)
  await here.press(act)
  const atMs = await pressedAt(here)
  all.felt.push((await seenAt(here, 'felt')) - atMs)
  all.answered.push((await seenAt(here, 'answered')) - atMs)
  all.other.push((await seenAt(there, 'answered')) - atMs)
  await here.until(`document.querySelector('.act-sheet') === null`)
}

async function silences(browser: Chromium, put: Put<What>): Promise<void> {
  title('A bell answered on one kiosk falls silent on another')
  const site = await openJobs(BELLS)
  await finishCoats(site, APART)
  const [here, there] = await openTwo(browser, site.url)
  const silent: number[] = []
  for (let n = 0; n < BELLS; n += 1) {
    const rings = `document.querySelector('[data-act=acknowledge]') !== null`
    for (const tab of [here, there]) await tab.until(`${rings} && probe.sounds.length > 0`)
    await Bun.sleep(ANSWER_AFTER_MS)
    await there.evaluate('probe.silences.length = 0')
    await here.press('[data-act=acknowledge]')
    const atMs = await pressedAt(here)
    await there.until('probe.silences.length > 0')
    silent.push((await there.evaluate<number>('probe.silences[0].atMs')) - atMs)
    for (const tab of [here, there]) {
      await tab.until(`!(${rings})`)
      await tab.evaluate('probe.sounds.length = 0')
    }
  }
  put('acknowledged, told to fall silent on another, p95', ms(silent, 0.95))
  put('acknowledged, told to fall silent on another, p99', ms(silent, 0.99))
  note('A sound fades within 20 ms of being told; that is not in these times.')
  await Promise.all([here.close(), there.close()])
  await site.stop()
}

async function openTwo(browser: Chromium, url: string): Promise<[Tab, Tab]> {
  const one = async () => {
    const tab = await browser.tab({
      context: await browser.context(),
      ownWindow: true,
      before: PROBE,
    })
    await tab.open(url)
    await tab.until(`document.querySelector('.lane') !== null`)
    await tab.until(`document.querySelector('.lamp[data-sound=ready]') !== null`)
    return tab
  }
  return [await one(), await one()]
}

/** Begins to wait, in the page, for a frame that shows something. */
const watch = (tab: Tab, name: string, is: string) =>
  tab.evaluate<void>(`void (probe.${name} = probe.seen(() => ${is}))`)
const seenAt = (tab: Tab, name: string) => tab.evaluate<number>(`probe.${name}`)
const pressedAt = (tab: Tab) => tab.evaluate<number>('probe.presses.at(-1)')
