import { expect, test } from 'vitest'
import { openPage } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { serveShop } from '../support/browserShop.ts'
import { MINUTE, START, setUp } from './busyShop.ts'
import { isInstalled } from './onScreen.ts'

const browser = browserForTests()

test('a form typed while the server is away is kept, and saved when it is back', async () => {
  const site = await serveShop(START)
  await setUp(site, {})
  const path = '/#/setup/guns'
  const { page, close } = await openPage(browser, site, { path, expected: /Failed to load|ERR_/ })
  await page.waitForSelector('.setup')
  await isInstalled(page)
  await site.away()
  await page.waitForSelector('.away')
  await page.locator('[name=name]').fill('Gun 4')
  await page.click('[data-act=SaveGun]')
  await page.waitForSelector('.setup-rows >> text=Gun 4')
  await site.back()
  site.clock.move(MINUTE)
  await expect.poll(() => Object.keys(site.shops.ownWriter.state().things.gun)).toContain('gun-4')
  await close()
  await site.stop()
})
