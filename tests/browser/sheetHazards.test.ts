import { afterEach, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { START, setUp } from './busyShop.ts'
import { openHash, overflowPx } from './onScreen.ts'

/** A product whose hazards nobody typed: its labels say danger, and its record says why. */

const browser = browserForTests()
let site: ShopSite
afterEach(() => site.stop())

test.each([
  ['en', 'HAZARD DATA MISSING – TREAT AS DANGER'],
  ['es', 'FALTAN DATOS DE PELIGRO – TRATAR COMO PELIGRO'],
])(
  'is flagged among the sheets and on its own page until they are typed (%s)',
  async (language, said) => {
    site = await serveShop(START)
    await setUp(site, { language })
    const { hazards, ...bare } = BASE
    await site.send('SaveSheet', { sheet: bare })
    const { page, close } = await openPage(browser, site, { path: '/#/setup/sheets' })
    const row = (sheet: string) => page.locator(`a[href="#/setup/sheets/${sheet}"]`)
    await row(BASE.sheet).filter({ hasText: said }).waitFor()
    expect(await row(CLEAR.sheet).textContent()).not.toContain(said)
    await shot(page, `sheets-hazards-${language}`)
    await row(BASE.sheet).click()
    await page.waitForSelector(`[data-missing=hazards] >> text=${said}`)
    await page.setViewportSize({ width: 390, height: 844 })
    expect(await overflowPx(page)).toBe(0)
    await shot(page, `sheet-hazards-${language}`)
    await site.send('SaveSheet', { sheet: { ...bare, hazards } })
    await page.waitForSelector('[data-missing=hazards]', { state: 'detached' })
    await openHash(page, 'setup', 'sheets')
    await row(BASE.sheet).waitFor()
    expect(await page.textContent('.setup')).not.toContain(said)
    await close()
  },
)
