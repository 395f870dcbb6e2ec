import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import type { Size } from '../support/browser.ts'
import { shot } from '../support/browser.ts'
import { CLEAR } from '../support/sheets.ts'
import { BASE_CUP, CLEAR_ROUTE, JOB, MINUTE, panelId } from './busyShop.ts'
import { hold } from './onScreen.ts'
import { vanShop } from './vanShop.ts'

/** A void that is refused leads to the entry that needs what was to be voided. */

const at = vanShop()
const OTHER = 'KKKK2222'
const HOOD = 'HHHH2222'
const OPENED = '[data-type=CoatStarted][aria-expanded=true]'
/** What the browser writes of a refusal. */
const expected = /409/

async function sprayed(panel: string, settings?: object): Promise<void> {
  await at.van(1, undefined, settings)
  const { site } = at
  await site.send('OpenJob', { job: OTHER, title: 'Estate car' })
  const hood = { job: OTHER, panel: HOOD, name: 'Hood', operation: 'repair', route: CLEAR_ROUTE }
  await site.send('AddPanel', hood)
  const mix = { cup: BASE_CUP, sheet: CLEAR.sheet, totalMl: 500, activator: 'standard', job: JOB }
  await site.send('MixCup', mix)
  site.clock.move(2 * MINUTE)
  await site.send('StartCoat', { panels: [panel], cup: BASE_CUP })
}

async function voidMix(page: Page): Promise<void> {
  await page.tap(`[data-type=CupMixed]:has-text("${BASE_CUP.slice(0, 4)}")`)
  await page.tap('.void-it [data-value=WRONG_PART]')
  await hold(page, '.void-it .hold')
  await page.waitForSelector('.void-it .refusal')
  await page.mouse.up()
}

const history = { path: `/#/jobs/${JOB}/history`, hasTouch: true, expected }

test.each<[string, Size, string]>([
  ['en', 'wall', '09:02 Coat started · clear, Rear quarter, right. Undo that first.'],
  ['es', 'phone', '09:02 Mano empezada · transparente, Rear quarter, right. Deshaga eso primero.'],
])(
  'in %s on the %s it names the coat, and its key opens that row',
  async (language, size, said) => {
    await sprayed(panelId(0), { language })
    const { page, close } = await at.open({ ...history, size })
    await voidMix(page)
    expect(await page.textContent('.void-it .sentence')).toContain(said)
    // Neither it nor the key is below what is seen.
    const key = page.locator('[data-act=showNeeding]')
    const covered = (element: Element) => {
      const { x, y, width, height } = element.getBoundingClientRect()
      return document.elementFromPoint(x + width / 2, y + height - 4) !== element
    }
    await expect.poll(() => key.evaluate(covered)).toBe(false)
    await shot(page, `void-needed-${size}`)
    await page.tap('[data-act=showNeeding]')
    await page.waitForSelector(OPENED)
    await expect
      .poll(() => page.locator(OPENED).evaluate((row) => row.getBoundingClientRect().top))
      .toBeLessThan(page.viewportSize()?.height ?? 0)
    await shot(page, `void-needed-open-${size}`)
    await close()
  },
)

test('in the history of another job the row is opened there', async () => {
  await sprayed(HOOD)
  const { page, close } = await at.open(history)
  await voidMix(page)
  expect(await page.textContent('.void-it .sentence')).toContain('Coat started · clear, Hood.')
  await page.tap('.void-it .refusal a')
  await page.waitForSelector(`h1:has-text("Estate car"), h2:has-text("Estate car")`)
  await page.waitForSelector(OPENED)
  await close()
})
