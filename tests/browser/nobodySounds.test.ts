import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { evaluateUntouched, openBrowser, openPage, shot, untilSilent } from '../support/browser.ts'
import { serveShop } from '../support/browserShop.ts'
import { CUP, MINUTE, openVan, panelId, START, setUp } from './busyShop.ts'

/** A bell that nobody would hear is said before it is due, on every screen of every silent kiosk. */

let silent: Browser
let loud: Browser
beforeAll(async () => {
  silent = await openBrowser()
  loud = await openBrowser(['--autoplay-policy=no-user-gesture-required'])
})
afterAll(async () => {
  await Promise.all([silent.close(), loud.close()])
})

test('no kiosk has sound and a bell is near: until one of them can be heard', async () => {
  const site = await serveShop(START)
  await setUp(site)
  await openVan(site, 1)
  await site.send('StartCoat', { panels: [panelId(0)], cup: CUP })
  site.clock.move(MINUTE)
  await site.send('FinishCoat', { panels: [panelId(0)], cup: CUP })
  site.clock.move(6 * MINUTE)
  const { page, close } = await openPage(silent, site, { path: '/#/jobs' })
  await untilSilent(page)
  await page.waitForSelector('.line.loud >> text=NO SOUND ANYWHERE, bell in')
  await shot(page, 'nobody-sounds')
  const other = await openPage(loud, site)
  await other.page.waitForSelector('.lamp[data-sound=ready]')
  // Beside other work the lamp in the head says it alone; the Wall has a bar of its own.
  await page.waitForSelector('.line.loud', { state: 'detached' })
  await page.waitForSelector('.lamp[data-sound=silent]')
  await evaluateUntouched(page, `location.hash = '#/wall'`)
  await page.waitForSelector('.no-sound >> text=NO SOUND – touch to enable')
  // Its browser is closed: after three words that did not come it is not counted on.
  await other.close()
  site.clock.move(MINUTE)
  await page.waitForSelector('.no-sound >> text=NO SOUND ANYWHERE')
  await page.click('.no-sound')
  await page.waitForSelector('.no-sound', { state: 'detached' })
  await expect.poll(() => page.textContent('.lamp')).toContain('bell on')
  await close()
  await site.stop()
})

test('in Spanish a silent wall’s head is one row, with the air and the way to every screen', async () => {
  const site = await serveShop(START)
  await setUp(site, { language: 'es' })
  await openVan(site, 1)
  const { page, close } = await openPage(silent, site, { path: '/#/jobs' })
  await untilSilent(page)
  await page.waitForSelector('header .lamp >> text=SIN SONIDO')
  await page.waitForSelector('header .climate >> text=margen de rocío')
  await page.evaluate(() => document.fonts.ready)
  const middles = await page.evaluate(() =>
    [...document.querySelectorAll('header .climate, header .lamp, header nav .button')].map((e) => {
      const { top, height } = e.getBoundingClientRect()
      return top + height / 2
    }),
  )
  expect(middles.length).toBe(7)
  expect(Math.max(...middles) - Math.min(...middles)).toBeLessThan(20)
  await close()
  await site.stop()
})
