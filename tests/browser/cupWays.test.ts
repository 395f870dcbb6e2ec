import type { Page } from 'playwright-core'
import { afterEach, expect, test } from 'vitest'
import { openPage, type Size, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { overflowPx } from './onScreen.ts'

/** Away from the Wall too, the first key of a refused cup is the way out, and what is past is said before it is pressed. */

const MINUTE = 60_000
const [JOB, PANEL, CUP, OTHER] = ['VANREAR2', 'REARQTR2', 'K7QDM2XV', 'M3TDM2XV']
const LOOKS = [
  ['wall', 'en', 'ENDED'],
  ['phone', 'es', 'VENCIÓ'],
] as const

const browser = browserForTests()
let site: ShopSite
afterEach(() => site.stop())

/** A panel that is due for clear, and its cup, this many minutes old; of two guns one holds base. */
async function van(language: string, ageMin: number) {
  site = await serveShop(Date.UTC(2026, 10, 25, 8))
  await site.send('ChangeSettings', { language })
  for (const sheet of [CLEAR, BASE]) await site.send('SaveSheet', { sheet })
  for (const gun of ['gun-1', 'gun-2'])
    await site.send('SaveGun', { gun, name: gun, needleMm: 1.3, inletKpa: 200 })
  await site.send('OpenJob', { job: JOB, title: 'Delivery van' })
  const route = [{ stage: 'clear', sheet: CLEAR.sheet }]
  const panel = { job: JOB, panel: PANEL, name: 'Rear quarter', operation: 'repair', areaM2: 1 }
  await site.send('AddPanel', { ...panel, route })
  await site.send('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 300, job: JOB })
  await site.send('MixCup', { cup: OTHER, sheet: BASE.sheet, totalMl: 300 })
  await site.send('LoadGun', { gun: 'gun-2', cup: OTHER })
  site.clock.move(ageMin * MINUTE)
  await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
}

const open = (size: Size, path: string) =>
  openPage(browser, site, { size, path, expected: /status of 409/, hasTouch: true })
/** A cup past its time fills the screen until somebody has seen it. */
const openPast = async (size: Size, path: string) => {
  const opened = await open(size, path)
  await opened.page.tap('.takeover [data-act=carryOn]')
  await opened.page.waitForSelector('.takeover', { state: 'detached' })
  return opened
}
/** The keys of a refusal in the order in which they are drawn: where it leads, or what it does. */
const refusalKeys = (page: Page) =>
  page
    .locator('.refusal button, .refusal a, .refusal summary')
    .evaluateAll((all) =>
      all.map((e) => e.getAttribute('href') ?? e.getAttribute('data-act') ?? e.tagName),
    )
const MIX = `#/bench/${CLEAR.sheet}/${JOB}`

test.each(LOOKS)(
  'a start from a cup that ended leads to a new mix on Scan: %s, %s',
  async (size, language) => {
    await van(language, 90)
    const { page, close } = await openPast(size, `/#/scan/${CUP}`)
    await page.tap('[data-act=StartCoat]')
    await page.waitForSelector('.refusal summary')
    expect((await refusalKeys(page)).slice(0, 2)).toEqual([MIX, 'SUMMARY'])
    expect(await overflowPx(page)).toBe(0)
    await shot(page, `cup-way-scan-${size}`)
    await close()
  },
)

test.each(LOOKS)(
  'that a cup ended is said before it is loaded, and mixing comes first: %s, %s',
  async (size, language, ended) => {
    await van(language, 90)
    const { page, close } = await openPast(size, `/#/cups/${CUP}/load`)
    await page.waitForSelector(`[role=alert] >> text=${ended}`)
    expect(await page.getAttribute('a.main', 'href')).toBe(MIX)
    const loaded = page.locator('button[data-act=LoadGun]')
    expect(await loaded.evaluate((key) => key.classList.contains('main'))).toBe(false)
    await shot(page, `cup-way-load-${size}`)
    await page.tap('[data-pick=gun] [data-value=gun-1]')
    await loaded.tap()
    await page.waitForSelector('.refusal summary')
    expect((await refusalKeys(page)).slice(0, 2)).toEqual([MIX, 'SUMMARY'])
    expect(await overflowPx(page)).toBe(0)
    await page.locator('.refusal').scrollIntoViewIfNeeded()
    await shot(page, `cup-way-loaded-${size}`)
    await close()
  },
)

test('a gun that holds something else is cleaned from the form that loads it', async () => {
  await van('en', 5)
  const { page, close } = await open('wall', `/#/cups/${CUP}/load`)
  await page.tap('[data-pick=gun] [data-value=gun-2]')
  const loaded = page.locator('button[data-act=LoadGun]')
  expect(await loaded.evaluate((key) => key.classList.contains('main'))).toBe(true)
  await loaded.tap()
  await page.waitForSelector('.refusal [data-act=CleanGun].main')
  expect((await refusalKeys(page)).slice(0, 2)).toEqual(['CleanGun', 'SUMMARY'])
  expect(await loaded.evaluate((key) => key.classList.contains('main'))).toBe(false)
  await page.tap('.refusal [data-act=CleanGun]')
  const gun = () => site.shops.ownWriter.state().things.gun['gun-2']?.value
  await expect.poll(gun).toBe('clean')
  await page.waitForSelector('.refusal', { state: 'detached' })
  await loaded.tap()
  await expect.poll(gun).toBe('loaded')
  await close()
})
