import { afterAll, beforeAll, expect, test } from 'vitest'
import { shopTag } from '../../labels/code.ts'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { isInstalled, lane, waitsFor } from './onScreen.ts'

/** The van's clear coats, pressed through Wall and Scan by hand; time is moved in the server. */

const START = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const JOB = 'VANREAR2'
const QUARTER = 'REARQTR2'
const DOOR = 'SDEDR222'
const CUP = 'K7QDM2XV'

const browser = browserForTests(SOUND)
let site: ShopSite

beforeAll(async () => {
  site = await serveShop(START)
  const route = [
    { stage: 'clear', sheet: CLEAR.sheet },
    { stage: 'cure', sheet: CLEAR.sheet },
    { stage: 'polish' },
  ]
  await site.send('SaveSheet', { sheet: CLEAR })
  await site.send('SaveSheet', { sheet: BASE })
  await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  await site.send('ReadClimate', { zone: 'bench', airC: 20, rh: 0.5 })
  await site.send('OpenJob', { job: JOB, title: 'Delivery van, rear right corner' })
  const panel = { job: JOB, operation: 'repair', areaM2: 1, route }
  await site.send('AddPanel', { ...panel, panel: QUARTER, name: 'Rear quarter, right' })
  await site.send('AddPanel', { ...panel, panel: DOOR, name: 'Sliding door, right' })
  await site.send('MixCup', {
    cup: CUP,
    sheet: CLEAR.sheet,
    totalMl: 600,
    job: JOB,
    activator: 'standard',
  })
  await site.send('PrintLabel', { cup: CUP })
})
afterAll(() => site.stop())

test('a coat is started and finished from a lane, its flash counts down, the bell sounds when it is over, and not before', async () => {
  const { page, close } = await openPage(browser, site)
  await waitsFor(page, QUARTER, 'coat')
  await page.click(lane(QUARTER))
  await page.click('[data-act="StartCoat"]')
  await waitsFor(page, QUARTER, 'spraying')
  site.clock.move(3 * MINUTE)
  await page.click(lane(QUARTER))
  await page.click('[data-act="FinishCoat"]')
  await waitsFor(page, QUARTER, 'flash')
  await shot(page, 'van-flash-wall')

  site.clock.move(9 * MINUTE)
  await page.waitForFunction(
    (selector) => /^0:[0-5]/.test(document.querySelector(`${selector} .big`)?.textContent ?? ''),
    lane(QUARTER),
  )
  expect(await page.locator('[data-bell="coatReady"]').count()).toBe(0)
  expect(site.shops.ownWriter.state().things.bell).toEqual({})

  site.clock.move(MINUTE)
  await waitsFor(page, QUARTER, 'coat')
  await page.waitForSelector('[data-bell="coatReady"]')
  await shot(page, 'van-bell-wall')
  // The log keeps that it rang, once.
  await expect.poll(() => Object.keys(site.shops.ownWriter.state().things.bell)).toHaveLength(1)
  await page.click('[data-act="acknowledge"]')
  await page.waitForSelector('[data-bell="coatReady"]', { state: 'detached' })
  await expect
    .poll(() => Object.values(site.shops.ownWriter.state().things.bell)[0]?.context)
    .toMatchObject({ acknowledged: [{ by: null }] })
  await close()
})

test('a start before flash is over is refused with its reason and when it clears; a reason lets it go on', async () => {
  const { page, close } = await openPage(browser, site, {
    size: 'phone',
    expected: /status of 409/,
  })
  await waitsFor(page, DOOR, 'coat')
  await page.click(lane(DOOR))
  await page.click('[data-act="StartCoat"]')
  await waitsFor(page, DOOR, 'spraying')
  await page.click(lane(DOOR))
  await page.click('[data-act="FinishCoat"]')
  await waitsFor(page, DOOR, 'flash')
  await page.click(lane(DOOR))
  await page.click('[data-act="StartCoat"]')
  await page.waitForSelector('.refusal [role=alert] >> text=has not flashed')
  await page.waitForSelector('.refusal >> text=Clears in')
  await shot(page, 'van-refusal-phone')
  await page.click('.refusal summary')
  await page.click('text=deliberate technique')
  await waitsFor(page, DOOR, 'spraying')
  await expect
    .poll(() => site.shops.ownWriter.state().things.panel[DOOR]?.entries.at(-1)?.override)
    .toMatchObject({ reason: 'DELIBERATE_TECHNIQUE', codes: ['flashNotOver'] })
  await page.click(lane(DOOR))
  await page.click('[data-act="FinishCoat"]')
  await close()
})

test('a cup typed on Scan shows what it has left, and starts the coat that is due', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/scan' })
  await page.fill('[name=code]', CUP.slice(0, 4).toLowerCase())
  await page.keyboard.press('Enter')
  await page.waitForSelector('.life')
  await expect.poll(() => page.textContent('.scan-cup h2')).toContain('K7QD')
  await expect.poll(() => page.textContent('.scan-cup')).toContain('2:1')
  await expect.poll(() => page.textContent('.scan-cup')).toContain('Rear quarter, right')
  await shot(page, 'van-scan-wall')
  await page.click('[data-act="StartCoat"]')
  await expect
    .poll(() => site.shops.ownWriter.state().things.panel[QUARTER]?.value)
    .toMatchObject({ route: { clear: 'coating' } })
  await close()
})

test('another shop, a wrong checksum, a label from the future, an unknown cup: a sentence, and nothing done', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/scan', size: 'phone' })
  // Until the shop is there nobody can say what a code is of.
  await page.waitForSelector('.scan h2')
  const head = site.shops.ownWriter.state().head
  const svg = await (await fetch(`${site.url}/api/labels/cup/${CUP}.svg`)).text()
  expect(svg).toContain('<svg')
  const tag = shopTag(site.shops.own)
  for (const [typed, says] of [
    ['ZZZZ', 'Cup ZZZZ is not known'],
    [`C1-${tag}-${CUP}-STOCK-CL2-2X1-0-60-11278-00`, 'checksum'],
    ['https://example.org', 'not one of our labels'],
    ['K7QO', 'Ids have no O'],
  ] as const) {
    await page.fill('[name=code]', typed)
    await page.press('[name=code]', 'Enter')
    await page.waitForSelector(`[role=alert] >> text=${says}`)
  }
  await shot(page, 'van-scan-wrong-phone')
  expect(site.shops.ownWriter.state().head).toBe(head)
  await close()
})

test('with the server away the Wall says so and counts on; when it is back it catches up', async () => {
  const { page, close } = await openPage(browser, site, { expected: /Failed to load|ERR_/ })
  await page.waitForSelector('.lane')
  await isInstalled(page)
  await site.away()
  await page.waitForSelector('.away')
  const seen = await page.textContent('.cup .left')
  await page.click('a[href="#/scan/K7QDM2XV"]')
  await page.waitForSelector('.life')
  const before = await page.textContent('.life')
  await page.waitForFunction((was) => document.querySelector('.life')?.textContent !== was, before)
  expect(seen).toContain('min')
  await site.back()
  await site.send('EmptyCup', { cup: CUP, how: 'discarded' })
  await page.waitForSelector('.away', { state: 'detached' })
  await page.waitForSelector('.life >> text=Emptied')
  await close()
})
