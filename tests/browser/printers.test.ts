import { afterEach, beforeEach, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { type RecordedPrinter, recordedPrinter } from '../support/ippAnswers.ts'
import { CUP, openVan, START, setUp } from './busyShop.ts'

const browser = browserForTests()
let printer: RecordedPrinter
let site: ShopSite
beforeEach(async () => {
  printer = recordedPrinter()
  site = await serveShop(START, undefined, undefined, printer.post)
  await setUp(site)
  await openVan(site, 1)
})
afterEach(() => site.stop())
const prints = () => site.shops.ownWriter.state().things.cup[CUP]?.context.prints ?? []

test('a printer is added by its address, tested, and prints the label of a cup', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/setup/printers' })
  await page.fill('[name=address]', 'ipp://localhost:18631/ipp/print')
  await page.keyboard.press('Enter')
  await page.waitForSelector('[data-pick=media] [aria-pressed=true] >> text=57 x 32 mm')
  await shot(page, 'setup-printer-found')
  await page.click('[data-act=savePrinter]')
  await page.waitForSelector('[data-printer] >> text=Ready.')
  await page.click('[data-act=ruler]')
  await expect.poll(() => printer.taken.length).toBe(1)
  await page.click('[data-act=here]')
  await page.waitForSelector('text=This kiosk prints here.')
  await shot(page, 'setup-printers')

  await page.goto(`${site.url}/#/cups/${CUP}`)
  await page.click('[data-act=printHere]')
  await expect.poll(() => prints().length, { timeout: 10_000 }).toBe(1)
  expect(printer.taken).toHaveLength(2)
  await page.waitForSelector('[data-act=again-lost]')
  await shot(page, 'label-printed')
  await close()
})

test('out of labels is said on the Wall with the cup that has none, until it is written by hand', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/setup/printers' })
  await page.fill('[name=address]', 'ipp://localhost:18631/ipp/print')
  await page.click('[data-act=askPrinter]')
  await page.click('[data-act=savePrinter]')
  await page.waitForSelector('[data-printer]')
  printer.answers('getPrinterAttributes', 'aboutEmpty')
  await page.goto(`${site.url}/#/cups/${CUP}`)
  await page.click('[data-act=printHere]')
  await page.waitForSelector('[data-network-print] >> text=out of labels')
  await page.waitForSelector('[data-printing=outOfMedia]', { timeout: 15_000 })
  await page.goto(`${site.url}/#/wall`)
  await page.waitForSelector('[data-printing=outOfMedia] >> text=out of labels')
  await shot(page, 'wall-printer-empty')
  await page.click(`[data-printing] >> text=${CUP}`)
  await page.click('[data-act=byHand]')
  await expect.poll(() => prints().length).toBe(1)
  await page.waitForSelector('[data-act=again-lost]')
  expect(printer.taken).toHaveLength(0)
  await close()
})
