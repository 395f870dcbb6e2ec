import { afterEach, beforeEach, expect, test } from 'vitest'
import { STOCKS } from '../../labels/layout.ts'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { CUP, MINUTE, openVan, START, setUp } from './busyShop.ts'

/**
 * A label by the browser's own dialog. A browser without a screen opens none: `print()` returns at
 * once there, and what the printer would get is asked of the browser itself.
 */

const browser = browserForTests()
let site: ShopSite
beforeEach(async () => {
  site = await serveShop(START)
  await setUp(site)
  await openVan(site, 1)
})
afterEach(() => site.stop())
const prints = () => site.shops.ownWriter.state().things.cup[CUP]?.context.prints ?? []
const POINTS_PER_MM = 72 / 25.4

test('a label is logged when somebody says that it is on the cup, with the time at which it was printed', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/cups' })
  await page.waitForSelector(`.cup-card[data-cup=${CUP}] >> text=no label yet`)
  await page.goto(`${site.url}/#/cups/${CUP}`)
  await page.click('[data-act=print]')
  const printedAt = site.clock.now()
  await page.waitForSelector('.did-print')
  await shot(page, 'label-did-print')
  await page.click('[data-act=didNotPrint]')
  await page.waitForSelector('[data-act=print]')
  expect(prints()).toEqual([])
  await page.goto(`${site.url}/#/wall`)
  await page.waitForSelector(`.cup[data-cup=${CUP}] >> text=no label yet`)

  await page.goto(`${site.url}/#/cups/${CUP}`)
  await page.click('[data-act=print]')
  await page.waitForSelector('.did-print')
  site.clock.move(2 * MINUTE)
  await page.click('[data-act=isOnCup]')
  await page.waitForSelector('.by-hand [role=status] >> text=In the log: the label is on the cup')
  await expect.poll(() => prints().length).toBe(1)
  const [print] = prints()
  expect(Math.abs((print?.at ?? 0) - printedAt)).toBeLessThan(MINUTE)
  await page.goto(`${site.url}/#/wall`)
  await page.waitForSelector(`.cup[data-cup=${CUP}]`)
  expect(await page.locator('text=no label yet').count()).toBe(0)
  await close()
})

test('the page that goes to the printer is one label of the size of its stock, and nothing else', async () => {
  const { page, close } = await openPage(browser, site, { path: `/#/cups/${CUP}` })
  // The dialog stays open until the test has seen what it would print.
  await page.evaluate(() => {
    window.print = () => {
      document.body.toggleAttribute('data-opened', true)
    }
  })
  await page.click('[data-act=print]')
  await page.waitForSelector('body[data-opened]')
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1')
  const boxes = [...pdf.matchAll(/\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/g)]
  expect(boxes).toHaveLength(1)
  const [, width, height] = boxes[0] ?? []
  const { widthMm, heightMm } = STOCKS['57x32']
  expect(Math.abs(Number(width) / POINTS_PER_MM - widthMm)).toBeLessThan(0.3)
  expect(Math.abs(Number(height) / POINTS_PER_MM - heightMm)).toBeLessThan(0.3)
  await close()
})

test('what is drawn for the second print says COPY 1 before anything is logged', async () => {
  await site.send('PrintLabel', { cup: CUP })
  const of = async (query: string) =>
    await (await fetch(`${site.url}/api/labels/cup/${CUP}.svg${query}`)).text()
  expect(await of('')).not.toContain('COPY')
  expect(await of('?copy=next')).toContain('COPY 1')
  expect(prints()).toHaveLength(1)
  const wrong = await fetch(`${site.url}/api/labels/cup/${CUP}.svg?copy=7`)
  expect(wrong.status).toBe(400)
  expect(((await wrong.json()) as { error: { message: string } }).error.message).toMatch(
    /copy.*next/,
  )
})
