import type { Page } from 'playwright-core'
import { afterEach, expect, test } from 'vitest'
import { encodeCupCode, shopTag } from '../../labels/code.ts'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { CLEAR, minutes } from '../support/labelSamples.ts'
import { BASE } from '../support/sheets.ts'
import { BASE_CUP, CUP, openVan, START, setUp } from './busyShop.ts'
import { isInstalled, openHash, overflowPx } from './onScreen.ts'

/** The label of a cup that a kiosk does not hold, scanned while its server is away: the label says enough. */

const browser = browserForTests()
let site: ShopSite
afterEach(() => site.stop())

/** Mixed by the shop's own server 15 min ago, on a kiosk that this one has heard nothing of. */
const codeOf = (change: Partial<typeof CLEAR> = {}) => {
  const mixedAtMs = site.clock.now() - minutes(15)
  return encodeCupCode({
    ...CLEAR,
    ...{ shopTag: shopTag(site.shops.own), mixedAtMs, useByMs: mixedAtMs + minutes(45) },
    ...change,
  })
}

const expected = /Failed to load|ERR_|EventSource/

async function away(language: string): Promise<{ page: Page; close: () => Promise<void> }> {
  site = await serveShop(START)
  await setUp(site, { language })
  await openVan(site, 1)
  await site.send('MixCup', { cup: BASE_CUP, sheet: BASE.sheet, totalMl: 300, colour: 'body' })
  const opened = await openPage(browser, site, { path: '/#/scan', expected })
  await isInstalled(opened.page)
  await site.away()
  await opened.page.waitForSelector('.outbox-status .away')
  // As a kiosk that was switched on without its network.
  await opened.page.reload()
  await opened.page.waitForSelector('.scan-form')
  return opened
}

/** From the end of a scan until it is on the screen. */
async function shownMs(page: Page, code: string): Promise<number> {
  return await page.evaluate(async (text) => {
    const begin = performance.now()
    location.hash = `#/scan/${text}`
    while (document.querySelector('.scan-cup .life') === null)
      await new Promise(requestAnimationFrame)
    return performance.now() - begin
  }, code)
}

test.each([
  [
    'en',
    [
      'clear',
      'Offline, from the label',
      'Mixed',
      '2:1:0.5',
      'DANGER · flame · exclamation mark · health hazard',
    ],
  ],
  [
    'es',
    [
      'Sin servidor, según la etiqueta',
      'Mezclado',
      '2:1:0.5',
      'PELIGRO · llama · signo de exclamación · peligro para la salud',
    ],
  ],
] as const)(
  'says class, ratio, times and hazard within a second, and that it is the label that says so (%s)',
  async (language, said) => {
    const { page, close } = await away(language)
    // The machine may be busy elsewhere for a second: each look is a first one.
    const fresh = async () => {
      await page.reload()
      await page.waitForSelector('.scan-form')
      return await shownMs(page, codeOf())
    }
    await expect.poll(fresh).toBeLessThan(1_000)
    const text = (await page.textContent('.scan-cup')) ?? ''
    for (const what of said) expect(text).toContain(what)
    await expect.poll(() => page.textContent('.scan-cup .life')).toMatch(/^(30:00|29:\d\d)$/)
    await expect.poll(() => page.locator('.scan-cup .cautions').count()).toBe(1)
    // At a glance, without scrolling.
    expect((await page.locator('.cautions').boundingBox())?.y).toBeLessThan(700)
    expect(await overflowPx(page)).toBe(0)
    await shot(page, `label-offline-${language}`)
    await page.setViewportSize({ width: 390, height: 844 })
    expect(await overflowPx(page)).toBe(0)
    await shot(page, `label-offline-${language}-narrow`)
    await close()
  },
)

test('says what is over, what has no data of its hazards, and nothing of another shop’s as its own', async () => {
  const { page, close } = await away('en')
  const mixedAtMs = site.clock.now() - minutes(60)
  const hazard = { signal: 'missing' as const, isocyanate: false, pictograms: [], words: [] }
  await openHash(page, 'scan', codeOf({ mixedAtMs, useByMs: mixedAtMs + minutes(45), hazard }))
  await page.waitForSelector('.scan-cup .life.bell')
  await page.waitForSelector('[data-hazard=missing] >> text=HAZARD DATA MISSING – TREAT AS DANGER')
  await openHash(page, 'scan', codeOf({ shopTag: 'ZZZ' }))
  await page.waitForSelector('text=another shop')
  await close()
})

test('of a cup that it knows the earlier end of label and record binds, without the server and with it again', async () => {
  const { page, close } = await away('en')
  const life = async (code: string) => {
    await openHash(page, 'scan', code)
    await page.waitForFunction((text) => location.hash.endsWith(text), code)
    await page.waitForSelector('.scan-cup .ring')
    return (await page.textContent('.scan-cup .life')) ?? ''
  }
  const short = minutes(20)
  const long = minutes(20 * 60)
  const mixedAtMs = site.clock.now() - minutes(15)
  const labelled = (cup: string, lastsMs: number) =>
    codeOf({ cup, mixedAtMs, useByMs: mixedAtMs + lastsMs })
  const looks = async () => {
    await expect.poll(() => life(labelled(CUP, short))).toMatch(/^(0?5:00|0?[1-4]:\d\d)$/)
    // The record's own, as if no label had been read; a minute may end between the two.
    const isOwn = async () => {
      const own = await life(CUP)
      return (await life(labelled(CUP, long))).slice(0, 2) === own.slice(0, 2)
    }
    await expect.poll(isOwn).toBe(true)
    await expect.poll(() => life(labelled(BASE_CUP, short))).toMatch(/^(0?5:00|0?[1-4]:\d\d)$/)
  }
  await looks()
  await site.back()
  await page.waitForSelector('.outbox-status', { state: 'detached' })
  await looks()
  await close()
})
