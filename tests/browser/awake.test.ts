import type { Page } from 'playwright-core'
import { afterEach, beforeEach, expect, test } from 'vitest'
import type { Entry } from '../../machines/envelope.ts'
import { openPage } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { CUP, MINUTE, openVan, START, setUp } from './busyShop.ts'

/**
 * A display is kept awake while a timer runs, and what kept it from that is logged. The packed browser
 * grants a wake lock only where the test lets it (openPage); the lock itself is its own.
 */

const browser = browserForTests()
let site: ShopSite
beforeEach(async () => {
  site = await serveShop(START)
  await setUp(site)
  await openVan(site, 1)
})
afterEach(() => site.stop())

type Watched = Window & { locks?: WakeLockSentinel[]; refuses?: boolean }

/** The browser's locks, noted down; and whether it is to refuse them, as with a flat battery. */
const open = (refuses = false) =>
  openPage(browser, site, {
    prepare: async (page) => {
      await page.addInitScript((refused) => {
        const own = navigator.wakeLock.request.bind(navigator.wakeLock)
        const locks: WakeLockSentinel[] = []
        Object.assign(window, { locks, refuses: refused })
        navigator.wakeLock.request = async (type) => {
          if ((window as Watched).refuses) throw new DOMException('Low battery', 'NotAllowedError')
          const lock = await own(type)
          locks.push(lock)
          return lock
        }
      }, refuses)
    },
  })
const held = (page: Page) =>
  page.evaluate(() => (window as Watched).locks?.map(({ released }) => !released))
const letGo = (page: Page) => page.evaluate(() => (window as Watched).locks?.at(-1)?.release())
/** The page as another tab in front of it leaves it: hidden, without its lock. */
async function hide(page: Page): Promise<void> {
  await page.evaluate(async () => {
    Object.defineProperty(document, 'visibilityState', { configurable: true, get: () => 'hidden' })
    document.dispatchEvent(new Event('visibilitychange'))
    await (window as Watched).locks?.at(-1)?.release()
  })
}
async function show(page: Page): Promise<void> {
  await page.evaluate(() => {
    Reflect.deleteProperty(document, 'visibilityState')
    document.dispatchEvent(new Event('visibilitychange'))
  })
}
async function slept(): Promise<{ why: unknown; min: number }[]> {
  const answer = await fetch(`${site.url}/api/entries?after=0&limit=500`)
  const { entries } = (await answer.json()) as { entries: Entry[] }
  return entries
    .filter(({ type }) => type === 'ScreenSlept')
    .map(({ data, at }) => ({ why: data.why, min: Math.floor((at - START) / MINUTE) }))
}
/** Something else that a kiosk tells the log: what it told before has arrived. */
async function toldAll(page: Page): Promise<void> {
  await page.goto(`${site.url}/#/setup/people`)
  await page.fill('[name=name]', 'Painter One')
  await page.click('[data-field=role] [data-value=painter]')
  await page.click('[data-act=AddPerson]')
  await page.waitForSelector('.setup-rows >> text=Painter One')
}

test('the display is kept awake while a timer runs, and again after its lock was lost, which is logged', async () => {
  const { page, close } = await open()
  await expect.poll(() => held(page)).toEqual([true])
  await letGo(page)
  await expect.poll(() => held(page)).toEqual([false, true])
  await expect.poll(slept).toEqual([{ why: 'lost', min: 0 }])
  // Within ten minutes nothing more is said; after that it is.
  site.clock.move(9 * MINUTE)
  await page.waitForSelector('time >> text=09:09')
  await letGo(page)
  await expect.poll(() => held(page)).toEqual([false, false, true])
  await toldAll(page)
  expect(await slept()).toHaveLength(1)
  site.clock.move(2 * MINUTE)
  await page.waitForSelector('time >> text=09:11')
  await letGo(page)
  await expect.poll(slept).toEqual([
    { why: 'lost', min: 0 },
    { why: 'lost', min: 11 },
  ])
  await close()
})

test('a lock lost while the page was hidden is logged when the page is shown again, with its time', async () => {
  const { page, close } = await open()
  await expect.poll(() => held(page)).toEqual([true])
  await hide(page)
  await expect.poll(() => held(page)).toEqual([false])
  site.clock.move(3 * MINUTE)
  await page.waitForSelector('time >> text=09:03')
  expect(await slept()).toEqual([])
  await show(page)
  await expect.poll(() => held(page)).toEqual([false, true])
  await expect.poll(slept).toEqual([{ why: 'lost', min: 0 }])
  await close()
})

test('a browser that refuses the lock is logged once', async () => {
  const { page, close } = await open(true)
  await expect.poll(slept).toEqual([{ why: 'refused', min: 0 }])
  await show(page)
  await page.reload()
  await toldAll(page)
  expect(await slept()).toHaveLength(1)
  await close()
})

test('a browser without wake locks is logged once', async () => {
  const { page, close } = await openPage(browser, site, {
    prepare: async (page) => {
      await page.addInitScript(() => {
        for (const owner of [navigator, Navigator.prototype])
          Reflect.deleteProperty(owner, 'wakeLock')
      })
    },
  })
  await expect.poll(slept).toEqual([{ why: 'refused', min: 0 }])
  await page.reload()
  await toldAll(page)
  expect(await slept()).toHaveLength(1)
  await close()
})

test('a page that was closed or reloaded logs nothing, nor does one without a timer', async () => {
  const first = await open()
  await expect.poll(() => held(first.page)).toEqual([true])
  await first.page.reload()
  await expect.poll(() => held(first.page)).toEqual([true])
  await first.close()
  const { page, close } = await open()
  await expect.poll(() => held(page)).toEqual([true])
  // The lock is given back because nothing runs any more.
  await site.send('EmptyCup', { cup: CUP, how: 'discarded' })
  await expect.poll(() => held(page)).toEqual([false])
  await toldAll(page)
  expect(await slept()).toEqual([])
  await close()
})
