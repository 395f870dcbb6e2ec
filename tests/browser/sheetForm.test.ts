import type { Page } from 'playwright-core'
import { afterEach, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { AXE, problemsNow } from './audit.ts'
import { rulesFor } from './targets.ts'

/** A sheet typed from its maker's paper: counted in touches and keys, and what it says when it is wrong. */

const START = Date.UTC(2026, 10, 25, 8)
const TOUCHES_MOST = 20
const KEYS_MOST = 40

/** What is wrong is said in the words that stand on the form's keys. */
const SAYS = {
  en: ['Medium is missing. Use one of solvent, waterborne', 'Pot life: Time is missing'],
  es: ['solvente, base agua', 'Vida útil: Tiempo'],
}

const browser = browserForTests(SOUND)
let site: ShopSite
afterEach(() => site.stop())

const sheets = () => site.shops.ownWriter.state().things.sheet
const saved = (id: string) => sheets()[id]?.context.versions.at(-1)?.sheet

/** One hand at the glass: what it touches, and what it types on the keys of the kiosk or of the system. */
function hand(page: Page) {
  const count = { touches: 0, keys: 0 }
  const focused = (name: string) =>
    page.waitForFunction(
      (wanted) => (document.activeElement as HTMLInputElement | null)?.name === wanted,
      name,
    )
  return {
    focused,
    count,
    async touch(selector: string) {
      count.touches += 1
      await page.tap(selector)
      // What is typed next goes where the focus is.
      const [, name] = /^\[name="?([^"\]]+)/.exec(selector) ?? []
      if (name !== undefined) await focused(name)
    },
    /** On the keys of the kiosk, `>` for the next field. */
    async keys(text: string) {
      for (const sign of text) {
        count.keys += 1
        await page.tap(`.keypad [data-key="${sign === '>' ? '→' : sign}"]`)
      }
    },
    /** Letters, on the keyboard of the system. */
    async letters(text: string) {
      for (const letter of text) {
        count.keys += 1
        await page.keyboard.type(letter)
      }
    },
  }
}

test('a two-component sheet from nothing: every figure typed, in at most 20 touches and 40 keys', async () => {
  site = await serveShop(START)
  const { page, close } = await openPage(browser, site, {
    hasTouch: true,
    path: '/#/setup/sheets/new',
  })
  const { touch, keys, letters, focused, count } = hand(page)
  await page.waitForSelector('.sheet-form [name=name]')
  await shot(page, 'sheet-form-product')
  await touch('[name=name]')
  await letters('2K clear')
  await touch('[data-field=stage] [data-value=clear]')
  await touch('[data-field=medium] [data-value=solvent]')
  await touch('[data-field=by] [data-value=volume]')
  await touch('[name=ratio]')
  await keys('4:1+10%')
  await shot(page, 'sheet-form-ratio')
  await touch('[data-act=nextStep]')
  // Where a step begins, its first field has the focus.
  await focused('potLife.0.minutes')
  await keys('60>10>15>480')
  await shot(page, 'sheet-form-times')
  await touch('[data-act=nextStep]')
  await touch('[data-add="cure.bake"]')
  await touch('[name="cure.bake.0.tempC"]')
  await keys('60>30>10')
  await touch('[data-field="cure.bake.0.basis"] [data-value=part]')
  await shot(page, 'sheet-form-heat')
  await touch('[data-act=nextStep]')
  await focused('coats.least')
  await keys('2')
  await touch('[data-pick="hazards.signal"] [data-value=DANGER]')
  await touch('[data-pick="hazards.pictograms"] [data-value=flame]')
  await touch('[data-pick="hazards.pictograms"] [data-value=health]')
  await touch('[data-field="hazards.isocyanate"] [data-value=yes]')
  await touch('[data-pick="hazards.words"] [data-value=FLAMMABLE]')
  await shot(page, 'sheet-form-hazards')
  await touch('[data-act=nextStep]')
  await page.waitForSelector('.sheet-facts')
  await shot(page, 'sheet-form-check')
  await touch('[data-act=SaveSheet]')
  await expect.poll(() => saved('2k-clear')).toBeDefined()
  await expect
    .poll(() => saved('2k-clear'))
    .toMatchObject({
      name: '2K clear',
      stage: 'clear',
      components: [
        { name: 'clear', role: 'base', parts: 4 },
        { name: 'activator', role: 'activator', parts: 1 },
        { name: 'reducer', role: 'reducer', parts: 0.5 },
      ],
      by: 'volume',
      potLife: [{ atC: 20, minutes: 60 }],
      flashBetween: [{ atC: 20, minutes: 10 }],
      flashBeforeNext: [{ atC: 20, minutes: 15 }],
      recoatWithin: [{ atC: 20, minutes: 480 }],
      cure: {
        bake: [{ tempC: 60, minutes: 30, basis: 'part', flashBefore: [{ atC: 20, minutes: 10 }] }],
      },
      coats: { least: 2, planned: 2, most: 2 },
      hazards: { signal: 'DANGER', pictograms: ['flame', 'health'], isocyanate: true },
    })
  console.info(
    `A sheet: ${count.touches} touches of ${TOUCHES_MOST}, ${count.keys} keys of ${KEYS_MOST}.`,
  )
  expect(count.touches).toBeLessThanOrEqual(TOUCHES_MOST)
  expect(count.keys).toBeLessThanOrEqual(KEYS_MOST)
  // Its page shows all of it.
  await page.click('.setup-rows >> text=2K clear')
  await page.waitForSelector('.sheet-facts')
  const said = await page.textContent('.sheet-facts')
  for (const part of ['10 min at 20 °C', '60 °C', 'the part', 'FLAMMABLE', 'solvent'])
    expect(said).toContain(part)
  await shot(page, 'sheet-page')
  await close()
})

test.each([
  ['wall', 'en'],
  ['phone', 'es'],
] as const)(
  'all that is wrong is said at once beside its field, counted at its step, and goes when it is mended: %s, %s',
  async (size, language) => {
    site = await serveShop(START)
    await site.send('ChangeSettings', { language })
    const { page, close } = await openPage(browser, site, {
      size,
      path: '/#/setup/sheets/new',
      prepare: async (opened) => void (await opened.addInitScript({ path: AXE })),
    })
    const audited = async () => {
      await page.evaluate(() => document.fonts.ready)
      expect(await problemsNow(page, rulesFor(size, 96 / 25.4))).toEqual([])
    }
    await page.fill('[name=name]', '1K primer')
    await page.click('[data-field=stage] [data-value=primer]')
    await page.fill('[name=ratio]', '4 to 1')
    await page.waitForSelector('[data-field=ratio] [role=alert] >> text=/4:1\\+10%/')
    await shot(page, `sheet-form-wrong-ratio-${size}`)
    await audited()
    await page.fill('[name=ratio]', '1')
    await page.waitForSelector('[data-field=ratio] [role=alert]', { state: 'detached' })
    await page.click('[data-step=check]')
    // What is open is listed before anybody tries to save.
    const open = Number(await page.getAttribute('[data-open]', 'data-open'))
    expect(open).toBeGreaterThan(5)
    for (const part of SAYS[language])
      await expect.poll(() => page.textContent('[data-open]')).toContain(part)
    await shot(page, `sheet-form-open-${size}`)
    await audited()
    await page.click('[data-act=SaveSheet]')
    await page.waitForSelector('[data-step=product][aria-pressed=true]')
    expect(
      await page.locator('[data-field=medium] .sentence, [data-field=by] .sentence').count(),
    ).toBe(2)
    await shot(page, `sheet-form-wrong-${size}`)
    await audited()
    const wrongIn = (step: string) => page.getAttribute(`[data-step=${step}]`, 'data-wrong')
    await expect.poll(() => wrongIn('product')).toBe('2')
    await expect.poll(() => wrongIn('coats')).toBe('3')
    expect(Number(await wrongIn('times'))).toBeGreaterThan(3)
    await page.click('[data-field=medium] [data-value=waterborne]')
    await page.click('[data-field=by] [data-value=mass]')
    await expect.poll(() => wrongIn('product')).toBeNull()
    await page.click('[data-step=times]')
    await page.click('[data-field=potLife] [data-value=noPotLife]')
    for (const name of ['flashBetween', 'flashBeforeNext'])
      await page.fill(`[name="${name}.0.minutes"]`, '15')
    await page.click('[data-field=recoatWithin] [data-value=unlimited]')
    await expect.poll(() => wrongIn('times')).toBeNull()
    await shot(page, `sheet-form-mended-${size}`)
    await audited()
    await page.click('[data-step=heat]')
    await page.click('[data-add="cure.bake"]')
    await audited()
    await shot(page, `sheet-form-heat-${size}`)
    await page.click('.remove')
    await page.click('[data-step=coats]')
    await audited()
    await page.fill('[name="coats.planned"]', '2')
    await page.fill('[name="coats.most"]', '3')
    await expect.poll(() => wrongIn('coats')).toBeNull()
    await page.click('[data-step=check]')
    await page.click('[data-act=SaveSheet]')
    await expect
      .poll(() => saved('1k-primer'))
      .toMatchObject({
        potLife: null,
        coats: { least: 2, planned: 2, most: 3 },
        recoatWithin: 'unlimited',
      })
    await close()
  },
)
