import { afterEach, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { AXE, problemsNow, SCREEN_PATHS } from './audit.ts'
import { overflowPx } from './onScreen.ts'
import { rulesFor } from './targets.ts'

/** Help in plain words from every screen, and the tour of the Wall. */

const START = Date.UTC(2026, 10, 25, 8)
const browser = browserForTests(SOUND)
let site: ShopSite
afterEach(() => site.stop())

test.each([
  ['wall', 'en'],
  ['phone', 'es'],
] as const)(
  'every screen has help, and the tour can be skipped and taken again: %s, %s',
  async (size, language) => {
    site = await serveShop(START)
    await site.send('ChangeSettings', { language })
    const { page, close } = await openPage(browser, site, {
      size,
      prepare: async (opened) => void (await opened.addInitScript({ path: AXE })),
    })
    const audited = async () => {
      await page.evaluate(() => document.fonts.ready)
      expect(await problemsNow(page, rulesFor(size, 96 / 25.4))).toEqual([])
      expect(await overflowPx(page)).toBe(0)
    }
    // An empty shop offers the tour beside the ways into it.
    await page.waitForSelector('.first-run')
    await audited()
    await page.click('.first-run [data-act=tour]')
    await page.waitForSelector('[data-tour="0"]')
    await audited()
    await page.click('[data-act=tourSkip]')
    await page.waitForSelector('.first-run')
    const titles = new Set<string>()
    const screens = SCREEN_PATHS.filter((path) => path !== 'help')
    const scrollTop = () => page.evaluate(() => document.querySelector('main')?.scrollTop ?? 0)
    let scrolled = 0
    for (const screen of screens) {
      await page.goto(`${site.url}/#/${screen}`)
      const key = page.locator(`[data-screen=${screen}] [data-act=help]`)
      await key.scrollIntoViewIfNeeded()
      scrolled = Math.max(scrolled, await scrollTop())
      await key.click()
      await page.waitForSelector('.help li')
      // However far down the page before was, the new one begins at its top.
      await expect.poll(scrollTop).toBe(0)
      titles.add((await page.textContent('.help h2')) ?? '')
      await shot(page, `help-${screen}-${size}`)
      await audited()
    }
    expect(scrolled).toBeGreaterThan(0)
    // Each has a page of its own, and the way back leads to where somebody asked.
    expect(titles.size).toBe(screens.length)
    await page.goto(`${site.url}/#/setup/zones`)
    await page.click('[data-act=help]')
    await page.click('.help .page-head a')
    await expect.poll(() => page.evaluate(() => location.hash)).toBe('#/setup/zones')
    await page.click('[data-act=help]')
    await page.click('.help [data-act=tour]')
    for (let step = 0; ; step += 1) {
      await page.waitForSelector(`[data-tour="${step}"]`)
      await page.waitForSelector('.tour-picture .tour-mark')
      await shot(page, `help-tour-${step}-${size}`)
      await audited()
      // What step it is and the way on are both in sight, however long the page.
      const head = await page.locator('main').boundingBox()
      const first = await page.locator('[data-tour] > .digits').boundingBox()
      expect(first?.y ?? -1).toBeGreaterThanOrEqual(head?.y ?? 0)
      const screen = page.viewportSize()?.height ?? 0
      const next = await page.locator('[data-act=tourNext]').boundingBox()
      expect((next?.y ?? screen) + (next?.height ?? 0)).toBeLessThanOrEqual(screen)
      const isLast = (await page.locator('[data-act=tourSkip]').count()) === 0
      // By keys alone: Enter goes on, as a finger does.
      await expect
        .poll(() => page.evaluate(() => document.activeElement?.getAttribute('data-act')))
        .toBe('tourNext')
      await page.keyboard.press('Enter')
      if (isLast) break
    }
    await page.waitForSelector('.first-run')
    await close()
  },
)
