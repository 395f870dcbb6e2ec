import { afterAll, beforeAll, expect, test } from 'vitest'
import { openPage, type Size, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { CLEAR } from '../support/sheets.ts'
import { AXE, problemsNow } from './audit.ts'
import { rulesFor } from './targets.ts'

/** A kiosk sends days later what it kept: the closed job says what that showed, and somebody decides. */

const START = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const [JOB, DOOR, CUP] = ['VANJAB22', 'DRDR2222', 'CRCR2222']

const browser = browserForTests()
let site: ShopSite

beforeAll(async () => {
  site = await serveShop(START)
  const { send, clock } = site
  await send('SaveSheet', { sheet: CLEAR })
  await send('SaveZone', { zone: 'booth', name: 'Booth' })
  await send('OpenJob', { job: JOB, title: 'Delivery van, rear right corner' })
  await send('AddPanel', {
    ...{ job: JOB, panel: DOOR, name: 'Rear door', operation: 'repair', areaM2: 1, zone: 'booth' },
    route: [{ stage: 'clear', sheet: CLEAR.sheet, coats: { least: 1, planned: 1, most: 3 } }],
  })
  await send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  await send('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 600, zone: 'booth', job: JOB })
  clock.move(MINUTE)
  await send('StartCoat', { panels: [DOOR], cup: CUP })
  clock.move(2 * MINUTE)
  await send('FinishCoat', { panels: [DOOR] })
  const at = clock.now()
  clock.move(90 * MINUTE)
  await send('PassPanel', { panel: DOOR })
  await send('EmptyCup', { cup: CUP, how: 'used' })
  await send('ClearZone', { zone: 'booth', how: 'gauge' })
  await send('CloseJob', { job: JOB })
  clock.move(10 * MINUTE)
  const then = (min: number) => ({ at: at + min * MINUTE, enteredAt: at + min * MINUTE })
  await send('StartCoat', { panels: [DOOR], cup: CUP }, then(1))
  await send('FinishCoat', { panels: [DOOR] }, then(3))
})
afterAll(() => site.stop())

const open = (size: Size, path: string) =>
  openPage(browser, site, {
    // What a page asks that its worker takes over meanwhile is not seen here.
    ...{ size, path, hasTouch: true, serviceWorkers: 'block' as const },
    expected: /net::ERR_FAILED/,
    prepare: async (one) => {
      await one.addInitScript({ path: AXE })
    },
  })

test('Jobs and the page of the job say what was found since it was closed', async () => {
  const { page, close } = await open('wall', '/#/jobs')
  const row = page.locator(`[data-found=${JOB}]`)
  await expect.poll(() => row.textContent()).toContain('1 broken limit found since it was closed')
  await expect.poll(() => row.textContent()).toContain('Delivery van')
  expect(await problemsNow(page, rulesFor('wall', 96 / 25.4))).toEqual([])
  await shot(page, 'jobs-wall-found-later')
  await page.tap(`[data-job=${JOB}]`)
  await expect.poll(() => row.textContent()).toContain('1 broken limit found since it was closed')
  await shot(page, 'job-wall-found-later')
  await close()
})

test('from there it is seen, with when it was recorded, and decided about; then nobody is asked again', async () => {
  await site.send('ChangeSettings', { language: 'es' })
  const { page, close } = await open('phone', '/#/jobs')
  const row = page.locator(`[data-found=${JOB}]`)
  await expect
    .poll(() => row.textContent())
    .toContain('1 límite rebasado hallado desde que se cerró')
  await shot(page, 'jobs-phone-found-later-es')
  await row.tap()
  const deviation = page.locator('[data-deviation=flashNotOver]').first()
  await expect.poll(() => deviation.textContent()).toMatch(/registrado \d+:\d+/)
  const settle = page.locator('li', { has: deviation }).locator('[data-fold=settle]')
  await settle.locator('summary').tap()
  await settle.locator('[data-pick=disposition] [data-value=accept]').tap()
  await settle.locator('[data-pick=settleReason] [data-value=BREAK]').tap()
  await settle.locator('[data-act=SettleDeviation]').tap()
  await expect.poll(() => deviation.textContent()).toContain('aceptado')
  await expect.poll(() => settle.getAttribute('open')).toBeNull()
  await shot(page, 'trace-phone-found-later-es')
  // One that was asked before the decision may still be on its way.
  const answer = page.waitForResponse(
    async (one) =>
      one.url().endsWith('/api/jobs/foundLater') && (await one.json()).jobs.length === 0,
  )
  await page.goto(`${site.url}/#/jobs`)
  await answer
  await page.waitForSelector(`[data-job=${JOB}]`)
  await expect.poll(() => row.count()).toBe(0)
  await close()
})

test('what comes while Jobs is open is said there, also where the first questions fail', async () => {
  const { page, close } = await open('wall', '/')
  await page.waitForSelector('nav')
  let failed = 0
  await page.route('**/api/jobs/foundLater', async (route) => {
    failed += 1
    if (failed > 2) await route.continue()
    else await route.abort()
  })
  await page.tap('nav a[href="#/jobs"]')
  await page.waitForSelector(`[data-job=${JOB}]`)
  const row = page.locator(`[data-found=${JOB}]`)
  await expect.poll(() => failed).toBeGreaterThan(2)
  expect(await row.count()).toBe(0)
  const then = (min: number) => ({ at: START + min * MINUTE, enteredAt: START + min * MINUTE })
  await site.send('StartCoat', { panels: [DOOR], cup: CUP }, then(7))
  await site.send('FinishCoat', { panels: [DOOR] }, then(8))
  await row.waitFor()
  await close()
})
