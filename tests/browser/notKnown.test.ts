import { readFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { PROTOCOL } from '../../machines/contract.ts'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'

/** Commands on a device that another build put there: what is not known is kept, and said in words. */

const START = Date.UTC(2026, 10, 25, 8)
const JOB = 'VANREAR2'

const browser = browserForTests()
let site: ShopSite

beforeEach(async () => {
  site = await serveShop(START)
  await site.send('OpenJob', { job: JOB, title: 'Delivery van, rear right corner' })
})
afterEach(() => site.stop())

/** Puts commands into the device's database before the page opens it for the first time. */
const keeping = (kept: readonly object[]) => async (page: Page) => {
  // Only a way to the database: a browser of the system asks such a page for an icon.
  await page.route('**/favicon.ico', (route) => route.fulfill({ status: 204 }))
  await page.goto(`${site.url}/healthz`)
  await page.evaluate(
    (all) =>
      new Promise<void>((done, failed) => {
        const asked = indexedDB.open('flashbell', 1)
        asked.onupgradeneeded = () => {
          asked.result.createObjectStore('outbox', { keyPath: 'seq', autoIncrement: true })
          asked.result.createObjectStore('own').put('OLDDEVICE2222222', 'device')
          asked.result.createObjectStore('state')
        }
        asked.onsuccess = () => {
          const tx = asked.result.transaction('outbox', 'readwrite')
          for (const one of all) tx.objectStore('outbox').add(one)
          tx.oncomplete = () => {
            asked.result.close()
            done()
          }
          tx.onerror = failed
        }
        asked.onerror = failed
      }),
    kept,
  )
}

const note = (id: string, text: string, more: object = {}) => ({
  ...{ id, type: 'AddNote', data: { job: JOB, text }, source: 'touch' },
  ...{ enteredAt: site.clock.now(), clockOffsetMs: 0 },
  ...more,
})

test('what the server does not know stays, can be saved to a file and discarded by a hold; the rest goes', async () => {
  const wait = { inDoubt: false, trouble: null }
  const refusal = { code: 'closed', message: 'The job is closed.', also: [], overridable: false }
  const newer = note('k1', 'of a newer build', { protocol: 99 })
  const prepare = keeping([
    { ...wait, command: newer },
    { ...wait, command: note('k2', 'behind it') },
    // As builds before kept it.
    { ...wait, command: note('k3', 'refused long ago'), trouble: { is: 'refused', refusal } },
  ])
  const { page, close } = await openPage(browser, site, { prepare, expected: /status of 400/ })
  const chip = page.locator('[data-unsent="0"][data-refused="1"][data-not-known="1"]')
  await chip.waitFor()
  await expect.poll(() => chip.textContent()).toBe('! 1 refused · ! 1 needs a server update')
  await chip.click()
  const row = page.locator('[data-status="notKnown"]')
  await row.waitFor()
  await expect
    .poll(() => row.locator('.sentence').textContent())
    .toContain(
      'The server does not know this command yet. Update the server, then press TRY AGAIN.',
    )
  await expect.poll(() => row.textContent()).toContain(`Use protocol ${PROTOCOL} or older.`)
  await expect
    .poll(() => page.locator('[data-status="refused"] .sentence').textContent())
    .toBe('Refused. The job is closed.')
  const notes = await site.shops.ownWriter.reader.byType('NoteAdded', {
    fromAt: 0,
    toAt: Number.MAX_SAFE_INTEGER,
  })
  expect(notes.map(({ data }) => data.text)).toEqual(['behind it'])
  await shot(page, 'not-known-wall')
  await page.setViewportSize({ width: 390, height: 844 })
  await shot(page, 'not-known-phone')
  await site.send('ChangeSettings', { language: 'es' })
  await page.waitForSelector('.sentence >> text=El servidor aún no conoce')
  await shot(page, 'not-known-phone-es')
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.locator('[data-act=saveNotKnown]').press('Enter'),
  ])
  expect(JSON.parse(readFileSync(await download.path(), 'utf8'))).toEqual([
    { ...newer, device: 'OLDDEVICE2222222', seq: 1 },
  ])
  await page.reload()
  await row.waitFor()
  await row.locator('.hold').dispatchEvent('pointerdown')
  await row.waitFor({ state: 'detached' })
  expect(await page.locator('[data-act=saveNotKnown]').count()).toBe(0)
  await close()
})
