import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { calculatorNames } from '../../machines/trade/registry.ts'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { isInstalled } from './onScreen.ts'

/** The Calculator by touch: right input, wrong input, without a server, on every screen. */

const START = Date.UTC(2026, 10, 25, 8)

const browser = browserForTests(SOUND)
let site: ShopSite
beforeAll(async () => {
  site = await serveShop(START)
  await site.send('ReadClimate', { zone: 'bench', airC: 20, rh: 0.5 })
})
afterAll(() => site.stop())

const answer = (page: Page, name: string) => page.textContent(`[data-answer="${name}"]`)
const calculate = (page: Page) => page.tap('[data-act=calculate]')
const field = (name: string) => `input[name="${name}"]`

test('a wrong humidity is explained beside its field, and what was typed stays; once corrected, the dew point is calculated', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/bench', hasTouch: true })
  await page.tap('a[href="#/calculator"]')
  await page.tap('[data-calculator=dewPoint]')
  await page.tap(field('airC'))
  for (const key of '20') await page.tap(`.keypad button >> text="${key}"`)
  await page.tap(field('rh'))
  for (const key of '150') await page.tap(`.keypad button >> text="${key}"`)
  await calculate(page)
  await page.waitForSelector('[data-field=rh] [role=alert]')
  await expect
    .poll(() => page.textContent('[data-field=rh] [role=alert]'))
    .toBe('"150" won\'t work. Use a number above 0, up to 100 %.')
  await expect.poll(() => page.getAttribute(field('rh'), 'aria-invalid')).toBe('true')
  expect(await page.locator('.answer').count()).toBe(0)
  await shot(page, 'calculator-wrong')

  await page.fill(field('rh'), '50')
  await page.waitForSelector('.answer')
  // As the calculation's own tests have it from WMO-No. 8.
  await expect.poll(() => answer(page, 'dewPointC')).toContain('9.255 °C')
  await page.fill(field('surfaceC'), '15')
  await page.waitForSelector('[data-answer=marginC]')
  await expect.poll(() => answer(page, 'marginC')).toContain('5.745 °C')
  await close()
})

test('lists grow and shrink, choices are touched: too much of a component, with the server away', async () => {
  const { page, close } = await openPage(browser, site, {
    path: '/#/calculator/overPour',
    hasTouch: true,
    expected: /Failed to load|ERR_|EventSource/,
  })
  await page.waitForSelector(field('ratio'))
  await isInstalled(page)
  await site.away()
  await page.fill(field('ratio'), '2:1')
  await page.fill(field('totalMl'), '300')
  await calculate(page)
  await expect
    .poll(() => page.textContent('[data-field=pouredG] [role=alert]'))
    .toContain('This is missing')
  await page.tap('[data-add=densities]')
  await page.waitForSelector(field('densities.0'))
  await page.fill(field('densities.0'), '1')
  await page.fill(field('pouredG.0'), '250')
  await page.waitForSelector('[data-field=densities] > [role=alert] >> text=2 densities')
  await page.tap('[data-add=densities]')
  await page.fill(field('densities.1'), '1,05')
  await page.fill(field('cupMl'), '350')
  await page.waitForSelector('[data-answer=parts]')
  await expect.poll(() => answer(page, 'totalMl')).toContain('375 mL')
  await expect.poll(() => answer(page, 'fits')).toContain('no')
  await expect.poll(() => answer(page, 'parts')).toContain('131.3 g')
  await page.tap('[data-add=pouredG]')
  await page.fill(field('pouredG.1'), '200')
  await page.waitForSelector('[data-answer=totalMl] >> text=571.4 mL')
  await page.tap('[data-field=pouredG] .item >> nth=1 >> button')
  await page.waitForSelector('[data-answer=totalMl] >> text=375 mL')
  await shot(page, 'calculator-over-pour')
  await site.back()
  await close()
})

test('what was typed outlives a reload; in Fahrenheit and Spanish the same activator is proposed, and why', async () => {
  await site.send('ChangeSettings', { language: 'es', units: { temperature: 'F' } })
  const { page, close } = await openPage(browser, site, {
    path: '/#/calculator/activator',
    hasTouch: true,
  })
  await page.fill(field('options.0.name'), 'estándar')
  await page.fill(field('options.0.fromC'), '59')
  await page.fill(field('options.0.toC'), '77')
  await page.fill(field('nowC'), '68')
  await page.reload()
  await page.waitForSelector(field('warmestC'))
  await expect.poll(() => page.inputValue(field('options.0.toC'))).toBe('77')
  await page.fill(field('warmestC'), '500')
  await calculate(page)
  await page.waitForSelector('[role=alert] >> text=/500. no sirve. Use un número de -22 a 248 °F/')
  await page.fill(field('warmestC'), '72')
  await page.waitForSelector('[data-answer=name] >> text=estándar')
  await expect
    .poll(() => answer(page, 'why'))
    .toContain('Habrá hasta 72 °F; estándar es para 59 °F a 77 °F.')
  await expect
    .poll(() => page.textContent('[data-about=caution]'))
    .toContain('Solo entre lo que la ficha')
  await shot(page, 'calculator-es')
  await close()
  await site.send('ChangeSettings', { language: 'en', units: { temperature: 'C' } })
})

const looks = [
  { name: 'wall-light', size: 'wall', colorScheme: 'light', language: 'en' },
  { name: 'large-dark-es', size: 'wall', colorScheme: 'dark', language: 'es', isLarge: true },
  { name: 'phone-dark-es', size: 'phone', colorScheme: 'dark', language: 'es' },
] as const

test.each(looks)(
  'every calculation has its form on a $name',
  async ({ name, language, ...look }) => {
    await site.send('ChangeSettings', { language })
    const large = 'isLarge' in look ? { viewport: { width: 1920, height: 1080 } } : {}
    const { page, close } = await openPage(browser, site, {
      path: '/#/calculator',
      ...look,
      ...large,
    })
    await page.waitForSelector('[data-calculator=cupPlan]')
    await shot(page, `calculator-all-${name}`)
    for (const calculation of calculatorNames) {
      await page.goto(`${site.url}/#/calculator/${calculation}`)
      await page.waitForSelector('.calc [data-act=calculate]')
      await page.click('[data-act=calculate]')
      await page.waitForSelector('[role=alert]')
      await shot(page, `calculator-${calculation}-${name}`)
      const tooWide = await page.evaluate(() => {
        const main = document.querySelector('main')
        return main === null ? 0 : main.scrollWidth - main.clientWidth
      })
      expect(tooWide, calculation).toBe(0)
    }
    await close()
  },
)
