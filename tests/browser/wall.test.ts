import { expect, test } from 'vitest'
import { shot } from '../support/browser.ts'
import { CLEAR } from '../support/sheets.ts'
import { CUP, MINUTE, panelId, sprayAway } from './busyShop.ts'
import { lane, overflowPx, waitsFor } from './onScreen.ts'
import { vanShop } from './vanShop.ts'

/** The Wall with few lanes and many, and what one touch does to a lane or to several. */

const shop = vanShop()
const { van, open, entriesOf } = shop

const A = panelId(0)
const B = panelId(1)
const C = panelId(2)

const crowds = [1, 5, 12, 40].flatMap((panels) =>
  (['wall', 'phone'] as const).map((size) => ({ panels, size })),
)
test.each(crowds)(
  '$panels lanes are usable on a $size: none overlaps, each can be reached',
  async ({ panels, size }) => {
    await van(panels)
    await sprayAway(shop.site, Math.ceil(panels * 0.8))
    const { page, close } = await open({ size })
    await page.waitForSelector('[data-bell]')
    await shot(page, `wall-${panels}-lanes-${size}`)
    await expect.poll(() => page.locator('.lane').count()).toBe(panels)
    const boxes = await page
      .locator('.lane')
      .evaluateAll((all) => all.map((e) => e.getBoundingClientRect().toJSON()))
    for (const [n, box] of boxes.entries()) {
      expect(box.height).toBeGreaterThanOrEqual(size === 'phone' ? 48 : 18 * 3.77)
      // Of two lanes one is below the other, or beside it.
      const apart = boxes
        .slice(n + 1)
        .map((other) => Math.max(other.top - box.bottom, other.left - box.right))
      const least = size === 'phone' ? 8 : 15
      expect(Math.min(least, ...apart)).toBe(least)
    }
    expect(await overflowPx(page)).toBe(0)
    // What a chip says is whole.
    const cut = await page
      .locator('.chip .big')
      .evaluateAll((all) =>
        all
          .filter((e) => e.scrollWidth > (e.parentElement?.clientWidth ?? 0))
          .map((e) => e.textContent),
      )
    expect(cut).toEqual([])
    await page.locator('.lane').last().click()
    await page.waitForSelector('.act-sheet')
    await close()
  },
)

test('on a wide screen cups and what comes next stay in sight while forty lanes scroll', async () => {
  await van(40)
  const { page, close } = await open()
  await page.locator('.lane').last().scrollIntoViewIfNeeded()
  for (const part of ['.cup', '.next', '[data-act=several]'])
    expect(
      await page.locator(part).evaluate((e) => {
        const box = e.getBoundingClientRect()
        return box.top >= 0 && box.bottom <= innerHeight
      }),
      part,
    ).toBe(true)
  await close()
})

test('a pass: several lanes are chosen and one touch starts them all, one finishes them all', async () => {
  await van(3)
  const { page, close } = await open()
  await page.click('[data-act=several]')
  for (const panel of [C, A]) await page.click(lane(panel))
  await shot(page, 'wall-several')
  await page.click('[data-act=StartCoat].main')
  await waitsFor(page, A, 'spraying')
  await waitsFor(page, C, 'spraying')
  await waitsFor(page, B, 'coat')
  const starts = [A, C].map((p) => entriesOf(p).at(-1)?.command)
  expect(new Set(starts).size).toBe(1)

  shop.site.clock.move(4 * MINUTE)
  await page.click('[data-act=several]')
  for (const panel of [C, A]) await page.click(lane(panel))
  await page.click('[data-act=FinishCoat].main')
  await waitsFor(page, A, 'flash')
  // The order chosen is the order sprayed: A, the last, ends at the press, C a minute earlier.
  const ends = [A, C].map((p) => entriesOf(p).at(-1)?.at ?? 0)
  expect((ends[0] ?? 0) - (ends[1] ?? 0)).toBe(MINUTE)
  await close()
})

test('a pass that is not ready is refused with the names of its panels, and starts on none', async () => {
  await van(3)
  shop.site.clock.move(5 * MINUTE)
  await shop.site.send('FinishCoat', { panels: [A, B], cup: CUP })
  const { page, close } = await open({ expected: /status of 409/ })
  await waitsFor(page, A, 'flash')
  await page.click('[data-act=several]')
  for (const panel of [A, B, C]) await page.click(lane(panel))
  await page.click('[data-act=StartCoat].main')
  const said = await page.waitForSelector('.refusal [role=alert]')
  await expect.poll(() => said.textContent()).toMatch(/Rear quarter.*Sliding door/s)
  await expect.poll(() => said.textContent()).toMatch(/Clears in/)
  await shot(page, 'wall-pass-refused')
  expect(entriesOf(C).map((e) => e.type)).toEqual(['PanelAdded'])
  await close()
})

test('in the last two minutes of flash a start is refused, or got ready: its key comes when flash ends, and nothing is sent by time alone', async () => {
  await van(1)
  await shop.site.send('FinishCoat', { panels: [A], cup: CUP })
  const { page, close } = await open({ expected: /status of 409/ })
  await waitsFor(page, A, 'flash')
  shop.site.clock.move(8.5 * MINUTE)
  await page.waitForFunction(
    (s) => /^[01]:/.test(document.querySelector(`${s} .big`)?.textContent ?? ''),
    lane(A),
  )
  await page.click(lane(A))
  await page.click('[data-act=StartCoat]')
  await page.waitForSelector('.refusal [role=alert] >> text=Clears in')
  await shot(page, 'wall-flash-last-minutes')
  await page.click('.act-head button')
  const getReady = async () => {
    await page.click(lane(A))
    await page.click('[data-act=arm]')
    await page.waitForSelector(`${lane(A)}[data-armed]`)
  }
  await getReady()
  await shot(page, 'wall-armed')
  await page.click('.armed [data-act=disarm]')
  await page.waitForSelector(`${lane(A)}[data-armed]`, { state: 'detached' })
  await getReady()
  // It is still ready after a reload.
  await page.reload()
  await page.waitForSelector(`${lane(A)}[data-armed]`)
  shop.site.clock.move(1.6 * MINUTE)
  await page.waitForSelector('.armed[data-due]')
  await page.waitForSelector(`${lane(A)} .small >> text=PRESS START`)
  await shot(page, 'wall-armed-due')
  expect(entriesOf(A).at(-1)?.type).toBe('CoatFinished')
  await page.click('[data-act=startArmed]')
  await waitsFor(page, A, 'spraying')
  await expect.poll(() => entriesOf(A).at(-1)).toMatchObject({ type: 'CoatStarted' })
  expect(entriesOf(A).at(-1)?.override).toBeUndefined()
  await page.waitForSelector('.armed', { state: 'detached' })
  await close()
})

test('a prepared start that is not confirmed is dropped after a minute, and the screen says so', async () => {
  await van(1)
  await shop.site.send('FinishCoat', { panels: [A], cup: CUP })
  const { page, close } = await open()
  shop.site.clock.move(8.5 * MINUTE)
  await page.waitForFunction(
    (s) => /^[01]:/.test(document.querySelector(`${s} .big`)?.textContent ?? ''),
    lane(A),
  )
  await page.click(lane(A))
  await page.click('[data-act=arm]')
  await page.waitForSelector(`${lane(A)}[data-armed]`)
  shop.site.clock.move(1.6 * MINUTE)
  await page.waitForSelector('.armed[data-due]')
  shop.site.clock.move(MINUTE)
  await page.waitForSelector('[data-forgotten] >> text=Nothing was logged')
  await shot(page, 'wall-armed-forgotten')
  expect(entriesOf(A).at(-1)?.type).toBe('CoatFinished')
  await page.click('[data-forgotten] button')
  await page.waitForSelector('.armed', { state: 'detached' })
  await waitsFor(page, A, 'coat')
  await close()
})

test('a press can be undone for ten seconds: undo voids it, and nothing is deleted', async () => {
  await van(1)
  const { page, close } = await open()
  await page.click(lane(A))
  await page.click('[data-act=StartCoat].main')
  await waitsFor(page, A, 'spraying')
  await page.click('[data-act=undo]')
  await waitsFor(page, A, 'coat')
  await page.waitForSelector('.undo-bar', { state: 'detached' })
  await expect
    .poll(() => entriesOf(A).map((e) => e.type))
    .toEqual(['PanelAdded', 'CoatStarted', 'EntryVoided'])
  await expect.poll(() => entriesOf(A).at(-1)?.reason).toBe('MISTAP')
  await close()
})

test('the undo bar goes by itself after ten seconds', async () => {
  await van(1)
  const { page, close } = await open()
  await page.click(lane(A))
  await page.click('[data-act=StartCoat].main')
  await page.waitForSelector('.undo-bar')
  await page.waitForSelector('.undo-bar', { state: 'detached' })
  await expect.poll(() => entriesOf(A).at(-1)?.type).toBe('CoatStarted')
  await close()
})

test('"finished n minutes ago" and "never pressed start" are one touch each', async () => {
  await van(2)
  const { page, close } = await open()
  await page.click(lane(A))
  await page.click('[data-act=StartCoat].main')
  await waitsFor(page, A, 'spraying')
  shop.site.clock.move(7 * MINUTE)
  await page.waitForFunction(
    (s) => /7:\d\d/.test(document.querySelector(s)?.textContent ?? ''),
    `li:has(${lane(A)}) .finish`,
  )
  await page.click(lane(A))
  await shot(page, 'wall-finished-ago')
  await page.click('[data-key=ago-5]')
  await waitsFor(page, A, 'flash')
  const { at = 0, enteredAt = 0 } = entriesOf(A).at(-1) ?? {}
  expect(enteredAt - at).toBe(5 * MINUTE)

  await page.click(lane(B))
  await page.click('[data-key=alone]')
  await waitsFor(page, B, 'flash')
  await expect
    .poll(() => entriesOf(B).at(-1))
    .toMatchObject({
      type: 'CoatFinished',
      cup: CUP,
      data: { estimatedStartAt: expect.any(Number) },
    })
  await close()
})

test('another cup, a drop coat, covered, one more: each from the lane that it is about', async () => {
  await van(1, [{ stage: 'clear', sheet: CLEAR.sheet, coats: { least: 1, planned: 2, most: 3 } }])
  await shop.site.send('MixCup', { cup: 'N3WCQD77', sheet: CLEAR.sheet, totalMl: 300 })
  const { page, close } = await open()
  const touch = async (key: string, waits: string) => {
    await page.click(lane(A))
    await page.click(`[data-key="${key}"]`)
    await waitsFor(page, A, waits)
  }
  await page.click(lane(A))
  await page.click('[data-more=more] > summary')
  await page.click('[data-key=kind-drop]')
  await waitsFor(page, A, 'spraying')
  await expect.poll(() => entriesOf(A).at(-1)?.data.kind).toBe('drop')
  await touch('on-N3WCQD77', 'spraying')
  await expect.poll(() => entriesOf(A).at(-1)?.type).toBe('CoatContinued')
  await touch('finish', 'flash')
  await touch('cover', 'pass')
  await expect.poll(() => entriesOf(A).at(-1)?.type).toBe('CoverReached')
  await close()
})
