import { createHash } from 'node:crypto'
import { encode } from 'fast-png'
import type { Page } from 'playwright-core'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { contextOf } from '../../machines/state.ts'
import { openPage, type PageOptions, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { isInstalled } from './onScreen.ts'

/** A photo taken while the server is away: kept on the device, seen there, and sent when it is back. */

const START = Date.UTC(2026, 10, 25, 8)
const JOB = 'VANREAR2'

const browser = browserForTests()
let site: ShopSite

beforeEach(async () => {
  site = await serveShop(START)
  await site.send('OpenJob', { job: JOB, title: 'Delivery van, rear right corner' })
})
afterEach(() => site.stop())

/** What a browser writes of a server that is not there. */
const expected = /Failed to load resource|ERR_CONNECTION_REFUSED|ERR_INTERNET_DISCONNECTED/

async function openJob(options: PageOptions = {}) {
  const path = `/#/jobs/${JOB}`
  const opened = await openPage(browser, site, { expected, path, ...options })
  await opened.page.waitForSelector('.photo-taker')
  return opened
}

const choose = (page: Page, size: { width: number; height: number }, data: Uint8Array) =>
  page.setInputFiles('[name=photo]', {
    name: 'corner.png',
    mimeType: 'image/png',
    buffer: Buffer.from(encode({ ...size, channels: 1, depth: 8, data })),
  })

/** A small photo of a gray of its own. */
const takePhoto = (page: Page, grey: number) =>
  choose(page, { width: 60, height: 40 }, new Uint8Array(2_400).fill(grey))

/** A photo of noise: it takes much room however it is written. */
const takeLarge = (page: Page) => {
  const noise = Uint8Array.from({ length: 1_500 * 1_000 }, (_, i) => ((i * 7_919) ^ (i >> 3)) & 255)
  return choose(page, { width: 1_500, height: 1_000 }, noise)
}

/** Photos among the notes whose pixels are there, and the first letters of where they come from. */
const shown = (page: Page) =>
  page.evaluate(() =>
    [...document.querySelectorAll<HTMLImageElement>('.photo img')].map((image) => [
      image.src.slice(0, 5),
      image.naturalWidth,
    ]),
  )

const inLog = () =>
  (contextOf(site.shops.ownWriter.state(), 'job', JOB)?.notes ?? []).flatMap(
    ({ photo }) => photo ?? [],
  )

test('with the server killed a photo waits on the device, is seen among the notes through a reload, and goes once when the server is back', async () => {
  const { page, close } = await openJob()
  await isInstalled(page)
  await site.away()
  await page.waitForSelector('.outbox-status .away')
  await takePhoto(page, 90)
  await page.waitForSelector('[data-unsent="1"]')
  await page.waitForSelector('.photo >> text=not sent yet')
  await expect.poll(() => shown(page)).toEqual([['blob:', 60]])
  await shot(page, 'offline-photo-wall')

  await page.reload()
  await expect.poll(() => shown(page)).toEqual([['blob:', 60]])
  await page.waitForSelector('[data-unsent="1"]')
  const asked: string[] = []
  page.on('request', (request) => {
    const { pathname } = new URL(request.url())
    // That the kiosk is open and has sound goes on its own way.
    if (request.method() === 'POST' && pathname !== '/api/kiosks') asked.push(pathname)
  })
  await site.back()
  await page.waitForSelector('.outbox-status', { state: 'detached' })
  await page.waitForSelector('.photo .not-yet', { state: 'detached' })
  await expect.poll(() => shown(page)).toEqual([['http:', 60]])
  expect(asked).toEqual(['/api/photos', '/api/commands'])
  const [photo = '', ...more] = inLog()
  expect(more).toEqual([])
  const kept = Buffer.from(await (await fetch(`${site.url}/api/photos/${photo}`)).arrayBuffer())
  expect(createHash('sha256').update(kept).digest('hex')).toBe(photo)
  await close()
})

test('a photo that is not taken in the end stays on the device with its reason and is seen there', async () => {
  const { page, close } = await openJob({ size: 'phone' })
  await isInstalled(page)
  await site.away()
  await page.waitForSelector('.outbox-status .away')
  await takePhoto(page, 120)
  await page.waitForSelector('[data-unsent="1"]')
  // Meanwhile somebody found that the job was opened by mistake.
  await page.context().setOffline(true)
  await site.back()
  await site.send('VoidEntry', { command: 'test-1', reason: 'MISTAP' })
  await page.context().setOffline(false)
  await page.waitForSelector('[data-refused="1"]')
  await page.reload()
  await page.click('[data-refused="1"]')
  const row = page.locator('[data-command="AddPhoto"][data-status="refused"]')
  await expect.poll(() => row.locator('.sentence').textContent()).toMatch(/Refused\. \S+/)
  await page.waitForFunction(
    () => document.querySelector<HTMLImageElement>('.unsent img')?.naturalWidth === 60,
  )
  await shot(page, 'offline-photo-refused-phone')
  expect(inLog()).toEqual([])
  await row.locator('.hold').dispatchEvent('pointerdown')
  await row.waitFor({ state: 'detached' })
  await close()
})

test('a device without room says so in a sentence; the photo stays in hand and goes with the next touch', async () => {
  await site.send('ChangeSettings', { language: 'es' })
  const room = async (page: Page, quotaSize?: number) => {
    const session = await page.context().newCDPSession(page)
    const quota = quotaSize === undefined ? {} : { quotaSize }
    await session.send('Storage.overrideQuotaForOrigin', { origin: site.url, ...quota })
  }
  // Room for commands and for the shop as it is, not for a photo, nor for the page's own files.
  const prepare = (page: Page) => room(page, 300_000)
  const { page, close } = await openJob({ size: 'phone', prepare })
  await site.away()
  await page.waitForSelector('.outbox-status .away')
  await takeLarge(page)
  await page.waitForSelector('.photo-taker [role=alert] >> text=no puede guardar')
  await page.locator('[data-act=photoAgain]').scrollIntoViewIfNeeded()
  await shot(page, 'offline-photo-full-phone-es')
  expect(await shown(page)).toEqual([])
  await room(page)
  await page.click('[data-act=photoAgain]')
  await expect.poll(() => shown(page)).toEqual([['blob:', 1_500]])
  await site.back()
  await page.waitForSelector('.outbox-status', { state: 'detached' })
  await expect.poll(inLog).toHaveLength(1)
  await close()
})

test('a device that kept commands under the build before loses none of them', async () => {
  const prepare = async (page: Page) => {
    await page.goto(`${site.url}/healthz`)
    await page.evaluate(
      ([job, now]) =>
        new Promise<void>((done, failed) => {
          const asked = indexedDB.open('flashbell', 1)
          asked.onupgradeneeded = () => {
            asked.result.createObjectStore('outbox', { keyPath: 'seq', autoIncrement: true })
            asked.result.createObjectStore('own').put('OLDDEVICE2222222', 'device')
            asked.result.createObjectStore('state')
          }
          asked.onsuccess = () => {
            const tx = asked.result.transaction('outbox', 'readwrite')
            const times = { enteredAt: now, clockOffsetMs: 0 }
            const data = { job, text: 'kept by the build before' }
            const command = { id: 'old-1', type: 'AddNote', data, source: 'touch', ...times }
            tx.objectStore('outbox').add({ command, inDoubt: false, trouble: null })
            tx.oncomplete = () => {
              asked.result.close()
              done()
            }
            tx.onerror = failed
          }
          asked.onerror = failed
        }),
      [JOB, site.clock.now()] as const,
    )
  }
  const { page, close } = await openJob({ prepare })
  await page.waitForSelector('.note-list >> text=kept by the build before')
  await takePhoto(page, 30)
  await expect.poll(() => shown(page)).toEqual([['http:', 60]])
  const notes = () => contextOf(site.shops.ownWriter.state(), 'job', JOB)?.notes
  await expect.poll(() => notes()?.[0]?.entry).toBe('old-1.0')
  await close()
})
