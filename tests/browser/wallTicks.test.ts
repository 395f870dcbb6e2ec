import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { deadlines } from '../../machines/deadlines.ts'
import { CLEAR } from '../support/sheets.ts'
import { CUP, panelId } from './busyShop.ts'
import { lane, waitsFor } from './onScreen.ts'
import { vanShop } from './vanShop.ts'

/** What a second costs on the Wall: its digits in sight, and a boundary when it comes. */

const shop = vanShop()
const { van, open } = shop
const A = panelId(0)
const B = panelId(1)

/** One coat on two panels, the second finished some time after the first. */
async function flashing(): Promise<void> {
  await van(2, [{ stage: 'clear', sheet: CLEAR.sheet }])
  await shop.site.send('FinishCoat', { panels: [A], cup: CUP })
  shop.site.clock.move(60_000)
  await shop.site.send('FinishCoat', { panels: [B], cup: CUP })
}

test('a tick writes digits and changes nothing else of the lanes', async () => {
  await flashing()
  const { page, close } = await open()
  await waitsFor(page, B, 'flash')
  const seen = await page.evaluate(
    () =>
      new Promise<{ texts: string[]; others: string[] }>((done) => {
        const texts: string[] = []
        const others: string[] = []
        // The stretches of time move on in slow steps, and only they do.
        const isStretch = (node: Node) => node.parentElement?.closest('.timeline') !== null
        const watch = new MutationObserver((all) => {
          for (const { type, target } of all) {
            if (type === 'characterData') texts.push(target.textContent ?? '')
            else if (!isStretch(target)) others.push(`${type} of ${target.nodeName}`)
          }
          if (texts.length >= 8) {
            watch.disconnect()
            done({ texts, others })
          }
        })
        for (const lanes of document.querySelectorAll('.lanes'))
          watch.observe(lanes, {
            subtree: true,
            childList: true,
            attributes: true,
            characterData: true,
          })
      }),
  )
  expect(seen.others).toEqual([])
  for (const text of seen.texts) expect(text).toMatch(/^\d+:\d\d$/)
  await close()
})

test('the end of a flash is shown before its digits would run over, and the other lane runs on', async () => {
  await flashing()
  const { page, close } = await open()
  await waitsFor(page, A, 'flash')
  await page.evaluate((selector) => {
    const chip = document.querySelector(`${selector} .chip`)
    const texts: string[] = []
    Object.assign(window, { texts })
    if (chip)
      new MutationObserver(() => texts.push(chip.textContent ?? '')).observe(chip, {
        subtree: true,
        childList: true,
        characterData: true,
      })
  }, lane(A))
  const due = deadlines(shop.site.shops.ownWriter.state()).find(
    (d) => d.bell === 'coatReady' && d.thing.id === A,
  )
  shop.site.clock.move((due?.dueAt ?? 0) - shop.site.clock.now() - 4_000)
  await waitsFor(page, A, 'coat')
  const texts = await page.evaluate((): string[] => Reflect.get(window, 'texts'))
  expect(texts.some((text) => text.startsWith('0:0'))).toBe(true)
  expect(texts.filter((text) => text.startsWith('−'))).toEqual([])
  await waitsFor(page, B, 'flash')
  await close()
})

const MANY = 24

/** Each panel's flash begins some time after the last one's. */
async function manyFlashing(): Promise<void> {
  await van(MANY, [{ stage: 'clear', sheet: CLEAR.sheet }])
  for (let n = 0; n < MANY; n += 1) {
    await shop.site.send('FinishCoat', { panels: [panelId(n)], cup: CUP })
    shop.site.clock.move(1_300)
  }
}

const digitsOf = (page: Page, panel: string): Promise<string> =>
  page.evaluate(
    (selector) => document.querySelector(`${selector} .digits`)?.textContent ?? '',
    lane(panel),
  )

/** The panels whose digits were written within so long. */
const writtenWithin = (page: Page, ms: number): Promise<string[]> =>
  page.evaluate(
    (forMs) =>
      new Promise<string[]>((done) => {
        const panels = new Set<string>()
        const watch = new MutationObserver((all) => {
          for (const { target } of all) {
            const row = target.parentElement?.closest('[data-panel]')
            panels.add(row?.getAttribute('data-panel') ?? '')
          }
        })
        for (const digits of document.querySelectorAll('.lane .digits'))
          watch.observe(digits, { characterData: true, subtree: true })
        setTimeout(() => {
          watch.disconnect()
          done([...panels])
        }, forMs)
      }),
    ms,
  )

/** Seconds of a countdown such as 6:42 or 1:04:10. */
const secondsIn = (text: string): number =>
  text.split(':').reduce((sum, part) => 60 * sum + Number(part), 0)

test('of many lanes a tick writes those in sight, and one that comes into sight is right', async () => {
  await manyFlashing()
  const { page, close } = await open()
  const last = panelId(MANY - 1)
  await waitsFor(page, last, 'flash')
  // The first look at what is in sight comes with the first frames.
  await writtenWithin(page, 1_500)
  // As often as it happens that the slow step, which writes all, falls into it.
  let written: string[] = []
  for (let n = 0; n < 3 && (n === 0 || written.length === MANY); n += 1)
    written = await writtenWithin(page, 3_000)
  const order = await page.evaluate(() =>
    [...document.querySelectorAll('[data-panel]')].map((e) => e.getAttribute('data-panel') ?? ''),
  )
  const [top, hidden] = [order[0] ?? '', order.at(-1) ?? '']
  expect(written).toContain(top)
  expect(written).not.toContain(hidden)
  await page.evaluate((selector) => {
    document.querySelector(selector)?.scrollIntoView({ block: 'end' })
  }, lane(hidden))
  await page.waitForFunction(
    ([selector, old]) => document.querySelector(`${selector} .digits`)?.textContent !== old,
    [lane(hidden), await digitsOf(page, hidden)] as const,
  )
  const due = deadlines(shop.site.shops.ownWriter.state()).find(
    (d) => d.bell === 'coatReady' && d.thing.id === hidden,
  )
  const shown = secondsIn(await digitsOf(page, hidden))
  const left = ((due?.dueAt ?? 0) - shop.site.clock.now()) / 1_000
  // A busy machine takes its time between the two.
  expect(Math.abs(shown - left)).toBeLessThan(3)
  expect(await writtenWithin(page, 3_000)).toContain(hidden)
  await close()
})

test('the digits of all lanes in sight are written together, once a second', async () => {
  await manyFlashing()
  const { page, close } = await open()
  await waitsFor(page, panelId(MANY - 1), 'flash')
  await writtenWithin(page, 1_500)
  const turns = await page.evaluate(
    () =>
      new Promise<number[]>((done) => {
        const written: number[] = []
        // What one look writes comes in one piece.
        const watch = new MutationObserver((all) => written.push(all.length))
        for (const digits of document.querySelectorAll('.lane .digits'))
          watch.observe(digits, { characterData: true, subtree: true })
        setTimeout(() => {
          watch.disconnect()
          done(written)
        }, 6_000)
      }),
  )
  // Written in two looks, each half a second, there would be twelve.
  expect(turns.length).toBeGreaterThanOrEqual(3)
  expect(turns.length).toBeLessThanOrEqual(8)
  // The slow step writes all; else a look writes those in sight, and every one of them.
  const usual = turns.toSorted((one, other) => one - other)[Math.floor(turns.length / 2)] ?? 0
  expect(usual).toBeGreaterThan(4)
  expect(turns.filter((count) => count !== usual && count < usual)).toEqual([])
  await close()
})

test.each([
  { width: 1280, height: 800 },
  { width: 1920, height: 1080 },
])('a second of many lanes styles none of them again: $width x $height', async (viewport) => {
  await manyFlashing()
  const { page, close } = await open({ viewport })
  await waitsFor(page, panelId(MANY - 1), 'flash')
  const devtools = await page.context().newCDPSession(page)
  await devtools.send('Performance.enable')
  const count = async (name: string) =>
    (await devtools.send('Performance.getMetrics')).metrics.find((one) => one.name === name)?.value
  const styled = async (): Promise<number> => {
    const before = (await count('RecalcStyleCount')) ?? 0
    await writtenWithin(page, 3_000)
    return ((await count('RecalcStyleCount')) ?? 0) - before
  }
  await writtenWithin(page, 1_500)
  // The least of three: every quarter of a minute stretches of time are drawn again.
  const least = Math.min(await styled(), await styled(), await styled())
  // Where their letters were styled again with each layout it was 96 a lane.
  expect(least / MANY).toBeLessThan(8)
  await close()
})
