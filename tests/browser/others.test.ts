import { beforeEach, expect, test } from 'vitest'
import { CUP, MINUTE, panelId } from './busyShop.ts'
import { holdBack, lane, waitsFor } from './onScreen.ts'
import { vanShop } from './vanShop.ts'

/** A press while the server is slow, and what one kiosk's press does on another. */

const shop = vanShop()
beforeEach(() => shop.van(1))

const A = panelId(0)
const typesOf = (panel: string) => shop.entriesOf(panel).map((e) => e.type)
/** Once a service worker has taken over a page that was loaded without it, what the page asks is not seen here. */
const kiosk = () => shop.open({ expected: /Failed to load resource|ERR_/, serviceWorkers: 'block' })

test('a press that waits for its answer says so, and cannot be pressed twice', async () => {
  const { page, close } = await kiosk()
  const letGo = await holdBack(page)
  await page.click(lane(A))
  await page.click('[data-act=StartCoat].main')
  await page.waitForSelector('.sending')
  await expect.poll(() => page.locator('[data-act=StartCoat].main').isDisabled()).toBe(true)
  letGo()
  await waitsFor(page, A, 'spraying')
  expect(typesOf(A)).toEqual(['PanelAdded', 'CoatStarted'])
  await close()
})

test('a press that is not answered in ten seconds is kept, shown as unsent, and goes once by itself', async () => {
  const { page, close } = await kiosk()
  const letGo = await holdBack(page)
  await page.click(lane(A))
  await page.click('[data-act=StartCoat].main')
  await page.waitForSelector('[data-unsent="1"]')
  // As if it had been taken: the painter sprays on.
  await waitsFor(page, A, 'spraying')
  expect(typesOf(A)).toEqual(['PanelAdded'])
  letGo()
  await page.waitForSelector('[data-unsent]', { state: 'detached' })
  expect(typesOf(A)).toEqual(['PanelAdded', 'CoatStarted'])
  await close()
})

test('what is acknowledged on one kiosk is answered on every other, and stays in sight', async () => {
  await shop.site.send('FinishCoat', { panels: [A], cup: CUP })
  const [one, other] = await Promise.all([kiosk(), kiosk()])
  shop.site.clock.move(10.1 * MINUTE)
  const bell = '[data-bell=coatReady]'
  await Promise.all(
    [one, other].map(({ page }) => page.waitForSelector(`${bell} [data-act=acknowledge]`)),
  )
  await one.page.click(`${bell} [data-act=acknowledge]`)
  await other.page.waitForSelector(`${bell} [data-act=acknowledge]`, { state: 'detached' })
  await waitsFor(other.page, A, 'coat')
  await Promise.all([one.close(), other.close()])
})

test('two people who acknowledge at once are both kept, and neither meets an error', async () => {
  await shop.site.send('FinishCoat', { panels: [A], cup: CUP })
  const [one, other] = await Promise.all([kiosk(), kiosk()])
  shop.site.clock.move(10.1 * MINUTE)
  const ack = '[data-bell=coatReady] [data-act=acknowledge]'
  await Promise.all([one, other].map(({ page }) => page.waitForSelector(ack)))
  const letGo = await holdBack(other.page)
  await other.page.click(ack)
  await one.page.click(ack)
  await one.page.waitForSelector(ack, { state: 'detached' })
  letGo()
  await other.page.waitForSelector(ack, { state: 'detached' })
  const acknowledged = () =>
    Object.values(shop.site.shops.ownWriter.state().things.bell)
      .flatMap((thing) => thing.entries)
      .filter((e) => e.type === 'BellAcknowledged').length
  await expect.poll(acknowledged).toBe(2)
  expect(await other.page.locator('.sentence[role=alert], [data-refused]').count()).toBe(0)
  await Promise.all([one.close(), other.close()])
})
