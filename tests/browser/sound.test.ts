import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import {
  evaluateUntouched,
  openBrowser,
  openPage,
  type Site,
  serveKiosk,
  servePage,
  untilUntouched,
} from '../support/browser.ts'

let browser: Browser
let kiosk: Site
let bells: Site
beforeAll(async () => {
  ;[browser, kiosk, bells] = await Promise.all([
    openBrowser(),
    serveKiosk(),
    servePage('pages/bells.ts'),
  ])
})
afterAll(async () => {
  await browser.close()
  await kiosk.stop()
  await bells.stop()
})

/** These files are served without the shop's server, as to a kiosk whose server is away. */
const alone = { path: '/#/wall', expected: /Failed to load resource/ }

test('a kiosk that was never touched says NO SOUND across the screen within 2 s', async () => {
  // The page's own clock, moved by hand: a slow machine does not make the kiosk late.
  const { page, close } = await openPage(browser, kiosk, {
    ...alone,
    prepare: async ({ clock }) => {
      await clock.install({ time: 0 })
      await clock.pauseAt(1_000)
    },
  })
  // Not by the library's own call: that counts as a touch, and the sound would be on.
  const runFor = (ms: number) => evaluateUntouched(page, `__pwClock.controller.runFor(${ms})`)
  // The first drawing waits a moment for the shop.
  await runFor(300)
  await untilUntouched(page, `document.querySelector('.lamp') !== null`)
  expect(await evaluateUntouched(page, `document.querySelector('.no-sound')`)).toBe(null)
  await runFor(1_700)
  await untilUntouched(page, `document.querySelector('.no-sound') !== null`)
  const banner = await evaluateUntouched(
    page,
    `(() => { const b = document.querySelector('.no-sound')
      return { text: b.textContent, width: b.getBoundingClientRect().width / innerWidth,
        lamp: document.querySelector('.lamp').textContent } })()`,
  )
  expect(banner).toEqual({ text: 'NO SOUND – touch to enable', width: 1, lamp: 'NO SOUND' })
  await close()
})

test('one touch anywhere brings the sound, and the banner goes', async () => {
  const { page, close } = await openPage(browser, kiosk, alone)
  await untilUntouched(page, `document.querySelector('.no-sound') !== null`)
  await page.mouse.click(640, 780)
  await page.waitForSelector('.lamp[data-sound="ready"]')
  await page.waitForSelector('.no-sound', { state: 'detached' })
  await expect.poll(() => page.textContent('.lamp')).toBe('bell on')
  await close()
})

test('nothing sounds before a touch; after it a due bell is heard at its pitch, and an answer silences it', async () => {
  const { page, close } = await openPage(browser, bells)
  await untilUntouched(page, `window.bells?.state() === 'silent'`)
  const cup = { key: 'potOver-CUP1', kind: 'potOver', thing: 'CUP1' }
  await evaluateUntouched(
    page,
    `window.bells.ring([{ ...${JSON.stringify(cup)}, dueAt: Date.now() }])`,
  )
  await untilUntouched(page, `window.bells.said.length > 0`)
  expect(await evaluateUntouched(page, `window.bells.said[0].wasHeard`)).toBe(false)
  expect(await evaluateUntouched(page, `window.bells.peak()`)).toBe(0)

  await page.mouse.click(100, 100)
  await page.waitForFunction(() => window.bells.state() === 'ready')
  await page.waitForFunction(() => window.bells.peak() > 0.1)
  await page.waitForFunction(() => Math.abs(window.bells.pitchHz() - 930) < 80)
  await page.evaluate(() => window.bells.acknowledge('potOver-CUP1'))
  await page.waitForFunction(() => window.bells.peak() === 0)
  await close()
})

test('a bell sounds in the first tick after its deadline, also while the page’s timers are stopped', async () => {
  const { page, close } = await openPage(browser, bells)
  await page.mouse.click(100, 100)
  await page.waitForFunction(() => window.bells.state() === 'ready')
  const dueAt = await page.evaluate(() => {
    // As a hidden page's are held back: from here on only the Worker ticks.
    for (let id = window.setTimeout(() => {}); id > 0; id--) clearInterval(id)
    Object.assign(window, { setTimeout: () => 0 })
    const dueAt = Date.now() + 700
    window.bells.ring([{ key: 'coatReady-P1', kind: 'coatReady', thing: 'P1', dueAt }])
    return dueAt
  })
  await page.waitForFunction(() => window.bells.plays.length > 0)
  const { ticksMs, plays } = await page.evaluate(() => ({
    ticksMs: window.bells.ticksMs,
    plays: window.bells.plays,
  }))
  const firstAfter = ticksMs.filter((at) => at >= dueAt)[0] ?? 0
  const playedAt = plays[0]?.atMs ?? 0
  expect(ticksMs.filter((at) => at > firstAfter && at <= playedAt)).toEqual([])
  await page.waitForFunction(() => window.bells.peak() > 0.1)
  await close()
})

test('in a calm time the page is poked seldom while it is seen, once a second while it is not, and often once a bell is near', async () => {
  const { page, close } = await openPage(browser, bells)
  await page.mouse.click(100, 100)
  await page.waitForFunction(() => window.bells.state() === 'ready')
  const ticksIn = (ms: number) =>
    page.evaluate(async (forMs) => {
      const before = window.bells.ticksMs.length
      await new Promise<void>((done) => {
        const worker = new Worker('/bells/tickWorker.js')
        const endMs = performance.now() + forMs
        worker.addEventListener('message', () => {
          if (performance.now() < endMs) return
          worker.terminate()
          done()
        })
      })
      return window.bells.ticksMs.length - before
    }, ms)
  await page.evaluate(() => {
    // Only the Worker ticks.
    for (let id = window.setTimeout(() => {}); id > 0; id--) clearInterval(id)
    Object.assign(window, { setTimeout: () => 0 })
  })
  await page.waitForTimeout(1_200)
  const seen = await ticksIn(3_000)
  await page.evaluate(() => {
    Object.defineProperty(document, 'visibilityState', { configurable: true, get: () => 'hidden' })
    document.dispatchEvent(new Event('visibilitychange'))
  })
  const unseen = await ticksIn(3_000)
  await page.evaluate(() => {
    Reflect.deleteProperty(document, 'visibilityState')
    document.dispatchEvent(new Event('visibilitychange'))
    window.bells.ring([
      { key: 'coatReady-P1', kind: 'coatReady', thing: 'P1', dueAt: Date.now() + 12_000 },
    ])
  })
  await page.waitForTimeout(1_200)
  const near = await ticksIn(3_000)
  expect(seen).toBeLessThan(2)
  expect(unseen).toBeGreaterThan(1)
  expect(unseen).toBeLessThan(6)
  expect(near).toBeGreaterThan(2 * unseen)
  await close()
})

test('the banner that a touch sends away moves nothing under the next touch', async () => {
  const { page, close } = await openPage(browser, kiosk, alone)
  await untilUntouched(page, `document.querySelector('.no-sound') !== null`)
  const key = page.locator('main')
  const top = async () => (await key.boundingBox())?.y
  await page.evaluate(() => document.fonts.ready)
  const before = await top()
  await page.mouse.click(640, 780)
  await page.waitForSelector('.lamp[data-sound="ready"]')
  await expect.poll(() => page.textContent('.no-sound')).toBe('bell on')
  expect(await top()).toBe(before)
  await page.waitForSelector('.no-sound', { state: 'detached' })
  expect(await top()).toBeLessThan(before ?? 0)
  await close()
})
