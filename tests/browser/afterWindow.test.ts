import type { Page } from 'playwright-core'
import { afterEach, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE, SEALER } from '../support/sheets.ts'
import { lane, overflowPx } from './onScreen.ts'

/** A window that shut, on the Wall: what its sheet asks for is touched, first key by first key, and base goes on. */

const START = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const PANEL = 'REARQTR2'
const [SEALED, FRESH, BASED] = ['K7QDM2XV', 'M3TDM2XV', 'B3TDM2XV']
const ROUTE = [
  { stage: 'sealer', sheet: SEALER.sheet },
  { stage: 'base', sheet: BASE.sheet },
]
const SOON = { timeout: 60_000 }

const browser = browserForTests()
let site: ShopSite
afterEach(() => site.stop())

const panel = () => site.shops.ownWriter.state().things.panel[PANEL]?.context

/** A sealer coat whose window of four hours has two minutes left, in air that was read. */
async function sealed(afterWindow: string, language: string): Promise<void> {
  site = await serveShop(START)
  await site.send('ChangeSettings', { language })
  for (const sheet of [BASE, { ...SEALER, afterWindow }]) await site.send('SaveSheet', { sheet })
  await site.send('OpenJob', { job: 'VANREAR2', title: 'Delivery van' })
  const about = { panel: PANEL, name: 'Rear quarter', operation: 'repair', areaM2: 1 }
  await site.send('AddPanel', { job: 'VANREAR2', ...about, route: ROUTE })
  await site.send('MixCup', { cup: SEALED, sheet: SEALER.sheet, totalMl: 300 })
  const readAir = () => site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  await readAir()
  await site.send('StartCoat', { panels: [PANEL], cup: SEALED })
  site.clock.move(2 * MINUTE)
  await site.send('FinishCoat', { panels: [PANEL] })
  for (let min = 0; min < 238; min += 14) {
    await readAir()
    site.clock.move(14 * MINUTE)
  }
  await readAir()
  await site.send('EmptyCup', { cup: SEALED, how: 'discarded' })
  await site.send('MixCup', { cup: FRESH, sheet: SEALER.sheet, totalMl: 300 })
  await site.send('MixCup', { cup: BASED, sheet: BASE.sheet, totalMl: 300 })
}

/** What the bell that rings says has no line that is cut off. */
const isWhole = (page: Page) =>
  page
    .locator('.bell.card .says')
    .evaluate((says) => says.scrollHeight - says.getBoundingClientRect().height < 10)

const CASES = [
  ['reapply', 'wall', 'en', ['more-']],
  ['reapply', 'phone', 'en', ['more-']],
  ['abradeAndRecoat', 'wall', 'es', ['abrade-500', 'more-']],
  ['abradeAndRecoat', 'phone', 'es', ['abrade-500', 'more-']],
] as const

test.each(CASES)(
  '"%s" on the %s, %s: each first key leads on',
  async (sheet, size, language, keys) => {
    await sealed(sheet, language)
    const options = { size, expected: /status of 409/, hasTouch: true }
    const { page, close } = await openPage(browser, site, options)
    const chip = `${lane(PANEL)} .chip`
    // Shape and word beside the digits: no meaning hangs on color alone.
    await page.waitForSelector(`${chip}[data-sound=C1] .small .shape`)
    const card = page.locator('.bell.card')
    await expect.poll(() => card.textContent(), SOON).toMatch(/Rear quarter: .* [12]:\d\d/)
    expect(await isWhole(page)).toBe(true)
    await shot(page, `window-closing-${sheet}-${size}`)
    site.clock.move(3 * MINUTE)
    await page.waitForSelector(`${chip}[data-sound=C2] .shape`, SOON)
    expect(await overflowPx(page)).toBe(0)
    const shut = language === 'en' ? 'window closed · 13:02, ' : 'ventana cerrada · 13:02, '
    await expect.poll(() => card.locator('.says').textContent(), SOON).toContain(shut)
    expect(await isWhole(page)).toBe(true)
    await shot(page, `window-shut-${sheet}-${size}`)
    await page.tap(lane(PANEL))
    for (const [i, key] of keys.entries()) {
      const main = page.locator('.act-sheet .acts > button.main').first()
      await expect.poll(() => main.getAttribute('data-key'), SOON).toMatch(key)
      await shot(page, `window-key${i}-${sheet}-${size}`)
      await page.tap('.act-sheet [data-key^="start-"]')
      await page.waitForSelector('.refusal')
      const first = page.locator('.refusal button').first()
      expect(await first.getAttribute('data-key')).toMatch(key)
      await shot(page, `window-refused${i}-${sheet}-${size}`)
      await first.tap()
      if (key === 'more-') await expect.poll(() => panel()?.open?.cups, SOON).toEqual([FRESH])
      else {
        await page.waitForSelector(`${lane(PANEL)}[data-waits=recoat]`, SOON)
        await shot(page, `window-abraded-${sheet}-${size}`)
        await page.tap(lane(PANEL))
      }
    }
    await close()
  },
)

test.each(['wall', 'phone'] as const)(
  'on the %s a shut window is gone over only by a reason that is held for a second',
  async (size) => {
    await sealed('reapply', 'en')
    site.clock.move(3 * MINUTE)
    const options = { size, expected: /status of 409/, hasTouch: true }
    const { page, close } = await openPage(browser, site, options)
    await page.tap(lane(PANEL))
    await page.tap('.act-sheet [data-key^="start-"]')
    await page.tap('.refusal summary')
    const reasons = page.locator('.refusal [data-act^="reason-"]')
    expect(await reasons.evaluateAll((all) => all.map((one) => one.className))).toEqual(
      Array.from({ length: 8 }, () => 'hold'),
    )
    await shot(page, `window-override-${size}`)
    const wrongMix = page.locator('[data-act=reason-WRONG_MIX]')
    await wrongMix.tap()
    // Let go of, nothing is on its way: the refusal stands as it was.
    expect(await page.locator('[data-held]').count()).toBe(0)
    expect(await page.locator('.sending').count()).toBe(0)
    expect(panel()?.open).toBeNull()
    await wrongMix.scrollIntoViewIfNeeded()
    const box = await wrongMix.boundingBox()
    await page.mouse.move((box?.x ?? 0) + 20, (box?.y ?? 0) + 20)
    await page.mouse.down()
    await expect.poll(() => panel()?.open?.cups, SOON).toEqual([BASED])
    await page.mouse.up()
    const { entries } = site.shops.ownWriter.state().things.panel[PANEL] ?? {}
    expect(entries?.at(-1)?.override).toMatchObject({ reason: 'WRONG_MIX', codes: ['windowShut'] })
    await close()
  },
)
