import type { Browser, CDPSession, Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from 'vitest'
import { encodeCommandCode } from '../../labels/code.ts'
import { type Opened, openBrowser, openPage, type Site, servePage } from '../support/browser.ts'

let browser: Browser
let site: Site
let opened: Opened
let page: Page
let cdp: CDPSession
beforeAll(async () => {
  ;[browser, site] = await Promise.all([openBrowser(), servePage('pages/scan.ts')])
})
beforeEach(async () => {
  opened = await openPage(browser, site)
  page = opened.page
  cdp = await page.context().newCDPSession(page)
})
afterEach(() => opened.close())
afterAll(async () => {
  await browser.close()
  await site.stop()
})

/** Types with real key events, the last of them just now. */
async function press(keys: readonly string[], gapMs: number): Promise<void> {
  const lengthMs = keys.length * gapMs
  // A key cannot have been pressed before there was a page: such stamps would be cut to its beginning.
  await page.waitForFunction((ms) => performance.now() > ms, lengthMs)
  await pressFrom(Date.now() - lengthMs, keys, gapMs)
}

/** Keys are stamped as the keyboard would: a slow machine delays their arrival, not their stamps. */
async function pressFrom(fromMs: number, keys: readonly string[], gapMs: number): Promise<void> {
  const start = fromMs / 1000
  const sent = keys.flatMap((key, n) => {
    const timestamp = start + (n * gapMs) / 1000
    const text = key === 'Enter' ? '\r' : key
    const code = key === 'Enter' ? 'Enter' : ''
    const windowsVirtualKeyCode = key === 'Enter' ? 13 : key.toUpperCase().charCodeAt(0)
    const event = { key, code, windowsVirtualKeyCode, timestamp }
    return [
      cdp.send('Input.dispatchKeyEvent', { type: 'keyDown', text, ...event }),
      cdp.send('Input.dispatchKeyEvent', { type: 'keyUp', ...event }),
    ]
  })
  await Promise.all(sent)
}
const slow = [...encodeCommandCode('COATSTART'), 'Enter']
const label = ['K', '7', 'Q', 'D', '-', '2', 'M', 'Enter']
const seen = () => page.evaluate(() => window.seen)
const value = (id: string) => page.inputValue(`#${id}`)

test('a scan at 8 ms a key with the focus on a text field leaves the field alone', async () => {
  await page.click('#note')
  await press(label, 8)
  await page.waitForFunction(() => window.seen.scans.length > 0)
  expect(await seen()).toMatchObject({ scans: ['K7QD-2M'], submits: 0 })
  expect(await value('note')).toBe('two nibs')
  expect((await seen()).inputs.at(-1)).toBe('two nibs')
})

test('a scan that a stalled page took for typing at first is heard whole, and the field is put back', async () => {
  await page.focus('#note')
  await page.waitForFunction(() => performance.now() > 200)
  const fromMs = Date.now() - 100
  await pressFrom(fromMs, label.slice(0, 3), 8)
  // The rest of the keys was pressed at once, and arrives only after the first were given back.
  await page.waitForFunction(() => window.seen.inputs.at(-1)?.includes('K7Q'))
  await pressFrom(fromMs + 3 * 8, label.slice(3), 8)
  await page.waitForFunction(() => window.seen.scans.length > 0)
  expect(await seen()).toMatchObject({ scans: ['K7QD-2M'], submits: 0 })
  expect(await value('note')).toBe('two nibs')
})

test('a scan over a selection gives the selected text back, with the caret where it was', async () => {
  await page.focus('#note')
  await page.evaluate(() => {
    const note = document.querySelector<HTMLInputElement>('#note')
    note?.setSelectionRange(0, 3)
  })
  await press(label, 8)
  await page.waitForFunction(() => window.seen.scans.length > 0)
  expect(await value('note')).toBe('two nibs')
  const caret = await page.evaluate(() => {
    const note = document.querySelector<HTMLInputElement>('#note')
    return [note?.selectionStart, note?.selectionEnd]
  })
  expect(caret).toEqual([0, 3])
})

test('a scan with the focus on a number or a long text leaves them alone', async () => {
  for (const id of ['amount', 'long']) {
    const before = (await seen()).scans.length
    await page.focus(`#${id}`)
    await press(['7', ...label], 8)
    await page.waitForFunction((n) => window.seen.scans.length > n, before)
    expect(await value(id)).toBe('')
  }
})

test('a scan with the focus on a button does not press it', async () => {
  await page.focus('#start')
  await press(label, 8)
  await page.waitForFunction(() => window.seen.scans.length > 0)
  expect(await seen()).toMatchObject({ scans: ['K7QD-2M'], clicks: 0, submits: 0 })
  expect((await seen()).keys).toEqual(['K'])
})

test('a scan with the focus nowhere is heard', async () => {
  await press(label, 16)
  await page.waitForFunction(() => window.seen.scans.length > 0)
  expect((await seen()).scans).toEqual(['K7QD-2M'])
})

test('Enter by hand presses the focused button, before a scan and after it', async () => {
  await page.focus('#start')
  await press(['Enter'], 8)
  await press(label, 8)
  await page.waitForFunction(() => window.seen.scans.length > 0)
  await press(['Enter'], 8)
  await page.waitForFunction(() => window.seen.clicks === 2)
})

test('what a person types at 90 ms a key stays in the field and sends the form', async () => {
  await page.fill('#note', '')
  await page.focus('#note')
  await press([...'K7QD-2M', 'Enter'], 90)
  await page.waitForFunction(() => window.seen.submits === 1)
  expect(await value('note')).toBe('K7QD-2M')
  expect((await seen()).scans).toEqual([])
})

test('keys rolled over by quick fingers are held and given back', async () => {
  await page.fill('#note', '')
  await page.focus('#note')
  await press([...'th'], 20)
  await page.waitForFunction(
    () => document.querySelector<HTMLInputElement>('#note')?.value === 'th',
  )
  await press([...'ere'], 120)
  await expect.poll(() => value('note')).toBe('there')
  expect((await seen()).inputs.at(-1)).toBe('there')
})

test('a scanner at 60 ms a key is known by the checksum of its first code, which leaves the field alone', async () => {
  await page.click('#note')
  await press(slow, 60)
  await page.waitForFunction(() => window.seen.scans.length === 1)
  expect(await seen()).toMatchObject({ scans: [slow.slice(0, -1).join('')], submits: 0 })
  expect(await value('note')).toBe('two nibs')
  // From then on its keys reach the field no more.
  await press(slow, 60)
  await page.waitForFunction(() => window.seen.scans.length === 2)
  expect(await value('note')).toBe('two nibs')
})
