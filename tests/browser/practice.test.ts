import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { SIZES, shot, untilSilent } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { get, post, serverProcess } from '../support/serverProcess.ts'
import { lane, openHash, overflowPx, waitsFor } from './onScreen.ts'

/** The first minute: from an empty Wall into the practice shop, through it, and back. */

const browser = browserForTests()
const place = folderForTests()

const DOOR = 'SDEDR222'
const QUARTER = 'REARQTR2'

const start = () => serverProcess(place.folder, { FLASHBELL_PRACTICE_PORT: '0' })

async function open(url: string, size: keyof typeof SIZES = 'wall'): Promise<Page> {
  const page = await (await browser.newContext({ viewport: SIZES[size] })).newPage()
  await page.goto(url)
  return page
}

async function holdToStartOver(page: Page): Promise<void> {
  const keys = page.locator('.practice-bar [data-act=practiceKeys]')
  if (await keys.isVisible()) await keys.click()
  await page.hover('.practice-bar .hold')
  const startedOver = page.waitForEvent('load')
  await page.mouse.down()
  await startedOver
  await page.mouse.up()
}

test('one touch leads from an empty Wall to an invented shop, which says that it is one, and back', async () => {
  const { url } = await start()
  const page = await open(url)
  await untilSilent(page)
  await page.waitForSelector('[data-act=practice]')
  expect(await page.locator('.practice-bar').count()).toBe(0)
  await page.waitForSelector('.no-sound')
  await shot(page, 'practice-offer')
  await page.click('[data-act=practice]')
  await page.waitForSelector(lane(DOOR))
  const practice = page.url()
  expect(new URL(practice).origin).not.toBe(url)
  await expect.poll(() => page.textContent('.practice-bar')).toContain('clock runs 10 times')
  // The touch that led here was a touch of the same computer: the sound is on.
  await page.waitForSelector('[data-sound=ready]')
  await shot(page, 'practice-wall')
  expect(await overflowPx(page)).toBe(0)
  // Elsewhere the head says it, and takes no height for it.
  await openHash(page, 'jobs')
  await page.waitForSelector('header [data-practice] >> text=PRACTICE ×10')
  expect(await page.locator('.practice-bar, p.line').count()).toBe(0)
  await shot(page, 'practice-jobs')
  await openHash(page, 'booth')
  await page.waitForSelector('p.line >> text=Practice shop')
  await openHash(page, 'wall')

  // One panel refuses its next coat, in a sentence with what is left of the wait.
  await page.click(lane(QUARTER))
  await page.click('.act-sheet [data-act=StartCoat]')
  await page.waitForSelector('.act-sheet .refusal .sentence')
  await shot(page, 'practice-refusal')
  // The other one may go on within half a minute, and rings.
  await page.waitForSelector(`${lane(DOOR)} .bell`, { timeout: 90_000 })
  await shot(page, 'practice-bell')

  await page.click('.practice-bar a')
  await page.waitForURL(`${url}/**`)
  await page.waitForSelector('[data-act=practice]')
  expect(Object.keys((await get(`${url}/api/state`)).body.state.things.job)).toEqual([])
  // The shop that runs is found again, not made again.
  await page.click('[data-act=practice]')
  await page.waitForURL(practice)
  await page.context().close()
})

test('holding a button drops what was practiced, and the morning starts over', async () => {
  const { url } = await start()
  const practice: string = (await post(`${url}/api/practice`, '')).body.url
  const done = { id: 'p1', type: 'RemovePanel', data: { panel: DOOR } }
  expect((await post(`${practice}api/commands`, done)).status).toBe(200)
  const page = await open(practice, 'phone')
  await untilSilent(page)
  await page.waitForSelector(lane(QUARTER))
  expect(await page.locator(lane(DOOR)).count()).toBe(0)
  // A page that was never touched is silent, and says so largely.
  const banner = await page.waitForSelector('.no-sound')
  await page.waitForSelector('.bell.card')
  await shot(page, 'practice-phone')
  await page.evaluate(() => document.fonts.ready)
  const bars = ['.practice-bar', '.no-sound', '.bell-row']
  for (const bar of bars)
    expect((await page.locator(bar).boundingBox())?.height, bar).toBeLessThan(70)
  expect(await page.locator('.now p').count()).toBe(0)
  // With all that is said above it, the bell can still be answered.
  const box = await page.locator('.bell.card').first().boundingBox()
  const nav = await page.locator('.shell nav').boundingBox()
  expect((box?.y ?? 0) + (box?.height ?? Infinity)).toBeLessThanOrEqual(nav?.y ?? 0)
  expect(await overflowPx(page)).toBe(0)
  await banner.click()
  await page.waitForSelector('.no-sound', { state: 'detached' })
  await holdToStartOver(page)
  await waitsFor(page, DOOR, 'flash')
  await page.context().close()
})
