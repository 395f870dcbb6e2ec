import { afterAll, beforeAll, expect, test } from 'vitest'
import { openPage, type Size, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { AXE, problemsNow } from './audit.ts'
import { rulesFor } from './targets.ts'

/** The shop's records of a month, read and typed by touch. */

const JOB = 'VANJAB22'
const browser = browserForTests()
let site: ShopSite

beforeAll(async () => {
  site = await serveShop(Date.UTC(2026, 10, 25, 8))
  const { send } = site
  for (const sheet of [BASE, CLEAR]) await send('SaveSheet', { sheet })
  await send('SaveZone', { zone: 'booth', name: 'Booth' })
  await send('OpenJob', { job: JOB, title: 'Delivery van' })
  for (const [cup, sheet] of [
    ['BSBS2222', BASE.sheet],
    ['CRCR2222', CLEAR.sheet],
  ])
    await send('MixCup', { cup, sheet, totalMl: 600, zone: 'booth', job: JOB })
})
afterAll(() => site.stop())

test.each(['wall', 'phone'] as const)(
  'on a %s the month is shown, with its limits and what it is not',
  async (size) => {
    const { page, close } = await openPage(browser, site, {
      ...{ path: '/#/jobs', size, hasTouch: true },
      prepare: async (one) => {
        await one.addInitScript({ path: AXE })
      },
    })
    await page.tap('[data-act=records]')
    await page.waitForSelector('[data-not-compliance]')
    const text = () => page.textContent('main')
    await expect.poll(() => text()).toContain('2K clear, 2:1')
    await expect.poll(() => text()).toContain('565')
    await shot(page, `records-${size}`)
    // Europe judges each cup: the clear at 473 g/L is over 420.
    await page.tap('[data-pick=place] [data-value=eu]')
    await expect.poll(text).toContain('limit 420 g/L; OVER')
    expect(await problemsNow(page, rulesFor(size as Size, 96 / 25.4))).toEqual([])
    await page.tap('[data-act=before]')
    await expect.poll(text).toContain('nothing recorded')
    await close()
  },
)

test('solvent and training are typed, and stand in the records', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/trace/records' })
  await page.waitForSelector('[data-not-compliance]')
  await page.click('[data-fold=record] summary')
  await page.fill('input[name=solvent]', 'thinner')
  await page.fill('input[name=solventMl]', '750')
  await page.click('[data-act=UseSolvent]')
  await expect.poll(() => page.textContent('main')).toContain('0.75 L')
  await page.fill('input[name=who]', 'Ann')
  await page.fill('input[name=doneOn]', '2021-12-10')
  await page.click('[data-act=RecordTraining]')
  await expect.poll(() => page.textContent('main')).toContain('DUE WITHIN 60 DAYS')
  // Taken back from the list of what was typed: the figure goes.
  await page.click('[data-fold=typed] > summary')
  const typed = page.locator('[data-typed=SolventUsed]')
  await typed.locator('summary').click()
  await typed.locator('[data-value=UNIT_ERROR]').click()
  await shot(page, 'records-typed')
  const hold = typed.locator('.hold')
  await hold.scrollIntoViewIfNeeded()
  await hold.dispatchEvent('pointerdown')
  await expect.poll(() => page.textContent('main')).not.toContain('0.75 L')
  expect(await page.locator('[data-typed=SolventUsed]').count()).toBe(0)
  await close()
})
