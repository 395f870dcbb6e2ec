import type { Page } from 'playwright-core'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { installProblems } from '../support/browserInstall.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { CLEAR } from '../support/sheets.ts'
import { isInstalled, waitsFor } from './onScreen.ts'

/** The kiosk with its server killed: it counts, rings and takes presses, and loses none of them. */

const START = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const JOB = 'VANREAR2'
const QUARTER = 'REARQTR2'
const DOOR = 'SDEDR222'
const CUP = 'K7QDM2XV'

const browser = browserForTests(SOUND)
let site: ShopSite

beforeEach(async () => {
  site = await serveShop(START)
  const route = [{ stage: 'clear', sheet: CLEAR.sheet }]
  await site.send('SaveSheet', { sheet: CLEAR })
  await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  await site.send('OpenJob', { job: JOB, title: 'Delivery van, rear right corner' })
  const panel = { job: JOB, operation: 'repair', areaM2: 1, route }
  await site.send('AddPanel', { ...panel, panel: QUARTER, name: 'Rear quarter, right' })
  await site.send('AddPanel', { ...panel, panel: DOOR, name: 'Sliding door, right' })
  await site.send('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 600, activator: 'standard' })
})
afterEach(() => site.stop())

/** What a browser writes of a server that is not there. */
const expected = /Failed to load resource|ERR_CONNECTION_REFUSED|status of 409/

async function press(page: Page, panel: string, act: string): Promise<void> {
  await page.click(`.lanes [data-panel="${panel}"]`)
  await page.click(`[data-act="${act}"]`)
}

/** Every POST of commands that a page makes from now on, as sent. */
function posted(page: Page): unknown[] {
  const bodies: unknown[] = []
  page.on('request', (request) => {
    if (request.method() === 'POST' && request.url().endsWith('/api/commands'))
      bodies.push(request.postDataJSON())
  })
  return bodies
}

const log = () => site.shops.ownWriter.state().things
const ownEntries = () =>
  Object.values(log().panel)
    .flatMap(({ entries }) => entries)
    .filter(({ device }) => device !== null)

test('with the server killed a coat is started and finished, shown as unsent through a reload, counts, rings, and goes once, in order, as an array', async () => {
  const { page, close } = await openPage(browser, site, { expected })
  await waitsFor(page, QUARTER, 'coat')
  await isInstalled(page)
  await site.away()
  await page.waitForSelector('.outbox-status .away')
  await press(page, QUARTER, 'StartCoat')
  await waitsFor(page, QUARTER, 'spraying')
  await page.waitForSelector('[data-unsent="1"]')
  await page.waitForSelector(`.lanes [data-panel="${QUARTER}"] >> text=not sent yet`)
  await shot(page, 'offline-unsent-wall')

  await page.reload()
  await waitsFor(page, QUARTER, 'spraying')
  await page.waitForSelector('[data-unsent="1"]')
  await press(page, QUARTER, 'FinishCoat')
  await waitsFor(page, QUARTER, 'flash')
  await page.waitForSelector('[data-unsent="2"]')
  const chip = `[data-panel="${QUARTER}"] .chip .big`
  const before = await page.textContent(chip)
  await page.waitForFunction(
    ([selector, was]) => document.querySelector(selector as string)?.textContent !== was,
    [chip, before],
  )
  await page.click('[data-unsent]')
  await page.waitForSelector('[data-command="StartCoat"] >> text=Rear quarter, right')
  await shot(page, 'offline-list-wall')

  const bodies = posted(page)
  await site.back()
  await page.waitForSelector('.unsent li', { state: 'detached' })
  expect(bodies.filter(Array.isArray)).toMatchObject([
    [
      { type: 'StartCoat', seq: 1 },
      { type: 'FinishCoat', seq: 2 },
    ],
  ])
  await expect
    .poll(() => ownEntries().map(({ type, seq }) => [type, seq]))
    .toEqual([
      ['CoatStarted', 1],
      ['CoatFinished', 2],
    ])
  await page.click('a[href="#/wall"]')
  await waitsFor(page, QUARTER, 'flash')
  await page.waitForSelector('.outbox-status', { state: 'detached' })
  await close()
})

test('with the server killed a bell sounds at its moment, also after a reload, and is logged afterwards', async () => {
  const { page, close } = await openPage(browser, site, { expected })
  await waitsFor(page, DOOR, 'coat')
  await isInstalled(page)
  await press(page, DOOR, 'StartCoat')
  await waitsFor(page, DOOR, 'spraying')
  await press(page, DOOR, 'FinishCoat')
  await waitsFor(page, DOOR, 'flash')
  // Ten minutes of flash but for some seconds, which are waited for without the server.
  const finishedAt = ownEntries().at(-1)?.at ?? 0
  site.clock.move(finishedAt + 10 * MINUTE - 15_000 - site.clock.now())
  await page.waitForFunction(
    (selector) => /^0:(0[1-9]|1)/.test(document.querySelector(selector)?.textContent ?? ''),
    `[data-panel="${DOOR}"] .chip .big`,
  )
  await site.away()
  await page.waitForSelector('.outbox-status .away')
  await page.reload()
  await page.waitForSelector('[data-bell="coatReady"][data-state="sounding"]')
  expect(log().bell).toEqual({})
  await page.click('[data-act="acknowledge"]')
  await page.waitForSelector('[data-bell="coatReady"]', { state: 'detached' })
  await site.back()
  await page.waitForSelector('.outbox-status', { state: 'detached' })
  await expect.poll(() => Object.values(log().bell)[0]?.entries.length).toBe(2)
  await close()
})

test('a start that the rules forbid is refused at once without the server too, with its reason', async () => {
  const { page, close } = await openPage(browser, site, { size: 'phone', expected })
  await waitsFor(page, QUARTER, 'coat')
  await isInstalled(page)
  await site.away()
  await page.waitForSelector('.outbox-status .away')
  await press(page, QUARTER, 'StartCoat')
  await waitsFor(page, QUARTER, 'spraying')
  await press(page, QUARTER, 'FinishCoat')
  await waitsFor(page, QUARTER, 'flash')
  await press(page, QUARTER, 'StartCoat')
  await page.waitForSelector('.refusal [role=alert] >> text=has not flashed')
  await page.waitForSelector('[data-unsent="2"]')
  await shot(page, 'offline-refused-phone')
  await site.back()
  await page.waitForSelector('.outbox-status', { state: 'detached' })
  await close()
})

test('what the server refuses in the end is kept with its reason until a person settles it', async () => {
  const { page, close } = await openPage(browser, site, { expected })
  await waitsFor(page, QUARTER, 'coat')
  await isInstalled(page)
  site.clock.move(2 * MINUTE)
  await page.waitForSelector('time >> text=09:02')
  // A page's clock may be some moments behind the server's: the removal is surely before its press.
  const before = site.clock.now() - MINUTE
  await site.away()
  await page.waitForSelector('.outbox-status .away')
  await press(page, QUARTER, 'StartCoat')
  await page.waitForSelector('[data-unsent="1"]')
  // While this kiosk was cut off, somebody took the panel out of the job, and before that press.
  await page.context().setOffline(true)
  await site.back()
  await site.send('RemovePanel', { panel: QUARTER }, { at: before })
  await page.context().setOffline(false)
  await page.waitForSelector('[data-refused="1"]')
  await page.reload()
  await page.click('[data-refused="1"]')
  const row = page.locator('[data-command="StartCoat"][data-status="refused"]')
  await row.waitFor()
  await expect.poll(() => row.locator('.sentence').textContent()).toMatch(/Refused\. \S+/)
  await shot(page, 'offline-not-taken-wall')
  const again = page.waitForResponse('**/api/commands')
  await row.locator('button', { hasText: 'TRY AGAIN' }).click()
  await again
  await row.waitFor()
  const discard = row.locator('.hold')
  await discard.dispatchEvent('pointerdown')
  await row.waitFor({ state: 'detached' })
  await page.waitForSelector('.outbox-status', { state: 'detached' })
  await close()
})

test('two pages of one device keep one list and send it once', async () => {
  // What a page asks that its worker takes over meanwhile is not seen here.
  const { page, close } = await openPage(browser, site, { expected, serviceWorkers: 'block' })
  const second = await page.context().newPage()
  await second.goto(site.url)
  await waitsFor(page, QUARTER, 'coat')
  await waitsFor(second, DOOR, 'coat')
  await site.away()
  await page.waitForSelector('.outbox-status .away')
  await second.waitForSelector('.outbox-status .away')
  await press(page, QUARTER, 'StartCoat')
  // What is pressed on one page is shown on the other.
  await second.waitForSelector(`[data-panel="${QUARTER}"][data-waits="spraying"]`)
  await press(second, DOOR, 'StartCoat')
  await page.waitForSelector('[data-unsent="2"]')
  const bodies = [posted(page), posted(second)]
  await site.back()
  await page.waitForSelector('.outbox-status', { state: 'detached' })
  await second.waitForSelector('.outbox-status', { state: 'detached' })
  expect(bodies.flat(2).map((body) => (body as { seq: number }).seq)).toEqual([1, 2])
  await expect
    .poll(() => ownEntries().map(({ seq }) => seq))
    .toEqual(expect.arrayContaining([1, 2]))
  await close()
})

test('two pages of one device write the shop in turn, and each shows the newest of it when it is loaded without the server', async () => {
  const { page, close } = await openPage(browser, site, { expected })
  await isInstalled(page)
  const second = await page.context().newPage()
  await second.goto(site.url)
  const pages = [page, second]
  const wait = (what: string) => Promise.all(pages.map((one) => waitsFor(one, QUARTER, what)))
  await wait('coat')
  await press(page, QUARTER, 'StartCoat')
  await wait('spraying')
  await press(second, QUARTER, 'FinishCoat')
  await wait('flash')
  await site.away()
  for (const one of pages) await one.waitForSelector('.outbox-status .away')
  for (const one of pages) {
    await one.reload()
    await waitsFor(one, QUARTER, 'flash')
    await waitsFor(one, DOOR, 'coat')
  }
  await close()
})

test('a page whose server is there and does not answer shows the shop from its device', async () => {
  const { page, close } = await openPage(browser, site, { expected })
  await waitsFor(page, QUARTER, 'coat')
  await isInstalled(page)
  const { promise: held, resolve: goOn } = Promise.withResolvers<void>()
  // However long it takes, the server is never taken to be away.
  await page.addInitScript(() => {
    AbortSignal.timeout = () => new AbortController().signal
  })
  await page.route('**/api/state*', (route) => held.then(() => route.continue()))
  await page.reload()
  await waitsFor(page, QUARTER, 'coat')
  expect(await page.$('.outbox-status .away')).toBeNull()
  await site.send('PauseJob', { job: JOB })
  goOn()
  await page.waitForSelector(`.lanes [data-panel="${QUARTER}"] >> text=paused`)
  await close()
})

test('a page older than the server’s build sends what it kept, then reloads', async () => {
  const { page, close } = await openPage(browser, site, { expected })
  await waitsFor(page, QUARTER, 'coat')
  await isInstalled(page)
  await site.away()
  await page.waitForSelector('.outbox-status .away')
  await press(page, QUARTER, 'StartCoat')
  await page.waitForSelector('[data-unsent="1"]')
  await page.evaluate(() => {
    document.body.dataset.old = 'yes'
  })
  await site.back('another-build')
  await page.waitForFunction(() => document.body.dataset.old !== 'yes')
  await expect.poll(() => ownEntries().map(({ type }) => type)).toEqual(['CoatStarted'])
  await close()
})

test('the browser keeps the whole build and offers to install it; nothing of the API is kept', async () => {
  const { page, close } = await openPage(browser, site)
  await waitsFor(page, QUARTER, 'coat')
  await isInstalled(page)
  const kept = await page.evaluate(async () => {
    const names = await caches.keys()
    const all = await Promise.all(names.map(async (name) => (await caches.open(name)).keys()))
    return { names, paths: all.flat().map((request) => new URL(request.url).pathname) }
  })
  const build = await page.getAttribute('meta[name=build]', 'content')
  expect(kept.names).toEqual([`flashbell-${build}`])
  expect(kept.paths).toContain('/index.html')
  expect(kept.paths.some((path) => path.endsWith('.wasm'))).toBe(true)
  expect(kept.paths.filter((path) => path.startsWith('/api'))).toEqual([])
  const session = await page.context().newCDPSession(page)
  const { manifest, errors } = await session.send('Page.getAppManifest')
  expect(errors).toEqual([])
  expect(manifest).toMatchObject({ name: 'Flashbell' })
  const { installabilityErrors } = await session.send('Page.getInstallabilityErrors')
  // A test's browser forgets everything: at most that stands against installing. The packed one knows
  // no profiles and judges nothing, so the published criteria are gone through here as well.
  const others = installabilityErrors.filter(({ errorId }) => errorId !== 'in-incognito')
  expect(others).toEqual([])
  expect(await installProblems(page)).toEqual([])
  await close()
})
