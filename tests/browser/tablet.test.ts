import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { shot } from '../support/browser.ts'
import { CUP, MINUTE, panelId } from './busyShop.ts'
import { overflowPx } from './onScreen.ts'
import { vanShop } from './vanShop.ts'

/** A tablet stands between a phone and a wall: lying and upright, nothing that is pressed or read in haste is cut. */

const shop = vanShop()
const { van, open } = shop

const SCREENS = [
  'bench',
  'cups',
  'calculator',
  'jobs',
  'scan',
  'setup',
  'booth',
  'air',
  'help/wall',
]

/** What of these reaches beyond the screen, or lies under something else. */
const cut = (page: Page, selector: string): Promise<string[]> =>
  page.locator(selector).evaluateAll((all) =>
    all.flatMap((one) => {
      const { left, top, right, bottom } = one.getBoundingClientRect()
      const isIn = left >= 0 && top >= 0 && right <= innerWidth + 0.5 && bottom <= innerHeight + 0.5
      const at = document.elementFromPoint((left + right) / 2, (top + bottom) / 2)
      const isSeen = at !== null && (one.contains(at) || at.contains(one))
      return isIn && isSeen ? [] : [one.textContent ?? '']
    }),
  )

test.each([
  { width: 1024, height: 768, language: 'en', lanes: 3 },
  { width: 1024, height: 768, language: 'es', lanes: 6 },
  { width: 768, height: 1024, language: 'en', lanes: 6 },
  { width: 768, height: 1024, language: 'es', lanes: 3 },
])(
  'on a tablet of $width by $height, $language, $lanes lanes and a bell',
  async ({ width, height, language, lanes }) => {
    await van(lanes)
    await shop.site.send('ChangeSettings', { language })
    await shop.site.send('LoadGun', { gun: 'gun-2', cup: CUP })
    await shop.site.send('FinishCoat', { panels: [panelId(0), panelId(1)], cup: CUP })
    shop.site.clock.move(10.1 * MINUTE)
    const { page, close } = await open({ viewport: { width, height } })
    await page.waitForSelector('[data-bell=coatReady]')
    await page.evaluate(() => document.fonts.ready)
    await shot(page, `tablet-${width}-${language}`)
    const pressed = ['.bell.card button', '.wall-tools > *', '.foot .gun button', 'nav .button']
    for (const selector of pressed) {
      expect(await page.locator(selector).count(), selector).toBeGreaterThan(0)
      expect(await cut(page, selector), selector).toEqual([])
    }
    expect(await cut(page, '.lane .chip >> nth=0')).toEqual([])
    for (const screen of ['wall', ...SCREENS]) {
      await page.goto(`${shop.site.url}/#/${screen}`)
      await page.waitForSelector(`[data-screen="${screen.split('/')[0]}"]`)
      await page.waitForTimeout(300)
      expect(await overflowPx(page), screen).toBe(0)
    }
    await close()
  },
)
