import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { overflowPx } from './onScreen.ts'

/** The plan of the day: what next and when done, the day as it was and will be, and what would be otherwise. */

const START = Date.UTC(2026, 10, 25, 13)
const MINUTE = 60_000
const JOB = 'VANREAR2'
const OTHER = 'HATCHXB2'
const [QUARTER, DOOR, HOOD] = ['REARQTR2', 'SDEDR222', 'HHHH2222'] as const
const CUP = 'K7QDM2XV'
const ROUTE = [
  { stage: 'prep', work: 'abrade' },
  { stage: 'base', sheet: BASE.sheet },
  { stage: 'clear', sheet: CLEAR.sheet },
  { stage: 'cure', sheet: CLEAR.sheet },
]

const browser = browserForTests()
let site: ShopSite

beforeAll(async () => {
  site = await serveShop(START)
  const send = site.send
  await send('ChangeSettings', {
    timeZone: 'UTC',
    hours: { opensAt: '07:30', closesAt: '16:00' },
  })
  await send('SaveSheet', { sheet: { ...BASE, recoatWithin: [{ atC: 20, minutes: 300 }] } })
  await send('SaveSheet', { sheet: CLEAR })
  await send('SaveZone', { zone: 'booth', name: 'Booth' })
  await send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  await send('OpenJob', { job: JOB, title: 'Delivery van', vehicle: 'Van' })
  await send('OpenJob', { job: OTHER, title: 'Hatchback, hood' })
  const add = (job: string, panel: string, name: string, areaM2: number) =>
    send('AddPanel', { job, panel, name, operation: 'repair', areaM2, zone: 'booth', route: ROUTE })
  await add(JOB, QUARTER, 'Rear quarter, right', 1.1)
  await add(JOB, DOOR, 'Sliding door, right', 2)
  await add(OTHER, HOOD, 'Hood', 1.6)
  await send('DoPrepStep', { panel: QUARTER, step: 0 })
  site.clock.move(20 * MINUTE)
  await send('DoPrepStep', { panel: DOOR, step: 0 })
  await send('MixCup', { cup: CUP, sheet: BASE.sheet, totalMl: 900, job: JOB })
  await send('StartCoat', { panels: [QUARTER], cup: CUP })
  site.clock.move(4 * MINUTE)
  await send('FinishCoat', { panels: [QUARTER], usedMl: 140 })
  await send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
})
afterAll(() => site.stop())

const planned = async (page: Page): Promise<void> => {
  await page.waitForSelector('[data-next]')
  await page.waitForSelector('[data-plan] tbody tr')
}
const doneOf = (page: Page, job: string) => page.textContent(`[data-done-job=${job}] .digits`)

test('says what to spray next and why, and when each job is done with its spread', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/jobs' })
  await page.click('text=Day plan')
  await planned(page)
  // The coat that the plan begins with; which that is the plan's own tests judge.
  const { forecast } = (await (await fetch(`${site.url}/api/forecast`)).json()) as {
    forecast: { acts: { kind: string; panel: string }[] }
  }
  const firstCoat = forecast.acts.find(({ kind }) => kind === 'coat')
  await expect.poll(() => page.getAttribute('[data-next]', 'data-next')).toBe(firstCoat?.panel)
  await expect.poll(() => doneOf(page, JOB)).toMatch(/\d\d:\d\d.*\(\d\d:\d\d.* to \d\d:\d\d.*\)/)
  await page.waitForSelector(`[data-done-job=${JOB}] >> text=Decided by`)
  // What was is drawn full, the rest as an outline, the clock through both.
  await expect
    .poll(() => page.locator(`[data-lane=${QUARTER}] .bar.was`).count())
    .toBeGreaterThan(0)
  await expect
    .poll(() => page.locator(`[data-lane=${QUARTER}] .bar:not(.was)`).count())
    .toBeGreaterThan(0)
  await expect.poll(() => page.locator(`[data-lane=${QUARTER}] .now`).count()).toBe(1)
  await shot(page, 'day-plan-wall')
  await page.locator('[data-plan]').scrollIntoViewIfNeeded()
  await shot(page, 'day-plan-list')
  await close()
})

test('what would be otherwise stands beside it, and is dropped with a touch', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/jobs/day' })
  await planned(page)
  const before = await doneOf(page, JOB)
  const { head } = site.shops.ownWriter.state()
  await page.click('[data-pick=what-if] [data-value="p REARQTR2"]')
  await page.waitForSelector('[data-compared] >> text=later')
  await page.locator('[data-what-if]').scrollIntoViewIfNeeded()
  await shot(page, 'day-plan-what-if')
  await page.click('[data-act=drop-what-if]')
  await page.waitForSelector('[data-compared]', { state: 'detached' })
  expect(await doneOf(page, JOB)).toBe(before)
  expect(site.shops.ownWriter.state().head).toBe(head)
  await close()
})

test('a booth too cold, in a phone’s width: what would make it possible', async () => {
  const { page, close } = await openPage(browser, site, { size: 'phone', path: '/#/jobs/day' })
  await planned(page)
  expect(await overflowPx(page)).toBeLessThanOrEqual(0)
  await shot(page, 'day-plan-phone')
  await site.send('ReadClimate', { zone: 'booth', airC: 12, rh: 0.5 })
  await page.waitForSelector('[data-cannot=airOutside] >> text=Bring the air there')
  await shot(page, 'day-plan-cold-phone')
  await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
  await page.waitForSelector('[data-cannot]', { state: 'detached' })
  await close()
})

test('the shop’s own figures can be looked at: cases, median, spread, the sheet’s weight', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/jobs/day' })
  await planned(page)
  await page.click('[data-fold=learned] summary')
  await page.waitForSelector('[data-learned] >> text=spraying base')
  await page.locator('[data-learned]').scrollIntoViewIfNeeded()
  await shot(page, 'day-plan-learned')
  await close()
})

test('on paper stand the plan and no keys', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/jobs/day' })
  await planned(page)
  await page.emulateMedia({ media: 'print' })
  await expect.poll(() => page.isVisible('[data-plan]')).toBe(true)
  for (const hidden of ['[data-what-if]', '[data-act=print-day]', '.shell > header'])
    expect(await page.isVisible(hidden), hidden).toBe(false)
  await shot(page, 'day-plan-paper')
  await close()
})

test('in the evening: tonight or abrade, in Spanish too', async () => {
  await site.send('ChangeSettings', { language: 'es' })
  site.clock.move(155 * MINUTE)
  await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
  const { page, close } = await openPage(browser, site, { size: 'phone', path: '/#/jobs/day' })
  await page.waitForSelector('[data-tonight] >> text=o líjelo mañana')
  await shot(page, 'day-plan-tonight-es')
  await close()
})
