import { afterEach, beforeEach, expect, test } from 'vitest'
import { encodeThingCode, shopTag } from '../../labels/code.ts'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { oldThingCode } from '../support/labelCodes.ts'
import { BASE } from '../support/sheets.ts'
import { openVan, START, setUp } from './busyShop.ts'

/** Tags, badges and sheets, chosen on Codes; and what they lead to when they are scanned. */

const browser = browserForTests()
let site: ShopSite
beforeEach(async () => {
  site = await serveShop(START)
  await setUp(site)
  await openVan(site, 1)
  await site.send('AddPerson', { person: 'ana', name: 'Ana Example', role: 'painter' })
  await site.send('AddPerson', { person: 'bo', name: 'Bo Example', role: 'prepper' })
})
afterEach(() => site.stop())

test('each kind is shown as it will be printed, and opens as a PDF', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/codes' })
  for (const kind of ['job', 'commands', 'person', 'gun', 'shelf', 'panel']) {
    await page.click(`[data-pick=printKind] [data-value=${kind}]`)
    await page.waitForSelector(`.prints[data-prints=${kind}]`)
    const first = page.locator('[data-pick=printThing] button').first()
    if ((await first.count()) > 0) await first.click()
    const seen = page.locator('.prints img.preview')
    await seen.waitFor()
    await expect
      .poll(() => seen.evaluate((img) => (img as HTMLImageElement).naturalWidth))
      .toBeGreaterThan(50)
    await shot(page, `tags-${kind}`)
    const href = await page.locator('.prints [data-act=pdf]').getAttribute('href')
    const pdf = await fetch(`${site.url}${href}`)
    expect(pdf.headers.get('content-type')).toBe('application/pdf')
  }
  await close()
})

test('a badge makes its person the one who presses on this kiosk; one of nobody says so', async () => {
  const tag = shopTag(site.shops.own)
  const code = (id: string) => encodeThingCode({ kind: 'person', shopTag: tag, id, lot: null })
  const { page, close } = await openPage(browser, site, { path: `/#/scan/${code('bo')}` })
  await page.waitForSelector('.who-button >> text=Bo Example')
  await page.goto(`${site.url}/#/scan/${code('gone')}`)
  await page.waitForSelector('text=Nobody with the id printed on this badge works in this shop')
  await shot(page, 'scan-badge-unknown')
  // A badge printed earlier says the id itself.
  await page.goto(`${site.url}/#/scan/${oldThingCode('person', tag, 'gone')}`)
  await page.waitForSelector('text=No person GONE works in this shop')
  await expect.poll(() => page.textContent('.who-button')).toBe('Bo Example')
  await page.goto(`${site.url}/#/scan/${oldThingCode('person', tag, 'ana')}`)
  await page.waitForSelector('.who-button >> text=Ana Example')
  await page.goto(`${site.url}/#/scan/${code('bo')}`)
  await page.waitForSelector('.who-button >> text=Bo Example')
  // The device keeps it.
  await page.goto(`${site.url}/#/wall`)
  await page.reload()
  await page.waitForSelector('.who-button >> text=Bo Example')
  await close()
})

test('a gun’s tag leads to loading it, with the gun chosen; a shelf’s to the Bench, with its product', async () => {
  const tag = shopTag(site.shops.own)
  const gun = encodeThingCode({ kind: 'gun', shopTag: tag, id: 'gun-2', lot: null })
  const { page, close } = await openPage(browser, site, { path: `/#/scan/${gun}` })
  await page.waitForSelector('text=LOAD FROM K7QD')
  await shot(page, 'scan-gun')
  await page.click('text=LOAD FROM K7QD')
  await page.waitForSelector('[data-pick=gun] [data-value="gun-2"][aria-pressed=true]')
  await shot(page, 'scan-gun-load')
  const shelf = encodeThingCode({ kind: 'product', shopTag: tag, id: BASE.sheet, lot: 'B 22' })
  await page.goto(`${site.url}/#/scan/${shelf}`)
  await page.click(`a[href="#/bench/${BASE.sheet}"]`)
  await page.waitForSelector(`[data-value="${BASE.sheet}"][aria-pressed=true]`)
  await close()
})
