import type { Page } from 'playwright-core'
import { afterEach, expect, test } from 'vitest'
import { openPage, type PageOptions, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { START, setUp } from './busyShop.ts'

/** What holds for the whole shop, and the language that it speaks. */

const browser = browserForTests(SOUND)
let site: ShopSite
afterEach(() => site.stop())

async function open(options: PageOptions = {}) {
  site = await serveShop(START)
  await setUp(site)
  const opened = await openPage(browser, site, { ...options, path: '/#/setup/shop' })
  await opened.page.waitForSelector('.setup')
  return opened
}

const field = (page: Page, name: string) => page.locator(`[name="${name}"]`)

test('language, units, clock and time zone are chosen for the whole shop, and change at once', async () => {
  const { page, close } = await open()
  await page.waitForSelector('.climate >> text=23.5 °C')
  await page.click('[data-value=F]')
  await page.waitForSelector('.climate >> text=74 °F')
  // A difference has no 32 in it: the surface lies 9.0 °C above the dew point.
  await page.waitForSelector('.climate >> text=surface 16 °F above dew point')
  await page.click('[data-value="12h"]')
  await page.waitForSelector('time >> text=9:00 AM')
  await field(page, 'timeZone').fill('Mars/Olympus')
  await page.click('[data-act=ChangeSettings]')
  await page.waitForSelector('[role=alert] >> text=IANA time zone')
  await field(page, 'timeZone').fill('America/Chicago')
  await field(page, 'hours.opensAt').fill('07:30')
  await field(page, 'hours.closesAt').fill('17:00')
  await field(page, 'bells.escalateAfterS.first').fill('90')
  await field(page, 'bells.escalateAfterS.second').fill('45')
  await field(page, 'bells.riseDb').fill('3')
  await page.keyboard.press('Enter')
  await page.waitForSelector('[role=alert] >> text=more seconds than the first')
  await field(page, 'bells.escalateAfterS.second').fill('240')
  // 7.2 °F are 4 °C: a difference.
  await field(page, 'limits.dewMarginC').fill('7.2')
  await page.keyboard.press('Enter')
  await page.waitForSelector('time >> text=2:00 AM')
  const settings = Object.values(site.shops.ownWriter.state().things.settings)[0]?.context
  expect(settings).toMatchObject({ hours: { opensAt: '07:30' }, limits: { dewMarginC: 4 } })
  expect(settings).toMatchObject({
    bells: { escalateAfterS: { first: 90, second: 240 }, riseDb: 3 },
  })
  await page.click('[data-value=es]')
  await page.waitForSelector('nav >> text=Ajustes')
  await shot(page, 'setup-shop')
  await close()
})

test('a language is whole before it is shown: its second part came first, or could not be had at once', async () => {
  const { page, close } = await open({ expected: /ERR_FAILED/, serviceWorkers: 'block' })
  const first = /\/assets\/es-[^/]+\.js$/
  let asked = 0
  await page.context().route(first, async (route) => {
    asked += 1
    await page.waitForTimeout(800)
    await (asked === 1 ? route.abort() : route.continue())
  })
  await page.click('[data-value=es]')
  await page.waitForSelector('nav >> text=Ajustes')
  expect(asked).toBe(1)
  await close()
})

test('a screen whose file could not be had at once opens all the same', async () => {
  const { page, close } = await open({ expected: /ERR_FAILED/, serviceWorkers: 'block' })
  let asked = 0
  await page.context().route(/\/assets\/calculator-[^/]+\.js$/, async (route) => {
    asked += 1
    await route.abort()
  })
  await page.evaluate(() => {
    location.hash = '#/calculator'
  })
  await page.waitForSelector('[data-screen=calculator] h2')
  expect(asked).toBe(1)
  await close()
})
