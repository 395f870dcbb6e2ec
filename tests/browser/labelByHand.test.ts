import { afterEach, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { CUP, MINUTE, openVan, START, setUp } from './busyShop.ts'
import { isInstalled } from './onScreen.ts'

/** A label that does not print is written by hand, and that is logged. */

const browser = browserForTests()
let site: ShopSite
afterEach(() => site.stop())

async function cupMixed(language = 'en'): Promise<void> {
  site = await serveShop(START)
  await setUp(site, { language })
  await openVan(site, 1)
  await site.send('PrintLabel', { cup: CUP })
}
const prints = () => site.shops.ownWriter.state().things.cup[CUP]?.context.prints

test('one touch says that the label did not print; the history of the job says it too', async () => {
  await cupMixed()
  const { page, close } = await openPage(browser, site, { path: `/#/cups/${CUP}` })
  await page.click('[data-act=byHand]')
  await page.waitForSelector('.by-hand [role=status] >> text=In the log: not printed')
  expect(await page.locator('[data-act=byHand]').count()).toBe(0)
  await expect
    .poll(() => prints()?.[1])
    .toMatchObject({ byHand: true, untilMs: prints()?.[0]?.untilMs })
  await page.goto(`${site.url}/#/jobs/VANREAR2/history`)
  await page.waitForSelector('text=Label not printed: written by hand')
  await close()
})

test('with the server away it waits on the kiosk like any press, and goes when the server is back', async () => {
  await cupMixed()
  const expected = /Failed to load|ERR_|EventSource/
  const { page, close } = await openPage(browser, site, { path: `/#/cups/${CUP}`, expected })
  await page.waitForSelector('.by-hand')
  await isInstalled(page)
  await site.away()
  await page.waitForSelector('.by-hand[data-alone]')
  await page.click('[data-act=byHand]')
  await page.waitForSelector('.by-hand [role=status] >> text=In the log: not printed')
  await site.back()
  site.clock.move(MINUTE)
  await expect.poll(() => prints()?.at(-1)?.byHand).toBe(true)
  await close()
})

test.each([
  ['wall', 'light', 'es'],
  ['phone', 'dark', 'en'],
] as const)('looks right on a %s in the %s theme, in %s', async (size, colorScheme, language) => {
  await cupMixed(language)
  const { page, close } = await openPage(browser, site, {
    size,
    colorScheme,
    path: `/#/cups/${CUP}`,
  })
  const button = page.locator('[data-act=byHand]')
  await button.scrollIntoViewIfNeeded()
  await expect.poll(() => button.isVisible()).toBe(true)
  await shot(page, `label-by-hand-${size}-${colorScheme}-${language}`)
  await close()
})

test('what is written by hand in a Spanish shop warns in Spanish, whatever the sheet was typed in', async () => {
  await cupMixed('es')
  const { page, close } = await openPage(browser, site, { path: `/#/cups/${CUP}` })
  const said = await page.waitForSelector('.hand-hazard >> text=PELIGRO')
  await expect
    .poll(() => said.textContent())
    .toMatch(/^PELIGRO · FLAMMABLE, ISOCYANATE.* · ISOCIANATO$/)
  await close()
})
