import { expect, test } from 'vitest'
import { shot } from '../support/browser.ts'
import { panelId } from './busyShop.ts'
import { lane, waitsFor } from './onScreen.ts'
import { vanShop } from './vanShop.ts'

/** What a touch on the glass is, and who touched it. */

const shop = vanShop()
const { van, open, entriesOf } = shop

const A = panelId(0)

test('a press carries who is at the kiosk, also after a reload', async () => {
  await van(1)
  await shop.site.send('AddPerson', { person: 'painter-1', name: 'Painter One', role: 'painter' })
  // The only person in a shop is taken without being asked.
  await shop.site.send('AddPerson', { person: 'painter-2', name: 'Painter Two', role: 'painter' })
  const { page, close } = await open({ expected: /status of 409/ })
  // Once people are known a coat is somebody's: the refusal itself asks who.
  await page.click(lane(A))
  await page.click('[data-act=StartCoat].main')
  await page.click('.refusal [data-act=who]')
  await shot(page, 'wall-who')
  await page.click('text=Painter One')
  await page.waitForSelector('.who-button >> text=Painter One')
  await page.reload()
  await page.waitForSelector('.who-button >> text=Painter One')
  await page.click(lane(A))
  await page.click('[data-act=StartCoat].main')
  await waitsFor(page, A, 'spraying')
  await expect.poll(() => entriesOf(A).at(-1)?.by).toBe('painter-1')
  for (const person of ['painter-1', 'painter-2']) await shop.site.send('RetirePerson', { person })
  await page.waitForSelector('.who-button', { state: 'detached' })
  await close()
})

test('a second press on the same control within a moment is not another one; letting go a little beside counts', async () => {
  await van(1)
  const { page, close } = await open()
  await page.locator(lane(A)).dblclick()
  // Twice would have opened and closed it.
  await page.waitForSelector('.act-sheet')
  // What its sheet fetches may move it once more.
  let box = await page.locator('.act-head button').boundingBox()
  const isStill = async () => {
    const before = JSON.stringify(box)
    await page.waitForTimeout(300)
    box = await page.locator('.act-head button').boundingBox()
    return JSON.stringify(box) === before
  }
  await expect.poll(isStill).toBe(true)
  if (!box) throw new Error('no button')
  const mm = 96 / 25.4
  const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 }
  // Ten millimeters beside it: the finger has left it (WCAG 2.2 SC 2.5.2: leaving a control cancels the press).
  await page.mouse.move(middle.x, middle.y)
  await page.mouse.down()
  await page.mouse.move(box.x - 10 * mm, middle.y)
  await page.mouse.up()
  await page.mouse.move(middle.x, middle.y)
  await page.mouse.down()
  await page.mouse.move(box.x - 4 * mm, middle.y)
  expect(await page.locator('.act-sheet').count()).toBe(1)
  await page.mouse.up()
  await page.waitForSelector('.act-sheet', { state: 'detached' })
  await close()
})

test('a click that the browser makes late, on a busy screen, is not a second press', async () => {
  await van(1)
  const { page, close } = await open()
  await page.click(lane(A))
  const fold = page.locator('.act-sheet [data-more=more]')
  const isOpen = () => fold.evaluate((details) => (details as HTMLDetailsElement).open)
  /** A finger on the fold's key; its click comes this long after it was lifted. */
  const press = (lateMs: number) =>
    fold.locator('summary').evaluate(async (key, ms) => {
      const { left, top } = key.getBoundingClientRect()
      const at = { clientX: left + 8, clientY: top + 8, bubbles: true, cancelable: true }
      key.dispatchEvent(new PointerEvent('pointerdown', { ...at, pointerId: 1 }))
      key.dispatchEvent(new PointerEvent('pointerup', { ...at, pointerId: 1 }))
      await new Promise((done) => setTimeout(done, ms))
      key.dispatchEvent(new PointerEvent('click', { ...at, pointerId: 1, detail: 1 }))
    }, lateMs)
  await press(250)
  expect(await isOpen()).toBe(true)
  // The next finger is another press, and one whose click comes at once is one too.
  await page.waitForTimeout(500)
  await press(0)
  await page.waitForTimeout(200)
  expect(await isOpen()).toBe(false)
  await close()
})

test('such a late click presses nothing that stands there by then, also with the next finger down', async () => {
  await van(1)
  const { page, close } = await open()
  await page.waitForSelector(lane(A))
  // The key that shuts the sheet has come to where the lane was touched.
  await page.locator(lane(A)).evaluate(async (touched) => {
    const tell = (type: string, on: Element | null, pointerId: number) => {
      const { left, top } = touched.getBoundingClientRect()
      const at = { clientX: left + 8, clientY: top + 8, bubbles: true, cancelable: true }
      const detail = type === 'click' ? 1 : 0
      on?.dispatchEvent(new PointerEvent(type, { ...at, pointerId, detail }))
    }
    const wait = (ms: number) => new Promise((done) => setTimeout(done, ms))
    tell('pointerdown', touched, 7)
    tell('pointerup', touched, 7)
    while (document.querySelector('.act-head button') === null) await wait(20)
    tell('pointerdown', document.body, 8)
    tell('click', document.querySelector('.act-head button'), 7)
    await wait(200)
  })
  expect(await page.locator('.act-sheet').count()).toBe(1)
  // That finger's own press is one.
  await page.locator('.act-head button').evaluate((key) => {
    const at = { bubbles: true, cancelable: true, pointerId: 8 }
    key.dispatchEvent(new PointerEvent('pointerup', at))
    key.dispatchEvent(new PointerEvent('click', { ...at, detail: 1 }))
  })
  await page.waitForSelector('.act-sheet', { state: 'detached' })
  await close()
})

test('in these tests a key that is pressed again, by whatever name, is pressed twice', async () => {
  await van(1)
  const { page, close } = await open()
  await page.click(lane(A))
  const fold = page.locator('.act-sheet [data-more=more]')
  await page.click('.act-sheet [data-more=more] > summary')
  expect(await fold.getAttribute('open')).not.toBeNull()
  await fold.locator('summary').click()
  expect(await fold.getAttribute('open')).toBeNull()
  await close()
})

test('with a palm on the glass nothing is pressed; wiping it locks the touches for a while', async () => {
  await van(1)
  const { page, close } = await open({ hasTouch: true })
  const session = await page.context().newCDPSession(page)
  const box = await page.locator(lane(A)).boundingBox()
  if (!box) throw new Error('no lane')
  const points = [0, 1, 2].map((id) => ({ x: box.x + 40 + id * 60, y: box.y + 20, id }))
  const palm = () =>
    Promise.all([
      session.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: points }),
      session.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] }),
    ])
  await palm()
  expect(await page.locator('.act-sheet').count()).toBe(0)
  // As quick as a rag, however busy the page is.
  await Promise.all(Array.from({ length: 11 }, palm))
  await page.waitForSelector('.wipe')
  await shot(page, 'wall-wipe')
  await close()
})
