import type { Page } from 'playwright-core'
import { afterEach, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { lane, overflowPx } from './onScreen.ts'

/** The sheet of a lane at the dangerous moment: what it asks and the next key stand in sight, and one key is the main one. */

const START = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const DAY = 24 * 60 * MINUTE
const [JOB, PANEL] = ['VANREAR2', 'REARQTR2']
const [CUP, FRESH] = ['K7QDM2XV', 'M3TDM2XV']
const SCREENS = [
  ['wall', 'en'],
  ['wall', 'es'],
  ['phone', 'en'],
  ['phone', 'es'],
] as const

const browser = browserForTests()
let site: ShopSite
afterEach(() => site.stop())

const { keepDays: _, ...SILENT } = BASE

async function van(sheet: { sheet: string; stage: string }, language: string): Promise<void> {
  site = await serveShop(START)
  await site.send('ChangeSettings', { language })
  await site.send('SaveSheet', { sheet })
  await site.send('OpenJob', { job: JOB, title: 'Delivery van' })
  const panel = { job: JOB, panel: PANEL, name: 'Rear quarter', operation: 'repair', areaM2: 1 }
  await site.send('AddPanel', { ...panel, route: [{ stage: sheet.stage, sheet: sheet.sheet }] })
  await site.send('MixCup', { cup: CUP, sheet: sheet.sheet, totalMl: 300, job: JOB })
}

/** Of these keys of the sheet, those that a finger could not touch without scrolling first. */
const outOfSight = (page: Page, selector: string): Promise<string[]> =>
  page.locator(`.act-sheet :is(${selector})`).evaluateAll((all) =>
    all
      .filter((e) => {
        const { left, right, top, bottom } = e.getBoundingClientRect()
        const corners = [top + 4, bottom - 4].map((y) =>
          document.elementFromPoint((left + right) / 2, y),
        )
        return corners.some((at) => at === null || !e.contains(at))
      })
      .map((e) => e.textContent ?? ''),
  )

test.each(SCREENS)(
  'with air and no surface, how long a mix keeps is asked beside START: %s, %s',
  async (size, language) => {
    await van(SILENT, language)
    site.clock.move(DAY)
    await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.7 })
    const { page, close } = await openPage(browser, site, { size, hasTouch: true })
    await page.tap(lane(PANEL))
    await page.waitForSelector('[data-asks=keep] [data-act=keep-30]')
    await page.waitForSelector('.act-sheet [data-act=readSurface]')
    const wanted = '[data-asks=keep] .acts > *, [data-key^=start-], [data-act=readSurface]'
    expect(await outOfSight(page, wanted)).toEqual([])
    await close()
  },
)

test.each(SCREENS)(
  'without a reading, how long a mix keeps is asked beside START: %s, %s',
  async (size, language) => {
    await van(SILENT, language)
    site.clock.move(DAY)
    const { page, close } = await openPage(browser, site, { size, hasTouch: true })
    await page.tap(lane(PANEL))
    await page.waitForSelector('[data-asks=keep] [data-act=keep-30]')
    await page.waitForSelector('.act-sheet [data-act=readAir]')
    expect(await overflowPx(page)).toBe(0)
    await shot(page, `asks-in-sight-${size}-${language}`)
    const wanted =
      '[data-asks=keep] p, [data-asks=keep] .acts > *, [data-key^=start-], [data-act=readAir]'
    expect(await outOfSight(page, wanted)).toEqual([])
    await close()
  },
)

test.each(SCREENS)(
  'after a refusal its way out alone is the main key, until it was gone: %s, %s',
  async (size, language) => {
    await van(CLEAR, language)
    await site.send('MixCup', { cup: FRESH, sheet: CLEAR.sheet, totalMl: 100 })
    await site.send('SaveSheet', { sheet: BASE })
    await site.send('MixCup', { cup: 'P2TDM2XV', sheet: BASE.sheet, totalMl: 100 })
    await site.send('LoadGun', { gun: 'gun-1', cup: 'P2TDM2XV' })
    await site.send('LoadGun', { gun: 'gun-1', cup: CUP, override: { reason: 'EQUIPMENT' } })
    await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
    const options = { size, hasTouch: true, expected: /status of 409/ } as const
    const { page, close } = await openPage(browser, site, options)
    await page.tap(lane(PANEL))
    const mainKeys = () =>
      page
        .locator('.act-sheet .main')
        .evaluateAll((all) => all.map((e) => (e as HTMLElement).dataset.act))
    await page.waitForSelector('.act-sheet .main')
    expect(await mainKeys()).toEqual(['StartCoat'])
    await page.tap(`.act-sheet [data-key=start-${CUP}]`)
    await page.waitForSelector('.refusal [data-act=CleanGun]')
    await shot(page, `refused-main-${size}-${language}`)
    expect(await mainKeys()).toEqual(['CleanGun'])
    expect(await outOfSight(page, '.refusal .sentence, .refusal [data-act=CleanGun]')).toEqual([])
    await page.tap('.refusal [data-act=CleanGun]')
    // The way is free: nothing says no any more, and START is the key.
    await page.waitForSelector('.act-sheet .refusal', { state: 'detached' })
    expect(await mainKeys()).toEqual(['StartCoat'])
    await close()
  },
)
