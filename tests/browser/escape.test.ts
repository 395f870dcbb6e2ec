import type { Page } from 'playwright-core'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { openPage } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { CLEAR } from '../support/sheets.ts'
import { lane } from './onScreen.ts'

/** What opens is reached by keys and closed by Escape, and the focus is then where it was. */

const START = Date.UTC(2026, 10, 25, 8)
const HOUR = 3_600_000
const JOB = 'VANREAR2'
const PANELS = ['REARQTR2', 'SDEDR222'] as const
const CUP = 'K7QDM2XV'

const browser = browserForTests()
let site: ShopSite
beforeEach(async () => {
  site = await serveShop(START)
  await site.send('SaveSheet', { sheet: CLEAR })
  await site.send('AddPerson', { person: 'ana', name: 'Ana', role: 'painter' })
  await site.send('AddPerson', { person: 'ben', name: 'Ben', role: 'lead' })
  for (const zone of ['booth', 'bench'])
    await site.send('ReadClimate', { zone, airC: 20, rh: 0.5, surfaceC: 20 })
  await site.send('OpenJob', { job: JOB, title: 'Delivery van', vehicle: 'Van' })
  const route = [{ stage: 'clear', sheet: CLEAR.sheet }]
  for (const panel of PANELS)
    await site.send('AddPanel', {
      ...{ job: JOB, panel, name: panel, operation: 'repair', areaM2: 0.8, route },
    })
  await site.send('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 300 })
})
afterEach(() => site.stop())

const focused = (page: Page) =>
  page.evaluate(() => {
    const at = document.activeElement
    return at?.closest('[data-panel]')?.getAttribute('data-panel') ?? at?.className
  })

/** What Tab is on, so many times over. */
async function tabbed(page: Page, times: number): Promise<(string | undefined)[]> {
  const all: (string | undefined)[] = []
  for (let n = 0; n < times; n += 1) {
    await page.keyboard.press('Tab')
    all.push(await page.evaluate(() => document.activeElement?.closest('[role]')?.className))
  }
  return all
}

test('a lane opened by key has the focus in its sheet, and Escape brings it back', async () => {
  const { page, close } = await openPage(browser, site)
  const first = lane(PANELS[0])
  await page.focus(first)
  await page.keyboard.press('Enter')
  await page.waitForSelector('.act-sheet')
  expect(await focused(page)).toContain('act-sheet')
  await page.keyboard.press('Escape')
  await page.waitForSelector('.act-sheet', { state: 'detached' })
  expect(await focused(page)).toBe(PANELS[0])
  // Of several the next is chosen among the lanes: the focus stays with them.
  await page.click('[data-act=several]')
  await page.focus(first)
  await page.keyboard.press('Enter')
  await page.waitForSelector('.act-sheet')
  expect(await focused(page)).toBe(PANELS[0])
  await page.keyboard.press('Escape')
  await page.waitForSelector('.act-sheet', { state: 'detached' })
  await close()
})

test('among the names Tab stays, and Escape goes back to the button', async () => {
  const { page, close } = await openPage(browser, site)
  await page.focus('.who-button')
  await page.keyboard.press('Enter')
  await page.waitForSelector('.who-dialog')
  expect(await focused(page)).toBe('who-dialog')
  // Two people, nobody, back: and again from the first.
  expect(new Set(await tabbed(page, 6))).toEqual(new Set(['who-dialog']))
  await page.keyboard.press('Shift+Tab')
  await page.keyboard.press('Escape')
  await page.waitForSelector('.who-dialog', { state: 'detached' })
  expect(await focused(page)).toBe('who-button')
  await close()
})

test('under a pot life past Escape closes nothing', async () => {
  const { page, close } = await openPage(browser, site)
  await page.click(lane(PANELS[0]))
  await page.waitForSelector('.act-sheet')
  site.clock.move(6 * HOUR)
  await page.waitForSelector('.takeover')
  await page.keyboard.press('Escape')
  await page.click('.takeover [data-act=carryOn]')
  await page.waitForSelector('.takeover', { state: 'detached' })
  expect(await page.locator('.act-sheet').count()).toBe(1)
  await close()
})

test('on another page Tab goes on within it, and not from the top of all', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/jobs' })
  await page.focus(`a[href="#/jobs/${JOB}"]`)
  await page.keyboard.press('Enter')
  await page.waitForSelector(`[href="#/jobs/${JOB}/history"]`)
  expect(await page.evaluate(() => document.activeElement?.tagName)).toBe('MAIN')
  await page.keyboard.press('Tab')
  expect(await page.evaluate(() => document.activeElement?.closest('main') !== null)).toBe(true)
  // The navigation stays: its key keeps the focus.
  await page.focus('nav a[href="#/bench"]')
  await page.keyboard.press('Enter')
  await page.waitForSelector('.bench')
  expect(await page.evaluate(() => document.activeElement?.closest('nav') !== null)).toBe(true)
  await close()
})
