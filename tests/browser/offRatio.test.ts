import type { Page } from 'playwright-core'
import { afterEach, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import type { ShopSite } from '../support/browserShop.ts'
import { CLEAR } from '../support/sheets.ts'
import { cupIn, JOB, openShop, SOON, shownCup, TOUCH } from './benchShop.ts'
import { openHash, overflowPx } from './onScreen.ts'

/** A cup poured beyond its ratio's tolerance: what to add comes first, and nothing shows it as a good one. */

const browser = browserForTests()
let site: ShopSite
afterEach(() => site.stop())

const isMain = (page: Page, act: string) =>
  page.locator(`[data-act=${act}]`).evaluate((key) => key.classList.contains('main'))

const LOOKS = [
  ['wall', 'en', 'OFF RATIO', 'START will refuse'],
  ['phone', 'es', 'FUERA DE PROPORCIÓN', 'EMPEZAR rechazará'],
] as const

test.each(LOOKS)(
  'beyond the tolerance the top-up is the key, and the cup is shown as off: %s, %s',
  async (size, language, word, refusal) => {
    site = await openShop({ language })
    const path = `/#/bench/${CLEAR.sheet}/${JOB}`
    const { page, close } = await openPage(browser, site, { size, path, ...TOUCH })
    const seen = async (name: string) => {
      expect(await overflowPx(page), name).toBe(0)
      await shot(page, `off-ratio-${name}-${size}`)
    }
    const show = async (grams: string) => {
      await page.fill('[name=reading]', grams)
      await page.tap('[data-act=take]')
    }
    await page.tap('[data-step=pour]')
    await show('200')
    await page.waitForSelector('[data-next="1"]')
    // A little too much is within the tolerance.
    await show('310')
    await page.waitForSelector('[data-next="0"]')
    expect(await isMain(page, 'MixCup')).toBe(true)
    await page.tap('[data-act=undoPour]')
    await page.waitForSelector('[data-next="1"]')
    await show('450')
    await page.waitForSelector(`.pouring [role=alert] >> text=${refusal}`)
    expect([await isMain(page, 'MixCup'), await isMain(page, 'asShown')]).toEqual([false, true])
    await seen('pour')
    // What is in the cup can be recorded all the same.
    await page.tap('[data-act=MixCup]')
    const id = await shownCup(page)
    await expect.poll(() => cupIn(site, id)?.off?.length, SOON).toBe(1)
    await page.waitForSelector(`.cup-label [role=alert] >> text=${refusal}`)
    expect(await page.textContent('.by-hand')).toContain('2:2.38')
    await seen('label')
    for (const [place, cup] of [
      ['cups', `.cup-card[data-cup="${id}"]`],
      ['wall', `.cup[data-cup="${id}"]`],
    ] as const) {
      await openHash(page, place)
      await page.waitForSelector(`${cup} >> text=${word}`)
      await page.locator(cup).scrollIntoViewIfNeeded()
      await seen(place)
    }
    await openHash(page, 'scan', id)
    await page.waitForSelector(`.scan-cup .sentence >> text=${refusal}`)
    await seen('scan')
    // What it is short of is filled in: 250 g of activator are 238 mL, which take 476 mL of clear.
    await openHash(page, 'cups', id, 'pour')
    await page.waitForSelector('[data-child]')
    expect(await page.inputValue('[data-field="add.0.ml"] input')).toBe('276')
    await page.waitForSelector('[data-value=clear][aria-pressed=true] >> text=276.2 g')
    expect(await page.locator(`.form .sentence >> text=${refusal}`).count()).toBe(0)
    await seen('top-up')
    await page.tap('[data-act=PourCup]')
    await page.waitForSelector(`.cup-label:not([data-cup="${id}"])`)
    const made = await shownCup(page)
    expect(cupIn(site, made)).toMatchObject({ off: [], ratio: '2:1' })
    expect(await page.locator(`.cup-label >> text=${refusal}`).count()).toBe(0)
    await close()
  },
)
