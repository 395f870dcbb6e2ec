import type { Page } from 'playwright-core'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { PATTERNS } from '../../kiosk/bells/sound/patterns.ts'
import {
  encodeCommandCode,
  encodePanelCode,
  type PrintedCommand,
  shopTag,
} from '../../labels/code.ts'
import { cupLabelOf, labelStyleOf } from '../../labels/fromState.ts'
import { layoutCupLabel, STOCKS } from '../../labels/layout.ts'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { CLEAR } from '../support/sheets.ts'

/** A job done without touching the glass: by a hand scanner, and by a foot pedal. */

const START = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const JOB = 'VANREAR2'
const QUARTER = 'REARQTR2'
const CUP = 'K7QDM2XV'

const browser = browserForTests(SOUND)
let site: ShopSite

beforeEach(async () => {
  site = await serveShop(START)
  const route = [
    { stage: 'prep' },
    { stage: 'clear', sheet: CLEAR.sheet },
    { stage: 'cure', sheet: CLEAR.sheet },
    { stage: 'polish' },
  ]
  await site.send('SaveSheet', { sheet: CLEAR })
  await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  await site.send('OpenJob', { job: JOB, title: 'Delivery van, rear right corner' })
  const panel = { job: JOB, panel: QUARTER, name: 'Rear quarter, right', operation: 'repair' }
  await site.send('AddPanel', { ...panel, areaM2: 1, route })
  await site.send('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 600, activator: 'standard' })
  await site.send('PrintLabel', { cup: CUP })
})
afterEach(() => site.stop())

/**
 * A scanner: key after key without a pause, ended by Enter. All in one turn of the page and made before
 * the first is dispatched, since an event's time is that of its making, and a busy machine may hold keys
 * back for longer than a scan may take; keys from outside are scan.test.ts's.
 */
async function scan(page: Page, text: string): Promise<void> {
  await page.evaluate(
    (keys) => {
      const events = keys.flatMap((key) =>
        ['keydown', 'keyup'].map(
          (type) => new KeyboardEvent(type, { key, bubbles: true, cancelable: true }),
        ),
      )
      for (const event of events) (document.activeElement ?? document.body).dispatchEvent(event)
    },
    [...text, 'Enter'],
  )
}

const command = (page: Page, name: PrintedCommand) => scan(page, encodeCommandCode(name))
const tag = () => encodePanelCode({ shopTag: shopTag(site.shops.own), panel: QUARTER })
const done = (page: Page, words: string) =>
  page.waitForSelector(`.hands-said[data-kind="done"] >> text=${words}`)
const problem = (page: Page, words: string) =>
  page.waitForSelector(`.hands-said[data-kind="problem"] >> text=${words}`)
/** Notes down every tone that the page starts: the browser's own oscillators still sound them. */
async function listen(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const tonesHz: number[] = []
    Object.assign(window, { tonesHz })
    const start = OscillatorNode.prototype.start
    OscillatorNode.prototype.start = function (when) {
      tonesHz.push(this.frequency.value)
      start.call(this, when)
    }
  })
}
const ERROR_HZ = PATTERNS.error.notes.map(({ hz }) => hz[0])
/** How many tones of the error sound the page has started. */
const errorTones = async (page: Page): Promise<number> => {
  const all = await page.evaluate(() => (window as Window & { tonesHz?: number[] }).tonesHz ?? [])
  return all.filter((hz) => ERROR_HZ.includes(hz)).length
}
const panel = () => site.shops.ownWriter.state().things.panel[QUARTER]
const types = () => panel()?.entries.map(({ type }) => type) ?? []

/** The text in the square code of the cup's label, as the server prints it. */
function cupLabel(): string {
  const state = site.shops.ownWriter.state()
  const label = cupLabelOf(state, CUP)
  if (label === null) throw new Error('The cup has no label.')
  return layoutCupLabel(label, { stock: STOCKS['57x32'], dpi: 203 }, labelStyleOf(state)).payload
}

const shown = (ms: number) =>
  new Date(ms).toLocaleTimeString('en-GB', {
    hour: '2-digit',
    minute: '2-digit',
    timeZone: 'Europe/Madrid',
  })
const waitsFor = (page: Page, what: string) =>
  page.waitForSelector(`[data-panel="${QUARTER}"][data-waits="${what}"]`)

/** Moves the shop's clock and waits until the kiosk has it and shows the lane at that time. */
async function later(page: Page, minutes: number, waits: string): Promise<void> {
  site.clock.move(minutes * MINUTE)
  const now = site.clock.now()
  await page.waitForFunction(
    (times) => times.includes(document.querySelector('.now time')?.textContent ?? ''),
    [shown(now), shown(now + MINUTE)],
  )
  await waitsFor(page, waits)
}

test('a whole job is done by scanner alone, from prep to passed', async () => {
  const { page, close } = await openPage(browser, site)
  await waitsFor(page, 'hand')
  await command(page, 'PREPDONE')
  await done(page, 'Rear quarter, right')
  await waitsFor(page, 'coat')

  await scan(page, tag())
  await page.waitForSelector('.act-sheet')
  await scan(page, cupLabel())
  await done(page, 'START CLEAR 1')
  await page.waitForSelector(`.lanes [data-panel="${QUARTER}"][data-waits="spraying"]`)
  await shot(page, 'handsfree-started-wall')
  await later(page, 3, 'spraying')
  await command(page, 'COATEND')
  await waitsFor(page, 'flash')
  await later(page, 10, 'coat')
  await page.waitForSelector('[data-bell="coatReady"]')
  await command(page, 'ACK')
  await page.waitForSelector('[data-bell="coatReady"]', { state: 'detached' })

  await scan(page, cupLabel())
  await page.waitForSelector('.scan-cup')
  await scan(page, tag())
  await done(page, 'START CLEAR 2')
  await later(page, 3, 'spraying')
  await command(page, 'COATEND')
  await waitsFor(page, 'heatFlash')
  await command(page, 'CUPEMPTY')
  await done(page, 'CUP EMPTY')

  await later(page, 11, 'heat')
  await command(page, 'BAKESTART')
  await waitsFor(page, 'cure')
  await command(page, 'ATTEMP')
  await expect.poll(() => types().at(-1)).toBe('PartRead')
  await later(page, 31, 'cureEnd')
  await command(page, 'BAKEEND')
  await waitsFor(page, 'hand')
  // Hot from the bake it is not polished.
  await later(page, 31, 'hand')
  await command(page, 'PREPDONE')
  await waitsFor(page, 'pass')
  await command(page, 'PASS')
  await done(page, 'PASS')
  await expect.poll(() => panel()?.value).toMatchObject({ route: 'passed' })
  const sources = new Set(
    panel()
      ?.entries.filter(({ type }) => type !== 'PanelAdded')
      .map(({ source }) => source),
  )
  expect([...sources]).toEqual(['scan'])
  await close()
})

test('a scan that is not ours is answered in a sentence with the error sound, and nothing is done', async () => {
  const { page, close } = await openPage(browser, site, { prepare: listen })
  await waitsFor(page, 'hand')
  await page.waitForSelector('.lamp[data-sound=ready]')
  const head = site.shops.ownWriter.state().head
  const sealed = encodeCommandCode('PREPDONE')
  const foreign = encodePanelCode({ shopTag: 'ZZZ', panel: QUARTER })
  for (const [text, says] of [
    ['https://example.org/menu', 'not one of our labels'],
    ['C1-K7F-K7QDM2', 'checksum'],
    [`${sealed.slice(0, -2)}00`, 'checksum'],
    [foreign, 'another shop'],
    [sealed.replaceAll('-', 'ß'), 'keyboard layout'],
    // Digits are typed with Shift there.
    [tag().replace('2', 'é'), 'keyboard layout'],
    [encodeCommandCode('COATEND'), 'No panel is ready for COAT END'],
    ['ZZZZ9999', 'Cup ZZZZ9999 is not known'],
  ] as const) {
    const before = await errorTones(page)
    await scan(page, text)
    await problem(page, says)
    // What was said of the scan before may have been the same.
    await expect.poll(() => errorTones(page), { message: text }).toBe(before + ERROR_HZ.length)
  }
  await shot(page, 'handsfree-problem-wall')
  expect(site.shops.ownWriter.state().head).toBe(head)
  // What was said of a scan ends with the next act, also one by hand.
  await page.click(`[data-panel="${QUARTER}"]`)
  await page.click('.act-sheet button.main')
  await page.waitForSelector('.hands-said', { state: 'detached' })
  await close()
})

test('UNDO takes the last press back; a refused pair says why and when it clears', async () => {
  const { page, close } = await openPage(browser, site, {
    size: 'phone',
    expected: /status of 409/,
  })
  await waitsFor(page, 'hand')
  await command(page, 'PREPDONE')
  await waitsFor(page, 'coat')
  await command(page, 'UNDO')
  await done(page, 'Undone')
  await waitsFor(page, 'hand')
  await command(page, 'PREPDONE')
  await waitsFor(page, 'coat')
  await scan(page, tag())
  await scan(page, cupLabel())
  await waitsFor(page, 'spraying')
  await later(page, 3, 'spraying')
  await command(page, 'COATEND')
  await waitsFor(page, 'flash')
  await scan(page, tag())
  await scan(page, cupLabel())
  await problem(page, 'has not flashed')
  // The panel is named once: by the refusal.
  const said = (await page.locator('.hands-said').textContent()) ?? ''
  expect(said.match(/Rear quarter, right/g)).toHaveLength(1)
  await page.waitForSelector('.hands-said >> text=Clears in')
  await shot(page, 'handsfree-refused-phone')
  await close()
})

test('what the hand has undone on the screen is not there for UNDO to take back again', async () => {
  const { page, close } = await openPage(browser, site)
  await waitsFor(page, 'hand')
  await command(page, 'PREPDONE')
  await waitsFor(page, 'coat')
  await page.click('.undo-bar [data-act=undo]:enabled')
  await waitsFor(page, 'hand')
  await page.waitForSelector('.undo-bar', { state: 'detached' })
  await command(page, 'UNDO')
  await problem(page, 'Nothing to undo here')
  await close()
})

test('a foot pedal is a key set on this device, and does the main act of its panel', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/setup' })
  await page.waitForSelector('[data-awake="awake"]')
  await page.click('a[href="#/codes"]')
  await page.emulateMedia({ media: 'print', colorScheme: 'dark' })
  // Paper is white: neither the frame nor light ink of a dark screen comes with the codes.
  await expect.poll(() => page.isVisible('header')).toBe(false)
  await expect
    .poll(() => page.evaluate(() => getComputedStyle(document.body).color))
    .toBe('rgb(21, 25, 28)')
  await page.emulateMedia({ media: 'screen', colorScheme: 'light' })
  await page.waitForSelector('.code-sheet img[alt^="K1-COATSTART"]')
  await expect.poll(() => page.evaluate(() => document.images.length)).toBeGreaterThan(16)
  const drawn = await page.evaluate(() =>
    Promise.all([...document.images].map((image) => image.decode().then(() => image.naturalWidth))),
  )
  expect(Math.min(...drawn)).toBeGreaterThan(0)
  await shot(page, 'handsfree-codes-wall')
  await page.click('text=SET KEY')
  await page.waitForSelector('text=Press the pedal now')
  await page.keyboard.press('b')
  await page.waitForSelector('[role=alert] >> text=“b” won’t work')
  await page.keyboard.press('F9')
  await page.waitForSelector('text=Key F9')
  await page.click('.pedal fieldset >> text=Rear quarter, right')
  await page.reload()
  await page.waitForSelector('text=Key F9')
  await page.click('a[href="#/wall"]')
  await waitsFor(page, 'hand')
  await page.keyboard.press('F9')
  await done(page, 'PREP DONE')
  await waitsFor(page, 'coat')
  await page.keyboard.press('F9')
  await waitsFor(page, 'spraying')
  await close()
})
