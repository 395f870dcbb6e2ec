import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { shot } from '../support/browser.ts'
import { CLEAR } from '../support/sheets.ts'
import { CUP, JOB, panelId } from './busyShop.ts'
import { lane, openHash } from './onScreen.ts'
import { vanShop } from './vanShop.ts'

/** What stands in the frame leaves the work its room: one line where one will do, and nothing over anything else. */

const shop = vanShop()
const { van, open } = shop
const A = panelId(0)
const FRESH = 'FFFF2222'
const MIX = { sheet: CLEAR.sheet, totalMl: 600, job: JOB, activator: 'standard' }

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

/** Five digits: the flash time of the clear, by its sheet. */
const AT_20 = [{ atC: 20, minutes: 14 }]
const SLOW = { ...CLEAR, flashBetween: AT_20, flashBeforeNext: AT_20 }

/** The chips whose small words stand over their edge. The digits' own line is higher than they are. */
const cutChips = (page: Page): Promise<string[]> =>
  page.locator('.lane .chip').evaluateAll((chips) =>
    chips.flatMap((chip) => {
      const box = chip.getBoundingClientRect()
      const isCut = [...chip.querySelectorAll('.small')].some((small) => {
        const range = document.createRange()
        range.selectNodeContents(small)
        const text = range.getBoundingClientRect()
        return text.top < box.top - 1 || text.bottom > box.bottom + 1
      })
      return isCut ? [chip.textContent ?? ''] : []
    }),
  )

test.each([
  ['beside the menu of its panel', 2, true, null],
  // What is asked there about the air leaves the rows less.
  ['beside its menu where no air was read', 2, true, 'hall'],
  ['in the rows of six panels', 6, false, null],
] as const)('the small words of a countdown are whole %s', async (name, panels, isMenu, zone) => {
  await van(panels, undefined, { language: 'es' })
  await shop.site.send('SaveSheet', { sheet: SLOW })
  if (zone) {
    await shop.site.send('SaveZone', { zone, name: 'Hall', clearanceMin: 25 })
    await shop.site.send('MovePanel', { panel: A, zone })
  }
  await shop.site.send('MixCup', { ...MIX, cup: FRESH })
  await shop.site.send('FinishCoat', { panels: [A], cup: FRESH })
  const { page, close } = await open({ hasTouch: true })
  if (isMenu) {
    await page.tap(lane(A))
    await page.waitForSelector('.act-sheet')
  }
  await page.waitForSelector(`${lane(A)} .chip .digits >> text=/^\\d\\d:\\d\\d$/`)
  await page.evaluate(() => document.fonts.ready)
  await shot(page, `chip-es-${name.split(' ').at(-1)}-${panels}`)
  expect(await cutChips(page)).toEqual([])
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

test.each(['en', 'es'])(
  'how long a gun has stays on one line while its bell rings, beside its key: %s',
  async (language) => {
    await van(3, undefined, { language })
    await shop.site.send('SaveGun', { gun: 'gun-9', name: 'Clear gun', needleMm: 1.3 })
    await shop.site.send('MixCup', { ...MIX, cup: FRESH })
    await shop.site.send('LoadGun', { gun: 'gun-9', cup: FRESH })
    // Six minutes before its pot life is over, in the warmth of that booth.
    shop.site.clock.move(42 * 60_000)
    const { page, close } = await open({ hasTouch: true })
    const left = '[data-gun=gun-9] .left.bell'
    await page.waitForSelector(left)
    await page.evaluate(() => document.fonts.ready)
    await shot(page, `gun-left-${language}`)
    expect(await linesOf(page, left)).toBe(1)
    await close()
  },
)
