import type { Page } from 'playwright-core'
import { beforeEach, expect, test } from 'vitest'
import { CUP, MINUTE, panelId } from './busyShop.ts'
import { holdBack, lane, openHash, waitsFor } from './onScreen.ts'
import { vanShop } from './vanShop.ts'

/** An answer that comes when the person has gone on: to another panel, or to another screen. */

const shop = vanShop()
beforeEach(() => shop.van(2))

const A = panelId(0)
const B = panelId(1)

/**
 * Holds back every command of a page.
 * @returns lets go, and resolves when the page has drawn what came back
 */
async function heldBack(page: Page): Promise<() => Promise<void>> {
  const letGo = await holdBack(page)
  return async () => {
    const answered = page.waitForResponse('**/api/commands')
    letGo()
    await (await answered).finished()
    const frames = () =>
      new Promise<void>((done) => requestAnimationFrame(() => requestAnimationFrame(() => done())))
    await page.evaluate(frames)
  }
}

// Once a service worker has taken over, what the page asks is not seen here.
const kiosk = (path?: string) =>
  shop.open({ serviceWorkers: 'block', ...(path === undefined ? {} : { path }) })

const isOpen = (page: Page, panel: string) =>
  page.locator(`[data-panel="${panel}"][aria-pressed=true]`).count()

test('the menu of another panel stays open when a start is answered', async () => {
  const { page, close } = await kiosk()
  const answer = await heldBack(page)
  await page.click(lane(A))
  await page.click('[data-act=StartCoat].main')
  await page.click(lane(B))
  await expect.poll(() => isOpen(page, B)).toBe(1)
  await answer()
  await waitsFor(page, A, 'spraying')
  expect([await isOpen(page, A), await isOpen(page, B)]).toEqual([0, 1])
  expect(await page.locator('.act-sheet [data-act=StartCoat]').count()).toBeGreaterThan(0)
  await close()
})

test('and when a coat is ended on the lane itself', async () => {
  await shop.site.send('StartCoat', { panels: [A], cup: CUP })
  shop.site.clock.move(2 * MINUTE)
  const { page, close } = await kiosk()
  const answer = await heldBack(page)
  await page.click('[data-act=FinishCoat].chip')
  await page.click(lane(B))
  await expect.poll(() => isOpen(page, B)).toBe(1)
  await answer()
  await waitsFor(page, A, 'flash')
  expect(await isOpen(page, B)).toBe(1)
  await close()
})

test('the menu of the panel itself closes', async () => {
  const { page, close } = await kiosk()
  const answer = await heldBack(page)
  await page.click(lane(A))
  await page.click('[data-act=StartCoat].main')
  await page.waitForSelector('.sending')
  await answer()
  await waitsFor(page, A, 'spraying')
  expect(await page.locator('.act-sheet').count()).toBe(0)
  await close()
})

test.each([
  ['a panel that was scanned', `scan/${A}`, '[data-act=StartCoat].main'],
  ['a cup that is empty', `cups/${CUP}/empty`, '[data-act=used]'],
])('%s fetches nobody back who is at another screen', async (_what, path, act) => {
  const { page, close } = await kiosk(`/#/${path}`)
  const answer = await heldBack(page)
  await page.click(act)
  await openHash(page, 'jobs')
  await page.waitForSelector('.job-row, .row')
  await answer()
  expect(await page.evaluate(() => location.hash)).toBe('#/jobs')
  await close()
})

test('nor does a form that was saved', async () => {
  const { page, close } = await kiosk('/#/setup/guns/gun-2')
  await page.waitForSelector('.form [name=needleMm]')
  const answer = await heldBack(page)
  await page.fill('.form [name=needleMm]', '1.4')
  await page.click('[data-act=SaveGun]')
  await openHash(page, 'jobs')
  await page.waitForSelector('.job-row, .row')
  await answer()
  expect(await page.evaluate(() => location.hash)).toBe('#/jobs')
  await close()
})
