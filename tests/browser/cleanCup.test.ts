import { afterEach, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { CLEAR } from '../support/sheets.ts'
import { overflowPx } from './onScreen.ts'

/** What is left in a gun whose cup is gone, poured into a clean cup by touch. */

const START = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const CUP = 'K7QDM2XV'
const SOON = { timeout: 60_000 }
const VIEWS = [
  ['wall', 'en'],
  ['phone', 'es'],
] as const

const browser = browserForTests()
let site: ShopSite
afterEach(() => site.stop())

const made = () =>
  Object.entries(site.shops.ownWriter.state().things.cup).filter(([id]) => id !== CUP)

async function goneCup(language: string): Promise<void> {
  site = await serveShop(START)
  await site.send('ChangeSettings', { language })
  await site.send('SaveSheet', { sheet: CLEAR })
  await site.send('SaveGun', { gun: 'gun-1', name: 'Gun 1' })
  await site.send('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 300 })
  await site.send('LoadGun', { gun: 'gun-1', cup: CUP })
  await site.send('EmptyCup', { cup: CUP, how: 'discarded' })
  site.clock.move(20 * MINUTE)
}

test.each(VIEWS)(
  'from the card of the gun, by about how much it is, and on to its label: %s, %s',
  async (size, language) => {
    await goneCup(language)
    const { page, close } = await openPage(browser, site, { size, path: '/#/cups', hasTouch: true })
    await page.tap('[data-gun=gun-1] [data-fold=cleanCup] > summary')
    await page.waitForSelector('[data-act=clean-100]')
    expect(await overflowPx(page)).toBe(0)
    await page.locator('[data-gun=gun-1]').scrollIntoViewIfNeeded()
    await shot(page, `clean-cup-${size}`)
    await page.tap('[data-act=clean-100]')
    await expect.poll(() => made().length, SOON).toBe(1)
    const [[id, thing] = []] = made()
    expect([thing?.context.totalMl, thing?.context.parents]).toEqual([100, [CUP]])
    await page.waitForFunction((hash) => location.hash === hash, `#/cups/${id}`)
    await close()
  },
)

test('from the empty cup’s own label on Scan, and the gun’s tag has it too', async () => {
  await goneCup('en')
  const { page, close } = await openPage(browser, site, {
    ...({ size: 'phone', path: `/#/scan/${CUP}`, hasTouch: true } as const),
  })
  await page.tap('[data-fold=cleanCup] > summary')
  await page.waitForSelector('[data-act=clean-50]')
  expect(await overflowPx(page)).toBe(0)
  await shot(page, 'clean-cup-scan')
  await page.tap('[data-act=clean-50]')
  await expect.poll(() => made()[0]?.[1].context.totalMl, SOON).toBe(50)
  await close()
})
