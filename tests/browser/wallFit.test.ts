import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { shot } from '../support/browser.ts'
import { BASE } from '../support/sheets.ts'
import { CUP, JOB, MINUTE, panelId } from './busyShop.ts'
import { heightMm, lane, waitsFor } from './onScreen.ts'
import { vanShop } from './vanShop.ts'

/** A Wall shares the height it has among its lanes; a coat that is sprayed ends with one touch. */

const shop = vanShop()
const { van, open, entriesOf } = shop

const A = panelId(0)
const B = panelId(1)
const C = panelId(2)

/** What of these is not wholly between the head and the end of the screen, or under another. */
const hidden = async (page: Page, selectors: readonly string[]): Promise<string[]> => {
  await page.evaluate(() => document.fonts.ready)
  return await page.evaluate(
    (all) =>
      all.flatMap((selector) =>
        [...document.querySelectorAll(selector)]
          .filter((e) => e.checkVisibility())
          .flatMap((e) => {
            const { left, top, right, bottom } = e.getBoundingClientRect()
            const corners = [top + 3, bottom - 3].map((y) =>
              document.elementFromPoint((left + right) / 2, y),
            )
            const isSeen = corners.every((at) => at !== null && (e.contains(at) || at.contains(e)))
            const isIn = top >= 0 && bottom <= innerHeight && left >= 0 && right <= innerWidth
            return isSeen && isIn ? [] : [`${selector}: ${e.textContent?.slice(0, 40)}`]
          }),
      ),
    selectors,
  )
}

test.each([
  { lanes: 1, bells: 0, cups: 1, language: 'en' },
  { lanes: 3, bells: 0, cups: 1, language: 'en' },
  { lanes: 3, bells: 1, cups: 1, language: 'en' },
  { lanes: 5, bells: 0, cups: 1, language: 'en' },
  { lanes: 6, bells: 0, cups: 1, language: 'en' },
  { lanes: 6, bells: 1, cups: 1, language: 'en' },
  { lanes: 6, bells: 1, cups: 3, language: 'en' },
  { lanes: 6, bells: 1, cups: 3, language: 'es' },
])(
  '$lanes lanes, $cups cups and $bells bells fit on a wall of 1280 by 800, $language',
  async (shown) => {
    const { lanes, bells, cups, language } = shown
    await van(lanes, undefined, { language })
    await shop.site.send('LoadGun', { gun: 'gun-2', cup: CUP })
    // One of them is kept until a date, and not labeled: that takes more words than minutes.
    const others = ['M2XVK7QD', 'R8WNB3HT'].slice(0, cups - 1)
    for (const cup of others)
      await shop.site.send('MixCup', {
        cup,
        sheet: BASE.sheet,
        totalMl: 300,
        job: JOB,
        colour: 'body',
      })
    await shop.site.send('FinishCoat', { panels: [A], cup: CUP })
    if (bells > 0) shop.site.clock.move(10.1 * MINUTE)
    const { page, close } = await open()
    await waitsFor(page, A, bells > 0 ? 'coat' : 'flash')
    if (bells > 0) await page.waitForSelector('[data-bell=coatReady]')
    await shot(page, `wall-fit-${lanes}-${bells}-${cups}-${language}`)
    const parts = ['.lane .chip', '.cup', '.gun', '.next li', '.wall-tools .button', '.bell.card']
    expect(await hidden(page, parts)).toEqual([])
    await close()
  },
)

/** What of these lies over another, or reaches out of the screen to the right. */
const overlapping = (page: Page, selector: string): Promise<string[]> =>
  page.evaluate((one) => {
    const all = [...document.querySelectorAll(one)].map((e) => e.getBoundingClientRect())
    return all.flatMap((box, i) => {
      const isOver = all
        .slice(i + 1)
        .some((other) => box.bottom > other.top + 1 && box.right > other.left + 1)
      return isOver || box.right > innerWidth + 1 ? [`${one} ${i}`] : []
    })
  }, selector)

test.each([
  { lanes: 12, size: 'wall', language: 'en', colorScheme: 'light' },
  { lanes: 40, size: 'wall', language: 'es', colorScheme: 'dark' },
  { lanes: 40, size: 'phone', language: 'es', colorScheme: 'light' },
] as const)(
  '$lanes lanes scroll on a $size in $language: what rings and the last lane can be pressed',
  async ({ lanes, size, language, colorScheme }) => {
    await van(lanes)
    await shop.site.send('ChangeSettings', { language })
    await shop.site.send('LoadGun', { gun: 'gun-2', cup: CUP })
    for (const n of [0, 3, 7, lanes - 1]) {
      await shop.site.send('FinishCoat', { panels: [panelId(n)], cup: CUP })
    }
    shop.site.clock.move(10.1 * MINUTE)
    const { page, close } = await open({ size, colorScheme })
    await page.waitForSelector('[data-bell=coatReady]')
    await shot(page, `wall-fit-${lanes}-${size}-${language}-${colorScheme}`)
    expect(await hidden(page, ['.bell.card'])).toEqual([])
    expect(await overlapping(page, '.lanes > li')).toEqual([])
    if (size === 'wall') expect(await hidden(page, ['.next li', '.cup', '.wall-tools'])).toEqual([])
    const last = panelId(lanes - 1)
    // What does not fit is named, until it is in sight.
    await page.waitForSelector('.below >> text=/\\+\\d+ panel/')
    const misnamed = async () => {
      const named = Number((await page.textContent('.below'))?.match(/\d+/)?.[0])
      return Math.abs(named - (await hidden(page, ['.lanes > li'])).length)
    }
    // A row that is cut may be called either; on a low wall it has two panels.
    const inARow = size === 'wall' ? 2 : 1
    await expect.poll(misnamed).toBeLessThanOrEqual(inARow)
    await page.locator(lane(last)).scrollIntoViewIfNeeded()
    await page.waitForSelector('.below', { state: 'detached' })
    expect(await hidden(page, [`${lane(last)} .chip`])).toEqual([])
    await page.click(lane(last))
    await page.waitForSelector('.act-sheet')
    expect(await hidden(page, ['.bell.card'])).toEqual([])
    await close()
  },
)

// Digits seen under 22 minutes of arc at 3 m are 19.2 mm high.
test('the countdown of a few panels is read at 3 m, of more it is as large as there is room', async () => {
  await van(2)
  await shop.site.send('FinishCoat', { panels: [A], cup: CUP })
  const { page, close } = await open()
  await waitsFor(page, A, 'flash')
  await expect.poll(() => heightMm(page, `${lane(A)} .big.digits`)).toBeGreaterThanOrEqual(19.1)
  await page.setViewportSize({ width: 1920, height: 1080 })
  await expect.poll(() => heightMm(page, `${lane(A)} .big.digits`)).toBeGreaterThanOrEqual(19.1)
  await close()
})

test('the number of panels below does not lie on the one that is chosen', async () => {
  await van(12)
  const { page, close } = await open()
  // At the lower end, in either column.
  for (const panel of [panelId(8), panelId(9)]) {
    await page.click(lane(panel))
    await page.waitForSelector('.act-sheet')
    await page.waitForSelector('.below >> text=/\\+\\d+ panel/')
    const isOver = (chosen: Element) => {
      const [below, row] = [document.querySelector('.below') ?? chosen, chosen].map((e) =>
        e.getBoundingClientRect(),
      )
      if (!below || !row) return true
      return below.left < row.right && row.left < below.right && below.top < row.bottom
    }
    await expect.poll(() => page.locator(lane(panel)).evaluate(isOver)).toBe(false)
    await shot(page, `wall-below-${panel}`)
    await page.click('.act-head button')
    await page.waitForSelector('.act-sheet', { state: 'detached' })
  }
  await close()
})

test('the amount in a cup is read with its unit, also in ounces', async () => {
  await van(3, undefined, { units: { volume: 'flOz' } })
  await shop.site.send('MixCup', { cup: 'M2XVK7QD', sheet: BASE.sheet, totalMl: 690, job: JOB })
  const { page, close } = await open()
  await page.waitForSelector('.cup >> text=56 min')
  await shot(page, 'wall-ounces')
  const isWhole = (about: Element) => {
    const node = about.firstChild
    const at = node?.textContent?.indexOf('fl') ?? -1
    if (!node || at < 0) return false
    const unit = document.createRange()
    unit.setStart(node, at)
    unit.setEnd(node, at + 'fl oz'.length)
    const [box, seen] = [unit.getBoundingClientRect(), about.getBoundingClientRect()]
    return box.right <= seen.right && (box.top + box.bottom) / 2 <= seen.bottom
  }
  const clock = page.locator(`[data-cup="${CUP}"] .minor`)
  await expect.poll(() => clock.evaluate(isWhole)).toBe(true)
  await close()
})

test('a coat ends with one touch on its lane, on every panel of its pass', async () => {
  await van(3)
  await shop.site.send('StartCoat', { panels: [C, A], cup: CUP })
  await shop.site.send('StartCoat', { panels: [B], cup: CUP })
  shop.site.clock.move(4 * MINUTE)
  const { page, close } = await open()
  await waitsFor(page, B, 'spraying')
  const finish = (panel: string) => `li:has(${lane(panel)}) [data-act=FinishCoat]`
  await expect.poll(() => page.textContent(finish(A))).toMatch(/2 panels/)
  expect(await page.textContent(finish(B))).not.toMatch(/panels/)
  await shot(page, 'wall-finish')
  // Whichever of its lanes is touched: A was the last that was chosen, so it ends at the press.
  await page.click(finish(C))
  await waitsFor(page, A, 'flash')
  await waitsFor(page, C, 'flash')
  await waitsFor(page, B, 'spraying')
  const [ended, earlier] = [A, C].map((panel) => entriesOf(panel).at(-1))
  expect(ended?.command).toBe(earlier?.command)
  expect((ended?.at ?? 0) - (earlier?.at ?? 0)).toBe(MINUTE)
  // What it was pressed for by mistake is one more touch.
  await page.click('[data-act=undo]')
  await waitsFor(page, A, 'spraying')
  await waitsFor(page, C, 'spraying')
  await close()
})

test('beside a bell START is whole, and what it asks of the air stands next to it', async () => {
  await van(3)
  await shop.site.send('LoadGun', { gun: 'gun-2', cup: CUP })
  await shop.site.send('FinishCoat', { panels: [A], cup: CUP })
  // The bell of A rings, and the last reading is old.
  shop.site.clock.move(31 * MINUTE)
  const { page, close } = await open()
  await page.waitForSelector('.bell.card')
  await page.click(lane(B))
  await page.waitForSelector('.act-sheet .no-air [data-act=dayRange]')
  await shot(page, 'wall-fit-asks')
  const parts = ['.act-sheet button.main', '.act-sheet .no-air .button', '.bell.card']
  expect(await hidden(page, parts)).toEqual([])
  await close()
})

test('on a phone a bell takes one line; a touch opens the rest of it', async () => {
  await van(3)
  await shop.site.send('LoadGun', { gun: 'gun-2', cup: CUP })
  for (const panel of [A, B]) {
    await shop.site.send('FinishCoat', { panels: [panel], cup: CUP })
    shop.site.clock.move(MINUTE)
  }
  shop.site.clock.move(12 * MINUTE)
  const { page, close } = await open({ size: 'phone' })
  await page.waitForSelector('.bell.card')
  await shot(page, 'phone-bars')
  // A line: the key that answers it, 56 px, and its frame.
  expect((await page.locator('.bell-row').boundingBox())?.height).toBeLessThan(70)
  expect(await hidden(page, ['.bell.card [data-act=acknowledge]'])).toEqual([])
  await page.click('.bell-rest [data-act=more]')
  await page.waitForSelector('.bell-rest [data-act=silence] >> visible=true')
  await page.waitForSelector('.bell.card [data-act=snooze] >> visible=true')
  await shot(page, 'phone-bars-open')
  await close()
})

test('on a phone the lane that was chosen stands above its sheet, and no word of it lies over the sheet', async () => {
  await van(7)
  const { page, close } = await open({ size: 'phone' })
  for (const nth of [6, 0, 3]) {
    const row = page.locator(lane(panelId(nth)))
    await row.scrollIntoViewIfNeeded()
    await row.click()
    await page.waitForSelector('.act-sheet')
    await shot(page, `chosen-lane-${nth}-phone`)
    expect(await hidden(page, [`${lane(panelId(nth))} .chip`, '.act-sheet .act-head'])).toEqual([])
    await page.keyboard.press('Escape')
    await page.waitForSelector('.act-sheet', { state: 'detached' })
  }
  await close()
})
