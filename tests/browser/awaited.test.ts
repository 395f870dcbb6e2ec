import { afterEach, beforeEach, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { CLEAR } from '../support/sheets.ts'
import { madeContext } from '../support/things.ts'

/** What was used and never recorded is said on every screen, with what to do about it. */

const START = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const JOB = 'VANREAR2'
const PANEL = 'REARQTR2'
const CUP = 'K7QDM2XV'

const browser = browserForTests(SOUND)
let site: ShopSite

beforeEach(async () => {
  site = await serveShop(START)
  await site.send('SaveSheet', { sheet: CLEAR })
  await site.send('OpenJob', { job: JOB, title: 'Delivery van, rear right corner' })
  const panel = { job: JOB, panel: PANEL, name: 'Rear quarter', operation: 'repair', areaM2: 1.2 }
  await site.send('AddPanel', { ...panel, route: [{ stage: 'clear', sheet: CLEAR.sheet }] })
  const at = site.clock.now()
  site.clock.move(2 * MINUTE)
  await site.send('StartCoat', { panels: [PANEL], cup: CUP }, { at, enteredAt: at })
  await site.send('AbradePanel', { panel: 'SDEDR222', grit: 800 }, { at, enteredAt: at })
  site.clock.move(11 * MINUTE)
})
afterEach(() => site.stop())

const panelNow = () => madeContext(site.shops.ownWriter.state(), 'panel', PANEL)

test('a cup that nobody recorded is mixed from its line, as of before it was used', async () => {
  const { page, close } = await openPage(browser, site, { hasTouch: true })
  const line = page.locator(`[data-not-known="${CUP}"]`)
  await line.waitFor()
  await expect.poll(() => line.textContent()).toContain(`Cup ${CUP} is not known.`)
  await shot(page, 'awaited')
  await line.locator('a').tap()
  await page.tap('[data-act=next]')
  await page.fill('[name=totalMl]', '300')
  await page.tap('[data-step=pour]')
  await page.waitForSelector('[data-next="0"]')
  await page.tap('[data-act=asShown]')
  await page.waitForSelector('[data-next="1"]')
  // By its key: a second touch within a moment is a slip, and does not count.
  await page.press('[data-act=asShown]', 'Enter')
  await page.tap('[data-act=MixCup]:enabled')
  await line.waitFor({ state: 'detached' })
  const cup = madeContext(site.shops.ownWriter.state(), 'cup', CUP)
  expect(cup.mixedAt).toBeLessThan(panelNow().open?.startedAt ?? 0)
  await expect.poll(() => panelNow().open?.holds?.[0]?.sheet).toBe(CLEAR.sheet)
  await close()
})

test('what waits for a panel that never comes is voided by a hold', async () => {
  const { page, close } = await openPage(browser, site, { hasTouch: true })
  const line = page.locator('[data-not-known="SDEDR222"]')
  await line.waitFor()
  await expect.poll(() => line.textContent()).toContain('Panel SDEDR222 is not known.')
  // The first touch wakes the sound, and the line that asks for it goes: nothing may move under a hold.
  await page.tap('.lamp')
  await page.waitForSelector('.lamp[data-sound=ready]')
  await line.locator('button').hover()
  await page.mouse.down()
  await line.waitFor({ state: 'detached' })
  await page.mouse.up()
  await expect.poll(() => panelNow().open?.cups).toEqual([CUP])
  await close()
})
