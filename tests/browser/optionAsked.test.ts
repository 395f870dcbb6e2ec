import { afterEach, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import type { ShopSite } from '../support/browserShop.ts'
import { CLEAR } from '../support/sheets.ts'
import { JOB, openShop, pick, SOON, shownCup, stateOf, TOUCH } from './benchShop.ts'
import { overflowPx } from './onScreen.ts'

/** In air that no activator is made for, the one that goes in is asked for and logged. */

const browser = browserForTests()
let site: ShopSite
afterEach(() => site.stop())

test.each([
  ['wall', 'en', 'Which activator goes in?'],
  ['phone', 'es', '¿Qué catalizador lleva?'],
] as const)(
  'outside every range nothing is chosen, and which activator goes in is asked: %s, %s',
  async (size, language, question) => {
    site = await openShop({ language })
    await site.send('ReadClimate', { zone: 'bench', airC: 12, rh: 0.5 })
    const path = `/#/bench/${CLEAR.sheet}/${JOB}`
    const { page, close } = await openPage(browser, site, { size, path, ...TOUCH })
    const seen = async (name: string) => {
      expect(await overflowPx(page), name).toBe(0)
      await shot(page, `asked-${name}-${size}`)
    }
    await page.waitForSelector('[data-pick=activator]')
    await expect.poll(() => page.textContent('[data-why=activator]')).toContain('12')
    expect(await page.locator('[data-pick=activator] [aria-pressed=true]').count()).toBe(0)
    await page.locator('[data-pick=activator]').scrollIntoViewIfNeeded()
    await seen('what')
    await page.tap('[data-step=pour]')
    await page.waitForSelector('[data-next="0"]')
    await page.tap('[data-act=asShown]')
    await page.waitForSelector(`[data-pick=asked-activator] >> text=${question}`)
    expect(await page.isDisabled('[data-act=MixCup]')).toBe(true)
    await seen('pour')
    await pick(page, 'asked-activator', 'slow')
    await page.waitForSelector('[data-next="1"] >> text=(slow)')
    await page.tap('[data-act=asShown]')
    await page.waitForSelector('[data-error="0.0"]')
    await page.tap('[data-act=MixCup]')
    const id = await shownCup(page)
    const entry = () => stateOf(site).things.cup[id]?.entries[0]
    await expect.poll(() => entry()?.data, SOON).toMatchObject({ activator: 'slow' })
    expect(entry()?.outside).toMatchObject([{ code: 'optionOutside', value: 12 }])
    await close()
  },
)
