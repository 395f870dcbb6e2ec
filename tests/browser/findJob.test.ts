import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { isInstalled, openHash } from './onScreen.ts'

/** A job of months ago is found by what somebody remembers of it. */

const DAY = 86_400_000
const START = Date.UTC(2026, 8, 14, 8)
const RED = 'REDREDAA'
const VAN = 'VANJAB22'

const browser = browserForTests()
let site: ShopSite
let page: Page

beforeAll(async () => {
  site = await serveShop(START)
  await site.send('OpenJob', {
    job: RED,
    title: 'Hatchback, front door',
    vehicle: 'car, red, XY 99 ZZ',
    colours: [{ key: 'body', code: 'R-17' }],
  })
  await site.send('AddNote', { job: RED, text: 'A run under the handle' })
  await site.send('CloseJob', { job: RED })
  site.clock.move(75 * DAY)
  await site.send('OpenJob', { job: VAN, title: 'Delivery van, rear corner' })
  const opened = await openPage(browser, site, {
    path: '/#/jobs',
    hasTouch: true,
    expected: /ERR_CONNECTION_REFUSED|Failed to fetch|net::/,
  })
  page = opened.page
})
afterAll(() => site.stop())

const found = () =>
  page.$$eval('[data-job]', (rows) => rows.map((row) => row.getAttribute('data-job')))
const find = async (typed: string) => {
  await page.fill('[name=find]', typed)
  await page.waitForSelector('[data-found=told]')
}

test.each([
  ['xy99', [RED]],
  ['hatch', [RED]],
  ['week 38', [RED]],
  ['2026-11', [VAN]],
  ['VANJAB', [VAN]],
])('by %s', async (typed, jobs) => {
  await find(typed)
  await expect.poll(found).toEqual(jobs)
})

test('what nothing has is said, and cleared the open jobs stand there again', async () => {
  await find('green truck')
  await page.waitForSelector('text=No job has “green truck”.')
  await page.tap('text=Clear')
  await expect.poll(found).toContain(VAN)
  await expect.poll(() => page.inputValue('[name=find]')).toBe('')
})

test('its history is opened by a touch, and every time of it has its date', async () => {
  await find('red')
  await shot(page, 'jobs-found-wall')
  await page.tap(`[data-job=${RED}]`)
  await page.waitForSelector('[data-type=JobOpened]')
  const times = () =>
    page.$$eval('.history .when', (all) => all.map((one) => one.textContent ?? ''))
  const dated = expect.stringMatching(/^\d\d:\d\d .*14 Sep/)
  await expect.poll(times).toEqual([dated, dated, dated])
})

test('without the server the jobs of this kiosk are found, and that is said', async () => {
  await openHash(page, 'jobs')
  await isInstalled(page)
  await site.away()
  await page.fill('[name=find]', 'delivery')
  await page.waitForSelector('[data-found=here]')
  await page.waitForSelector('text=only the jobs on this kiosk')
  await expect.poll(() => found()).toEqual([VAN])
  await site.back()
})
