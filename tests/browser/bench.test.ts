import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import type { ShopSite } from '../support/browserShop.ts'
import { CLEAR } from '../support/sheets.ts'
import {
  CUP,
  cupIn,
  JOB,
  MINUTE,
  openShop,
  pick,
  SOON,
  shownCup,
  stateOf,
  TOUCH,
} from './benchShop.ts'
import { isInstalled } from './onScreen.ts'

/** A cup by touch from its sheet to its label. */

const browser = browserForTests(SOUND)
let site: ShopSite

beforeAll(async () => {
  site = await openShop()
})
afterAll(() => site.stop())

/** Types on the kiosk's own keys. */
const keys = async (page: Page, text: string) => {
  for (const sign of text) await page.tap(`.keypad button >> text="${sign}"`)
}
test('a cup is mixed by touch from its sheet to its label, with too much poured in between', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/bench', ...TOUCH })
  // Of clear there are two cups; the van has none of its base.
  await page.waitForSelector('[data-pick=sheet] [data-value="base-solvent"][aria-pressed=true]')
  await page.waitForSelector(`[data-pick=job] [data-value="${JOB}"][aria-pressed=true]`)
  await page.waitForSelector('[data-pick=colour] [data-value=silver][aria-pressed=true]')
  await pick(page, 'sheet', CLEAR.sheet)
  await pick(page, 'job', JOB)
  await expect.poll(() => page.textContent('[data-why=activator]')).toContain('standard is for')
  await page.tap('[data-act=next]')

  // 3.2 m² × 2 coats × 25 µm / (0.45 × 0.65) = 547 mL, rounded up.
  await page.waitForSelector('[data-needed="550"]')
  await page.waitForSelector('[data-life=enough]')
  await pick(page, 'cupMl', '650')
  await page.tap('[data-step=pour]')
  await page.waitForSelector('[data-next="0"] .reading >> text=366.7 g')

  await keys(page, '400')
  await page.tap('[data-act=take]')
  await page.waitForSelector('[data-over="0"] >> text=33.3 g more')
  await expect.poll(() => page.textContent('[data-over]')).toContain('600 mL')
  await expect.poll(() => page.textContent('[data-over]')).toContain('It fits the 650 mL cup')
  await page.waitForSelector('[data-next="1"] .reading >> text=610.0 g')
  await expect.poll(() => page.isDisabled('[data-act=MixCup]')).toBe(true)
  await page.tap('[data-act=asShown]')
  await page.waitForSelector('[data-error="0.0"]')
  const activated = site.clock.now()

  site.clock.move(4 * MINUTE)
  await page.waitForSelector('.now time >> text=09:14')
  await page.tap('[data-act=MixCup]')
  const id = await shownCup(page)
  await page.waitForFunction(
    () => (document.querySelector<HTMLImageElement>('img.label')?.naturalWidth ?? 0) > 0,
  )
  const cup = cupIn(site, id)
  expect(cup).toMatchObject({ totalMl: 600, activator: 'standard', job: JOB, sheet: CLEAR.sheet })
  await expect
    .poll(() => stateOf(site).things.cup[id]?.entries[0]?.data)
    .toMatchObject({ pouredG: [400, 210] })
  // The pot life runs from when the activator went in, not from when MIXED was pressed.
  expect(Math.abs(cup.mixedAt - activated)).toBeLessThan(MINUTE)
  // Nothing is printed yet, and nothing says so.
  expect(cup.prints).toHaveLength(0)
  const hand = (await page.textContent('.by-hand')) ?? ''
  for (const says of [id, '2:1', 'USE BY 10:10', 'DANGER', 'ISOCYANATE'])
    expect(hand).toContain(says)
  await shot(page, 'bench-label-wall')

  for (const heading of ['[role=status] >> text=the label is on the cup', 'h2 >> text=COPY 1']) {
    await page.tap('[data-act=print]')
    await page.tap('[data-act=isOnCup]')
    await page.waitForSelector(`.cup-label ${heading}`)
  }
  const [first, second] = cupIn(site, id).prints
  expect(second?.untilMs).toBe(first?.untilMs)
  await close()
})

test('the scale’s field has the focus as soon as it is drawn, so that no first digit is lost', async () => {
  const { page, close } = await openPage(browser, site, { path: `/#/bench/${CLEAR.sheet}` })
  await page.waitForSelector('[data-step=pour]')
  const hadFocus = page.evaluate(
    () =>
      new Promise<string | null>((resolve) => {
        new MutationObserver((_, observer) => {
          if (document.querySelector('[data-next="0"]') === null) return
          observer.disconnect()
          resolve(document.activeElement?.getAttribute('name') ?? null)
        }).observe(document.body, { childList: true, subtree: true })
      }),
  )
  await page.click('[data-step=pour]')
  expect(await hadFocus).toBe('reading')
  await close()
})

test('a step that is pressed as soon as it is drawn stays chosen where a link opened the product', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/help' })
  await page.waitForSelector('[data-screen=help] main a')
  await page.evaluate((sheet) => {
    new MutationObserver((_, observer) => {
      const step = document.querySelector<HTMLElement>('[data-step=pour]')
      if (step === null) return
      observer.disconnect()
      step.click()
    }).observe(document.body, { childList: true, subtree: true })
    location.hash = `#/bench/${sheet}`
  }, CLEAR.sheet)
  await page.waitForSelector('[data-next="0"]')
  await close()
})

test('a scale that types sends its reading into the pour, and is not taken for a label', async () => {
  const { page, close } = await openPage(browser, site, { path: `/#/bench/${CLEAR.sheet}` })
  await page.click('[data-step=pour]')
  await page.waitForSelector('[data-next="0"] .reading >> text=200.0 g')
  // A burst without pauses, as a scanner types: the page's scan listener has it first.
  for (const key of [...'212.4', 'Enter']) await page.keyboard.press(key)
  await page.waitForSelector('[data-next="1"]')
  await expect.poll(() => page.textContent('.pours')).toContain('212.4 g')
  expect(page.url()).toContain('#/bench')

  await page.fill('[name=reading]', '100')
  await page.keyboard.press('Enter')
  await page.waitForSelector('#scale-wrong >> text=The scale already showed 212.4 g')
  await page.reload()
  await page.waitForSelector('[data-next="1"]')
  await page.fill('[name=reading]', 'a lot')
  await page.keyboard.press('Enter')
  await page.waitForSelector('#scale-wrong >> text=in grams')
  await expect.poll(() => page.inputValue('[name=reading]')).toBe('a lot')
  await page.click('[data-act=undoPour]')
  await page.waitForSelector('[data-next="0"]')
  await close()
})

test('with the server away a cup is mixed anyway, and its label is written by hand', async () => {
  const own = await openShop()
  const { page, close } = await openPage(browser, own, {
    path: `/#/bench/${CLEAR.sheet}`,
    expected: /Failed to load|ERR_|EventSource/,
    ...TOUCH,
  })
  await page.tap('[data-step=pour]')
  await page.waitForSelector('[data-next="0"]')
  await keys(page, '200')
  await page.tap('[data-act=take]')
  await page.waitForSelector('[data-next="1"]')
  await page.tap('[data-act=asShown]')
  await isInstalled(page)
  await own.away()
  await page.waitForSelector('[data-error="0.0"]')
  await page.tap('[data-act=MixCup]')
  const id = await shownCup(page)
  await page.waitForSelector('.by-hand[data-alone]')
  await expect.poll(() => page.textContent('.by-hand')).toContain(id)
  await expect.poll(() => page.textContent('.by-hand')).toMatch(/USE BY 1[01]:\d\d/)
  await shot(page, 'bench-by-hand')
  await page.tap('[data-act=byHand]')
  await own.back()
  await expect.poll(() => cupIn(own, id)?.prints.length, SOON).toBe(1)
  await page.waitForSelector('img.label')
  await close()
  await own.stop()
})

const looks = [
  { name: 'wall-light', size: 'wall', colorScheme: 'light', language: 'en' },
  { name: 'wall-dark-es', size: 'wall', colorScheme: 'dark', language: 'es' },
  { name: 'large-light-es', size: 'wall', colorScheme: 'light', language: 'es', isLarge: true },
  { name: 'large-dark', size: 'wall', colorScheme: 'dark', language: 'en', isLarge: true },
  { name: 'phone-light-es', size: 'phone', colorScheme: 'light', language: 'es' },
  { name: 'phone-dark', size: 'phone', colorScheme: 'dark', language: 'en' },
] as const

test.each(looks)('the Bench fits a $name', async ({ name, language, ...look }) => {
  const own = await openShop({ language })
  const large = 'isLarge' in look ? { viewport: { width: 1920, height: 1080 } } : {}
  const { page, close } = await openPage(browser, own, {
    path: `/#/bench/${CLEAR.sheet}/${JOB}`,
    ...look,
    ...large,
  })
  const seen = async (what: string) => {
    await shot(page, `bench-${what}-${name}`)
    expect(await overflowPx(page), what).toBe(0)
  }
  await page.waitForSelector('[data-pick=job] [aria-pressed=true]')
  await seen('what')
  await page.click('[data-step=amount]')
  await page.waitForSelector('[data-life]')
  await seen('amount')
  await page.click('[data-step=pour]')
  await page.fill('[name=reading]', '500')
  await page.keyboard.press('Enter')
  await page.waitForSelector('[data-over]')
  await seen('pour')
  await page.goto(`${own.url}/#/cups/${CUP}`)
  await page.waitForSelector('.cup-label')
  await seen('label')
  for (const what of ['pour', 'load', 'empty']) {
    await page.goto(`${own.url}/#/cups/${CUP}/${what}`)
    await page.waitForSelector('.page-head')
    await seen(`cup-${what}`)
  }
  await page.goto(`${own.url}/#/cups`)
  await page.click(`[data-cup="${CUP}"] .cup-row`)
  await seen('cups')
  await close()
  await own.stop()
})

/** How far anything reaches over the screen's width. */
const overflowPx = (page: Page) =>
  page.evaluate(() => {
    const main = document.querySelector('main')
    const parts = [...document.querySelectorAll('main *')]
    return Math.max(
      main === null ? 0 : main.scrollWidth - main.clientWidth,
      ...parts.map((part) => Math.round(part.getBoundingClientRect().right - innerWidth)),
      0,
    )
  })

test('the last mix is repeated in three touches, with the scale set to zero between its parts', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/bench', ...TOUCH })
  const last = { sheet: CLEAR.sheet, totalMl: 200, activator: 'slow' }
  await site.send('MixCup', { cup: 'NEWM2222', ...last })
  await page.waitForSelector('[data-act=repeat] >> text=200 mL · slow')
  await shot(page, 'bench-repeat')
  await page.tap('[data-act=repeat]')
  await page.tap('[data-act=next]')
  // Two parts of clear at 1.00 and one of activator at 1.05 g/mL.
  await page.waitForSelector('[data-next="0"] .reading >> text=133.3 g')
  await page.tap('[data-act=asShown]')
  await page.waitForSelector('[data-next="1"] .reading >> text=203.3 g')
  await page.tap('[data-act=tare]')
  await page.waitForSelector('[data-next="1"] .reading >> text=70.0 g')
  await shot(page, 'bench-tare')
  await page.tap('[data-act=undoPour]')
  await page.waitForSelector('[data-next="1"] .reading >> text=203.3 g')
  await page.tap('[data-act=tare]')
  await keys(page, '70')
  await page.tap('[data-act=take]')
  await page.waitForSelector('[data-error="0.0"]')
  await page.tap('[data-act=MixCup]')
  const id = await shownCup(page)
  await expect
    .poll(() => stateOf(site).things.cup[id]?.entries[0]?.data, SOON)
    .toMatchObject({
      pouredG: [133.3, 70],
      activator: 'slow',
    })
  await close()
})
