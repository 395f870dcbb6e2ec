import { afterEach, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import type { ShopSite } from '../support/browserShop.ts'
import { CLEAR } from '../support/sheets.ts'
import { openShop, TOUCH } from './benchShop.ts'

/** What to pour, and how much, stays in sight while a bell stands over the foot of the Bench. */

const MINUTE = 60_000
const browser = browserForTests()
let site: ShopSite
afterEach(() => site.stop())

test.each(['wall', 'phone'] as const)(
  'beside a bell the Bench shows what to pour, and its field scrolls nothing away: %s',
  async (size) => {
    site = await openShop()
    await site.send('SaveZone', { zone: 'booth', name: 'Booth' })
    await site.send('FinishCoat', { panels: ['REARQTR2'], cup: 'K7QDM2XV' })
    // Both cups have less than ten minutes left.
    site.clock.move(47 * MINUTE)
    const path = `/#/bench/${CLEAR.sheet}`
    const { page, close } = await openPage(browser, site, { size, path, ...TOUCH })
    await page.waitForSelector('.dock .bell')
    await page.waitForSelector('[data-breathing=booth]')
    /** Whether the top and the bottom of it can be seen. */
    const isSeen = (selector: string) =>
      page.locator(selector).evaluate((e) => {
        const { left, top, bottom } = e.getBoundingClientRect()
        return [top + 4, bottom - 4].every((y) => {
          const at = document.elementFromPoint(left + 4, y)
          return at !== null && (e === at || e.contains(at))
        })
      })
    const what = async () => [await isSeen('.pour-next h2'), await isSeen('.pour-next .reading')]
    await page.tap('[data-step=pour]')
    for (const part of [0, 1]) {
      await page.waitForSelector(`[data-next="${part}"]`)
      await expect
        .poll(() => page.evaluate(() => document.activeElement?.getAttribute('name')))
        .toBe('reading')
      expect(await what()).toEqual([true, true])
      expect(await page.evaluate(() => document.querySelector('main')?.scrollTop)).toBe(0)
      await shot(page, `pour-in-sight-${part}-${size}`)
      // As a scale does that types: nothing is touched, and nothing scrolls.
      if (part === 0) await page.locator('[data-act=asShown]').dispatchEvent('click')
    }
    await close()
  },
)
