import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { shot } from '../support/browser.ts'
import { CUP, panelId } from './busyShop.ts'
import { lane, openHash } from './onScreen.ts'
import { vanShop } from './vanShop.ts'

/** What stands in the frame leaves the work its room: one line where one will do, and nothing over anything else. */

const shop = vanShop()
const { van, open } = shop
const [A, B] = [panelId(0), panelId(1)]

/** How many lines of text an element holds. */
const linesOf = (page: Page, selector: string): Promise<number> =>
  page
    .locator(selector)
    .first()
    .evaluate((e) => {
      const range = document.createRange()
      range.selectNodeContents(e)
      const middles = [...range.getClientRects()].map(({ top, bottom }) => (top + bottom) / 2)
      const lines: number[] = []
      for (const y of middles.sort((a, b) => a - b))
        if (lines.length === 0 || y - (lines.at(-1) ?? 0) > 8) lines.push(y)
      return lines.length
    })

test('air, twelve hours and °F in Spanish take three lines of the head at most', async () => {
  const US = { units: { temperature: 'F' }, clock: '12h' }
  await van(1, undefined, { language: 'es', ...US })
  for (const path of ['/#/', '/#/setup']) {
    const { page, close } = await open({ path })
    await page.waitForSelector('.climate >> text=°F')
    await shot(page, `head-es-12h-${path.length}`)
    expect(await linesOf(page, '.climate > span')).toBeLessThanOrEqual(3)
    await close()
  }
})

test('the small words of a countdown are whole while the menu of its panel is open', async () => {
  await van(2, undefined, { language: 'es' })
  await shop.site.send('FinishCoat', { panels: [A], cup: CUP })
  const { page, close } = await open({ hasTouch: true })
  await page.tap(lane(A))
  await page.waitForSelector('.act-sheet')
  await shot(page, 'chip-beside-menu-es')
  for (const id of [A, B]) {
    const chip = page.locator(`${lane(id)} .chip`)
    if (!(await chip.isVisible())) continue
    // The digits' own line is higher than they are: it is the words that were cut.
    const cut = await chip.evaluate((e) =>
      [...e.querySelectorAll('.small')].some((small) => {
        const range = document.createRange()
        range.selectNodeContents(small)
        const [text, box] = [range.getBoundingClientRect(), e.getBoundingClientRect()]
        return text.top < box.top - 1 || text.bottom > box.bottom + 1
      }),
    )
    expect(cut).toBe(false)
  }
  await close()
})

test.each(['wall', 'phone'] as const)('Help stands right below a short page: %s', async (size) => {
  await van(1)
  const { page, close } = await open({ size, path: '/#/jobs' })
  const help = page.locator('main > [data-act=help]')
  await page.waitForSelector('.job-row, .row')
  const gap = await help.evaluate((e) => {
    const before = e.previousElementSibling?.getBoundingClientRect()
    return e.getBoundingClientRect().top - (before?.bottom ?? 0)
  })
  await shot(page, `help-below-${size}`)
  // 15 mm, which what cannot be undone keeps from every other key; on a phone 32 px.
  expect(gap).toBeLessThanOrEqual(size === 'wall' ? 58 : 33)
  await close()
})

test.each(['en', 'es'])(
  'on a phone the mask has one line beside other work: %s',
  async (language) => {
    await van(1, undefined, { language })
    await shop.site.send('FinishCoat', { panels: [A], cup: CUP })
    const { page, close } = await open({ size: 'phone', path: '/#/jobs' })
    await page.waitForSelector('[data-breathing=booth]')
    await shot(page, `mask-one-line-${language}`)
    expect(await linesOf(page, '.breathing')).toBe(1)
    await openHash(page, 'wall')
    await expect.poll(() => linesOf(page, '.breathing')).toBeGreaterThan(1)
    await close()
  },
)
