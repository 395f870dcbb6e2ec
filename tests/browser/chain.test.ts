import { afterAll, beforeAll, expect, test } from 'vitest'
import { openPage, type Size, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE } from '../support/sheets.ts'
import { AXE, problemsNow } from './audit.ts'
import { rulesFor } from './targets.ts'

/** A lot followed to its panels and back, by touch. */

const [JOB, DOOR, CUP] = ['VANJAB22', 'DRDR2222', 'BSBS2222']
const MINUTE = 60_000
const browser = browserForTests()
let site: ShopSite

beforeAll(async () => {
  site = await serveShop(Date.UTC(2026, 10, 25, 8))
  const { send, clock } = site
  await send('SaveSheet', { sheet: BASE })
  await send('OpenJob', { job: JOB, title: 'Delivery van, rear right corner' })
  await send('AddPanel', {
    ...{ job: JOB, panel: DOOR, name: 'Rear door', operation: 'repair', areaM2: 1, zone: 'booth' },
    route: [{ stage: 'base', sheet: BASE.sheet }],
  })
  await send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  const lots = [{ name: BASE.components[0]?.name ?? '', lot: 'L-4411' }]
  await send('MixCup', { cup: CUP, sheet: BASE.sheet, totalMl: 600, zone: 'booth', job: JOB, lots })
  clock.move(2 * MINUTE)
  await send('StartCoat', { panels: [DOOR], cup: CUP })
  clock.move(3 * MINUTE)
  await send('FinishCoat', { panels: [DOOR], usedMl: 150 })
})
afterAll(() => site.stop())

test.each(['wall', 'phone'] as const)(
  'on a %s a lot leads to its coats and a coat back to its lots',
  async (size) => {
    const { page, close } = await openPage(browser, site, {
      ...{ path: `/#/scan/${CUP}`, size, hasTouch: true },
      prepare: async (one) => {
        await one.addInitScript({ path: AXE })
      },
    })
    await page.tap('[data-chain=cup]')
    await page.waitForSelector('[data-reaches]')
    await expect.poll(() => page.textContent('[data-reaches]')).toContain('Coats: 1 · panels: 1')
    await shot(page, `chain-cup-${size}`)
    await page.tap('[data-lot="L-4411"]')
    await expect.poll(() => page.textContent('h3')).toBe('Lot L-4411')
    await page.waitForSelector('[data-coat]')
    await expect
      .poll(() => page.textContent('[data-coat]'))
      .toContain('Delivery van, rear right corner')
    expect(await problemsNow(page, rulesFor(size as Size, 96 / 25.4))).toEqual([])
    await page.tap('[data-coat]')
    await expect.poll(() => page.textContent('h3')).toBe('Panel Rear door')
    await page.waitForSelector('[data-lot="L-4411"]')
    await page.goto(`${site.url}/#/trace/of`)
    await page.waitForSelector('input[name=lot], [data-lot]')
    await expect.poll(() => page.locator('[data-lot]').count()).toBe(1)
    await shot(page, `chain-lots-${size}`)
    await close()
  },
)

test('what nothing names says so, and a server that is away as well', async () => {
  const { page, close } = await openPage(browser, site, {
    ...{ path: '/#/trace/of/lot/none', expected: /404|ERR_INTERNET/ },
  })
  await page.waitForSelector('text=Nothing in the log names this.')
  await page.context().setOffline(true)
  await page.goto(`${site.url}/#/trace/of/lot/other`)
  await page.waitForSelector('text=The server cannot be reached')
  await page.context().setOffline(false)
  await close()
})
