import { afterEach, expect, test } from 'vitest'
import { openPage, SIZES, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE } from '../support/sheets.ts'
import { lane, overflowPx } from './onScreen.ts'

/** How long a stored mix keeps, asked by touch before its first use of a later day. */

const START = Date.UTC(2026, 10, 25, 8)
const DAY = 24 * 3_600_000
const CUP = 'K7QDM2XV'
const [JOB, PANEL] = ['VANREAR2', 'REARQTR2']
const SOON = { timeout: 60_000 }
const { keepDays: _, ...SILENT } = BASE

const browser = browserForTests()
let site: ShopSite
afterEach(() => site.stop())
const figures = () => site.shops.ownWriter.state().things.sheet[BASE.sheet]?.context.figures

async function storedSince(language: string): Promise<void> {
  site = await serveShop(START)
  await site.send('ChangeSettings', { language })
  await site.send('SaveSheet', { sheet: SILENT })
  await site.send('OpenJob', { job: JOB, title: 'Delivery van' })
  const panel = { job: JOB, panel: PANEL, name: 'Rear quarter', operation: 'repair', areaM2: 1 }
  await site.send('AddPanel', { ...panel, route: [{ stage: 'base', sheet: BASE.sheet }] })
  await site.send('MixCup', { cup: CUP, sheet: BASE.sheet, totalMl: 300, job: JOB })
  site.clock.move(DAY)
  await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
}

test.each([
  ['wall', 'en'],
  ['phone', 'es'],
] as const)('on the lane that is to be sprayed from it: %s, %s', async (size, language) => {
  await storedSince(language)
  const { page, close } = await openPage(browser, site, { size, hasTouch: true })
  await page.tap(lane(PANEL))
  const key = page.locator('[data-asks=keep] [data-act=keep-30]')
  await key.waitFor()
  expect(await overflowPx(page)).toBe(0)
  // Beside START, without scrolling.
  const box = await key.boundingBox()
  expect((box?.y ?? 9_999) + (box?.height ?? 0)).toBeLessThan(SIZES[size].height)
  await shot(page, `keep-ask-${size}`)
  await page.tap('[data-asks=keep] [data-act=keep-30]')
  await expect.poll(() => figures()?.at(-1)?.keep, SOON).toEqual({ reduced: false, days: 30 })
  await page.waitForSelector('[data-asks=keep]', { state: 'detached' })
  await close()
})

test.each(['cups', `scan/${CUP}`])('with the cup itself, on %s', async (path) => {
  await storedSince('en')
  const { page, close } = await openPage(browser, site, {
    ...({ size: 'phone', path: `/#/${path}`, hasTouch: true } as const),
  })
  if (path === 'cups') await page.tap('.cup-row')
  await page.waitForSelector('[data-asks=keep]')
  expect(await overflowPx(page)).toBe(0)
  await shot(page, `keep-ask-${path.slice(0, 4)}`)
  await page.tap('[data-act=keep-unlimited]')
  await expect.poll(() => figures()?.at(-1)?.keep?.days, SOON).toBe('unlimited')
  await close()
})
