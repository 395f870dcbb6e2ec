import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openBrowser, openPage, type Site, serveKiosk, shot } from '../support/browser.ts'

let browser: Browser
let site: Site
beforeAll(async () => {
  ;[browser, site] = await Promise.all([openBrowser(), serveKiosk()])
})
afterAll(async () => {
  await browser.close()
  await site.stop()
})

const looks = (['wall', 'phone'] as const).flatMap((size) =>
  (['light', 'dark'] as const).map((colorScheme) => ({ size, colorScheme })),
)

test.each(looks)('the frame stands on a $size in the $colorScheme', async (look) => {
  const { page, close } = await openPage(browser, site, look)
  await page.waitForSelector('.no-sound')
  await shot(page, `frame-silent-${look.size}-${look.colorScheme}`)
  await page.click('.no-sound')
  await page.waitForSelector('.lamp[data-sound=ready]')
  await shot(page, `frame-${look.size}-${look.colorScheme}`)
  const overflow = await page.evaluate(
    () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
  )
  expect(overflow).toBe(0)
  await close()
})
