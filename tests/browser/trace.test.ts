import { afterAll, beforeAll, expect, test } from 'vitest'
import { openPage, type Size, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { AXE, problemsNow } from './audit.ts'
import { rulesFor } from './targets.ts'

/** A job after a defect, looked through by touch: what was outside, and what may have caused it. */

const START = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const [JOB, DOOR, SILL] = ['VANJAB22', 'DRDR2222', 'SKSK2222']
const [BASE_CUP, CLEAR_CUP] = ['BSBS2222', 'CRCR2222']

const browser = browserForTests()
let site: ShopSite

/** Two panels, base twice, clear twice; the second clear of the door went on after 4 of its 10 min. */
beforeAll(async () => {
  site = await serveShop(START)
  const { send, clock } = site
  const after = (min: number) => clock.move(min * MINUTE)
  const panels = [DOOR, SILL]
  for (const sheet of [BASE, CLEAR]) await send('SaveSheet', { sheet })
  await send('SaveZone', { zone: 'booth', name: 'Booth' })
  await send('OpenJob', { job: JOB, title: 'Delivery van, rear right corner' })
  const route = [
    { stage: 'base', sheet: BASE.sheet },
    { stage: 'clear', sheet: CLEAR.sheet },
    { stage: 'cure' },
  ]
  for (const panel of panels)
    await send('AddPanel', {
      ...{ job: JOB, panel, operation: 'repair', areaM2: 1, zone: 'booth', route },
      name: panel === DOOR ? 'Rear door, right' : 'Sill',
    })
  const air = () => send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  await air()
  await send('MixCup', { cup: BASE_CUP, sheet: BASE.sheet, totalMl: 600, zone: 'booth', job: JOB })
  for (const wait of [1, 9]) {
    after(wait)
    await send('StartCoat', { panels, cup: BASE_CUP, gun: 'gun-1', gunSet: { inletKpa: 180 } })
    after(4)
    await send('FinishCoat', { panels, ordered: true, usedMl: 150 })
  }
  after(14)
  await air()
  await send('MixCup', {
    cup: CLEAR_CUP,
    sheet: CLEAR.sheet,
    totalMl: 600,
    zone: 'booth',
    job: JOB,
  })
  after(2)
  await send('StartCoat', { panels, cup: CLEAR_CUP, gun: 'gun-2', gunSet: { inletKpa: 200 } })
  after(4)
  await send('FinishCoat', { panels, ordered: true, usedMl: 240 })
  after(4)
  const override = { reason: 'the booth is needed' }
  await send('StartCoat', { panels: [DOOR], cup: CLEAR_CUP, gun: 'gun-2', override })
  after(2)
  await send('FinishCoat', { panels: [DOOR], usedMl: 120 })
  after(5)
  await send('CleanGun', { gun: 'gun-2' })
  after(90)
  await send('StartCoat', { panels: [SILL], cup: CLEAR_CUP, gun: 'gun-2', override })
  after(3)
  await send('FinishCoat', { panels: [SILL] })
  // Nothing rings over the page.
  await send('EmptyCup', { cup: CLEAR_CUP, how: 'discarded' })
  await send('CleanGun', { gun: 'gun-1' })
  await send('CleanGun', { gun: 'gun-2' })
}, 60_000)
afterAll(() => site.stop())

test.each([
  ['wall', 1280, 800],
  ['phone', 390, 844],
])(
  'at the size of a %s the timeline, its table, deviations and causes are one page',
  async (name, width, height) => {
    const { page, close } = await openPage(browser, site, {
      path: `/#/jobs/${JOB}/history`,
      hasTouch: true,
      viewport: { width, height },
      prepare: async (one) => {
        await one.addInitScript({ path: AXE })
      },
    })
    await page.waitForSelector('[data-line]')
    await page.tap('text=TRACE A DEFECT')
    await page.waitForSelector('.trace-box svg')
    await shot(page, `trace-${name}`)
    // A limit was broken: it is listed with its numbers, and the touch shows its spot.
    const deviation = page.locator('[data-deviation=flashNotOver]').first()
    await expect.poll(() => deviation.textContent()).toContain('the booth is needed')
    await deviation.tap()
    await expect.poll(() => page.locator('[data-mark=coat] rect[stroke-width="6"]').count()).toBe(1)
    await shot(page, `trace-${name}-spot`)
    // The table says what is drawn.
    const drawn = await page.locator('.trace-box svg [data-mark=coat]').count()
    expect(drawn).toBeGreaterThan(0)
    await page.tap('[data-fold=table] summary')
    await expect
      .poll(() => page.locator('[data-fold=table] td >> text=not recorded').count())
      .toBeGreaterThan(0)
    await page.tap('[data-pick=panel] [data-value=DRDR2222]')
    await page.tap('[data-pick=defect] [data-value=solventPop]')
    const cause = page.locator('[data-cause=flashShort]')
    await expect.poll(() => cause.textContent()).toContain('at least 10:00 min')
    expect(await page.locator('[data-cause=notVisible]').count()).toBe(1)
    await page.locator('.page-head').scrollIntoViewIfNeeded()
    // Read by a program, touched with gloves, nothing cut off.
    expect(await problemsNow(page, rulesFor(name as Size, 96 / 25.4))).toEqual([])
    await cause.scrollIntoViewIfNeeded()
    await shot(page, `trace-${name}-causes`)
    // Any moment again.
    const from = Number(await page.getAttribute('.trace-moment', 'min'))
    await page.locator('.trace-moment').evaluate(
      (input, at) => {
        ;(input as HTMLInputElement).value = String(at)
        input.dispatchEvent(new Event('input', { bubbles: true }))
      },
      from + 6 * MINUTE,
    )
    await expect.poll(() => page.locator('[data-lane]').count()).toBe(2)
    await page.locator('[data-moment]').scrollIntoViewIfNeeded()
    await shot(page, `trace-${name}-moment`)
    await close()
  },
)

test('a job that nobody knows says so', async () => {
  const { page, close } = await openPage(browser, site, {
    path: '/#/trace/NNNN2222',
    expected: /404/,
  })
  await page.waitForSelector('text=No such job is known.')
  await close()
})
