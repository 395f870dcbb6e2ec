import { afterEach, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { CLEAR } from '../support/sheets.ts'
import { lane, overflowPx } from './onScreen.ts'

/** A panel that nobody measured, in air that was: asked for beside START, and said on its lane until it is known. */

const START = Date.UTC(2026, 10, 25, 8)
const JOB = 'VANREAR2'
const PANEL = 'REARQTR2'
const CUP = 'K7QDM2XV'

const browser = browserForTests(SOUND)
let site: ShopSite
afterEach(() => site.stop())

const entries = () => site.shops.ownWriter.state().things.panel[PANEL]?.entries ?? []

test.each(['wall', 'phone'] as const)('is asked for and measured, on a %s', async (size) => {
  site = await serveShop(START)
  await site.send('SaveSheet', { sheet: CLEAR })
  await site.send('OpenJob', { job: JOB, title: 'Delivery van', vehicle: 'Van' })
  const about = { job: JOB, name: 'Rear quarter', operation: 'repair' }
  await site.send('AddPanel', {
    ...about,
    panel: PANEL,
    route: [{ stage: 'clear', sheet: CLEAR.sheet }],
  })
  await site.send('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 300 })
  await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
  const { page, close } = await openPage(browser, site, { size })
  await page.click(lane(PANEL))
  await page.waitForSelector('.act-sheet [data-asks=surface] >> text=PART COLD?')
  await shot(page, `part-cold-asked-${size}`)
  expect(await overflowPx(page)).toBe(0)
  // Started all the same: nothing is refused for want of a thermometer.
  await page.locator('.act-sheet button.main').first().click()
  await expect.poll(() => entries().at(-1)?.data.asked).toEqual(['surface'])
  expect(entries().at(-1)?.notJudged).toEqual(['dewPoint'])
  await page.waitForSelector(`${lane(PANEL)} >> text=PART COLD?`)
  await shot(page, `part-cold-lane-${size}`)
  await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 17 })
  await page.waitForSelector(`${lane(PANEL)} >> text=PART COLD?`, { state: 'detached' })
  await close()
})
