import { expect, test } from 'vitest'
import { deadlines } from '../../machines/deadlines.ts'
import { CLEAR } from '../support/sheets.ts'
import { CUP, panelId } from './busyShop.ts'
import { lane, waitsFor } from './onScreen.ts'
import { vanShop } from './vanShop.ts'

/** What a second costs on the Wall: its digits, and a boundary when it comes. */

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
