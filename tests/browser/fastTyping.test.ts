import { afterEach, expect, test } from 'vitest'
import { openPage } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { CLEAR } from '../support/sheets.ts'

/**
 * Somebody who types fast, 10 ms a key, into a form while the shop goes on: readings, coats and cups come by the
 * stream between the keys. Nothing is lost, and the caret stays where it was put.
 */

const START = Date.UTC(2026, 10, 25, 8)
const KEY_MS = 10
const [JOB, PANEL] = ['VANREAR2', 'REARQTR2']

const browser = browserForTests()
let site: ShopSite
afterEach(() => site.stop())

async function busyShop(): Promise<void> {
  site = await serveShop(START)
  await site.send('SaveSheet', { sheet: CLEAR })
  await site.send('OpenJob', { job: JOB, title: 'Delivery van' })
  const panel = { job: JOB, panel: PANEL, name: 'Rear quarter', operation: 'repair', areaM2: 1 }
  await site.send('AddPanel', { ...panel, route: [{ stage: 'clear', sheet: CLEAR.sheet }] })
}

/** The shop at work, a command every few keys, until it is told to stop; how many there were. */
function atWork() {
  let isOn = true
  let sent = 0
  const run = async () => {
    while (isOn) {
      sent += 1
      const rh = 0.4 + (sent % 20) / 100
      await site.send('ReadClimate', {
        zone: 'booth',
        airC: 20 + (sent % 7) / 10,
        rh,
        surfaceC: 20,
      })
      await site.send('AddNote', { job: JOB, text: `note ${sent}` })
      await new Promise((done) => setTimeout(done, 3 * KEY_MS))
    }
    return sent
  }
  const all = run()
  return () => {
    isOn = false
    return all
  }
}

const LONG = 'Rear quarter and sliding door, right, with the roof rail of a long delivery van'

test.each([
  ['a job', '/#/jobs/new', '[name=title]', LONG],
  ['a note', `/#/jobs/${JOB}`, '[name=note]', LONG],
  [
    'a sheet',
    '/#/setup/sheets/new',
    '.sheet-form [name=name]',
    '2K clear, very fast, for cold days',
  ],
  ['a gun', '/#/setup/guns/new', '[name=name]', 'The clear gun with the long hose'],
] as const)('in the form of %s nothing is lost', async (_, path, field, text) => {
  await busyShop()
  const { page, close } = await openPage(browser, site, { path })
  const input = page.locator(field).first()
  await input.click()
  // A job has a name before it is typed: the first key takes its place.
  await page.keyboard.press('Control+A')
  const heard: string[] = []
  page.on('response', (answer) => heard.push(answer.url()))
  const stop = atWork()
  await page.keyboard.type(text, { delay: KEY_MS })
  await expect.poll(() => input.inputValue()).toBe(text)
  // In the middle of it: what is typed stands where the caret was put, and the caret behind it.
  await input.evaluate((e) => (e as HTMLInputElement).setSelectionRange(4, 4))
  await page.keyboard.type('-quick brown-', { delay: KEY_MS })
  await expect
    .poll(() => input.inputValue())
    .toBe(`${text.slice(0, 4)}-quick brown-${text.slice(4)}`)
  expect(await input.evaluate((e) => (e as HTMLInputElement).selectionStart)).toBe(17)
  for (let n = 0; n < 13; n += 1) await page.keyboard.press('Backspace')
  await expect.poll(() => input.inputValue()).toBe(text)
  // The shop really spoke meanwhile, and the page heard it.
  expect(await stop()).toBeGreaterThan(5)
  await expect.poll(() => page.textContent('.climate')).toContain('20.')
  await close()
})

test('figures with commas and points, typed as fast, are saved as they were typed', async () => {
  await busyShop()
  const { page, close } = await openPage(browser, site, { path: '/#/air/booth' })
  await page.waitForSelector('[name=airC]')
  const stop = atWork()
  for (const [name, text] of [
    ['airC', '23,75'],
    ['rh', '51.5'],
  ] as const) {
    await page.locator(`[name=${name}]`).fill('')
    await page.locator(`[name=${name}]`).click()
    await page.keyboard.type(text, { delay: KEY_MS })
  }
  await expect.poll(() => page.inputValue('[name=airC]')).toBe('23,75')
  await expect.poll(() => page.inputValue('[name=rh]')).toBe('51.5')
  await stop()
  await close()
})
