import type { Page } from 'playwright-core'
import { afterEach, expect, test } from 'vitest'
import { devicesOf } from '../../machines/devices/fold.ts'
import { openPage, type PageOptions, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { START, setUp } from './busyShop.ts'
import { overflowPx } from './onScreen.ts'

/** Commissioning the level at the work positions, and undoing a sound test. */

const browser = browserForTests(SOUND)
let site: ShopSite
afterEach(() => site.stop())

async function open(options: PageOptions = {}, settings: object = {}, section = 'level') {
  site = await serveShop(START)
  await setUp(site, settings)
  const opened = await openPage(browser, site, { ...options, path: `/#/setup/${section}` })
  await opened.page.waitForSelector('.setup .stack')
  return opened
}

const devices = () => devicesOf(site.shops.ownWriter.state())
async function type(page: Page, fields: Record<string, string>): Promise<void> {
  for (const [name, text] of Object.entries(fields)) await page.fill(`[name="${name}"]`, text)
}
const save = (page: Page) => page.click('[data-act=CommissionLevel]')
const verdict = (page: Page) => page.locator('form [data-passes]')

test('the level is reached from this kiosk’s page, and its signal starts and stops by a touch', async () => {
  const { page, close } = await open({}, {}, 'kiosk')
  await page.click('text=Commission the level')
  const signal = page.locator('[data-act=signal]')
  await signal.click()
  await page.waitForSelector('[data-act=signal][aria-pressed=true]')
  await page.waitForSelector('text=stops at the next bell, or after a minute')
  // Turned down while it sounds. (A second press of one control within 0.4 s is none.)
  await page.click('text=− 3 dB')
  await page.waitForSelector('text=-3 dB below full')
  await signal.click()
  await page.waitForSelector('[data-act=signal][aria-pressed=false]')
  // A pattern takes its place: two sounds at once cannot be measured.
  await page.click('text=+ 3 dB')
  await signal.click()
  await page.waitForSelector('[data-act=signal][aria-pressed=true]')
  await page.click('[data-sound-test=B2]')
  await page.waitForSelector('[data-act=signal][aria-pressed=false]')
  await close()
})

test('what was measured is judged as it is typed, kept with date and person, and listed', async () => {
  const { page, close } = await open()
  await page.waitForSelector('text=No work position commissioned yet')
  await type(page, { place: 'Booth door', ambientDb: '74.5', signalDb: '84' })
  await expect.poll(() => verdict(page).textContent()).toMatch(/9\.5 dB\(A\) above .*Does not pass/)
  await page.reload()
  await page.waitForSelector('[name=place]')
  await expect.poll(() => page.inputValue('[name=place]')).toBe('Booth door')
  await type(page, { thirdOctaveDb: '13' })
  await expect.poll(() => verdict(page).textContent()).toMatch(/✓ 9\.5 .*Passes; 15/)
  await save(page)
  const row = page.locator('[data-place="Booth door"]')
  await row.waitFor()
  await expect
    .poll(() => row.textContent())
    .toMatch(
      /signal 84\.0 dB\(A\), ambient 74\.5 dB\(A\) · 13\.0 dB in one third-octave.*25 Nov.*nobody named/,
    )
  expect(devices().levels).toMatchObject([{ place: 'Booth door', thirdOctaveDb: 13 }])
  await type(page, { place: 'Booth door', ambientDb: '74', signalDb: '89' })
  await page.click('[data-field=siteSignedOff] [data-value=yes]')
  await save(page)
  await expect.poll(() => devices().levels).toMatchObject([{ signalDb: 89 }])
  await expect.poll(() => page.locator('.commissioned li').count()).toBe(1)
  await expect.poll(() => row.textContent()).toContain('Reaches the target')
  // A mistaken press is undone like any other.
  await page.click('[data-act=undo]')
  await expect.poll(() => devices().levels).toMatchObject([{ signalDb: 84 }])
  await close()
})

test('above 100 dB(A) nothing is taken; above 90 only with the site’s word', async () => {
  const { page, close } = await open()
  await type(page, { place: 'Bench', ambientDb: '85', signalDb: '101' })
  await save(page)
  const said = page.locator('form > [role=alert]')
  await expect
    .poll(() => said.textContent())
    .toMatch(/Signal level: 101 won't work. Use .* to 100 dB\(A\)/)
  await type(page, { signalDb: '96' })
  await page.click('[data-field=siteSignedOff] [data-value=no]')
  await save(page)
  await expect
    .poll(() => said.textContent())
    .toMatch(/Site approved more than 90 dB\(A\): false won't work. Use true/)
  expect(devices().levels).toEqual([])
  await page.click('[data-field=siteSignedOff] [data-value=yes]')
  await save(page)
  await page.waitForSelector('[data-place=Bench] >> text=approved by the site')
  expect(devices().levels).toMatchObject([{ signalDb: 96, siteSignedOff: true }])
  await close()
})

test('a sound test pressed by mistake is undone with one touch', async () => {
  const { page, close } = await open({}, {}, 'kiosk')
  await page.click('[data-sound-test=B2]')
  await page.click('[data-heard=false]')
  await page.waitForSelector('text=Logged')
  expect(devices().tests).toMatchObject([{ pattern: 'B2', heard: false }])
  await page.click('[data-act=undo]')
  await expect.poll(() => devices().tests).toEqual([])
  await close()
})

test.each([
  ['wall', 'light', 'en'],
  ['wall', 'dark', 'es'],
  ['phone', 'light', 'es'],
  ['phone', 'dark', 'en'],
] as const)(
  'on a %s in the %s theme, in %s, nothing is wider than the screen',
  async (size, colorScheme, language) => {
    const { page, close } = await open({ size, colorScheme }, { language })
    await site.send('CommissionLevel', { place: 'Booth door', ambientDb: 72, signalDb: 88 })
    await type(page, { place: 'Bench', ambientDb: '70', signalDb: '78' })
    await page.waitForSelector('[data-place="Booth door"]')
    expect(await overflowPx(page)).toBeLessThanOrEqual(0)
    const name = `setup-level-${size}-${colorScheme}-${language}`
    await shot(page, name)
    await page.locator('.commissioned').scrollIntoViewIfNeeded()
    await shot(page, `${name}-more`)
    await close()
  },
)
