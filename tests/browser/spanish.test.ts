import type { Page } from 'playwright-core'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { CLEAR } from '../support/sheets.ts'

/** A Spanish kiosk says in Spanish what is refused, and what is wrong with a label or a field. */

const START = Date.UTC(2026, 10, 25, 8)
const JOB = 'VANREAR2'
const DOOR = 'SDEDR222'
const CUP = 'K7QDM2XV'

const browser = browserForTests()
let site: ShopSite

beforeEach(async () => {
  site = await serveShop(START)
  await site.send('ChangeSettings', { language: 'es' })
  await site.send('SaveSheet', { sheet: CLEAR })
  await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  await site.send('OpenJob', { job: JOB, title: 'Furgoneta, esquina trasera' })
  await site.send('AddPanel', {
    job: JOB,
    panel: DOOR,
    name: 'Puerta corredera',
    operation: 'repair',
    areaM2: 1,
    route: [{ stage: 'clear', sheet: CLEAR.sheet }],
  })
  await site.send('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 600, activator: 'standard' })
})
afterEach(() => site.stop())

const expected = /status of 4(09|00)/
const sentence = (page: Page) => page.textContent('main [role=alert]')

test('a start before the flash is over is refused in Spanish, naming the panel', async () => {
  const { page, close } = await openPage(browser, site, { size: 'phone', expected })
  await site.send('StartCoat', { panels: [DOOR], cup: CUP })
  await site.send('FinishCoat', { panels: [DOOR] })
  await page.click(`.lanes [data-panel="${DOOR}"][data-waits=flash]`)
  await page.click('[data-act=StartCoat]')
  const refusal = page.locator('.refusal [role=alert]')
  await refusal.waitFor()
  await expect
    .poll(() => refusal.textContent())
    .toMatch(/^Puerta corredera: Aún no ha evaporado\. Se libera en \d+:\d\d\.$/)
  await shot(page, 'refused-phone-es')
  await close()
})

test('a start in air that the sheet does not allow is refused in Spanish, with both figures', async () => {
  await site.send('ReadClimate', { zone: 'booth', airC: 8, rh: 0.5, surfaceC: 8 })
  const { page, close } = await openPage(browser, site, { size: 'phone', expected })
  await page.click(`.lanes [data-panel="${DOOR}"]`)
  await page.click('[data-act=StartCoat]')
  const refusal = page.locator('.refusal [role=alert]')
  await refusal.waitFor()
  expect((await refusal.textContent())?.trim()).toMatch(
    /^Puerta corredera: El aire está a 8\.0 °C y 50 %; la ficha admite desde \d+\.0 °C, .+\.$/,
  )
  await shot(page, 'refused-air-phone-es')
  await close()
})

test('a field that holds no number says so, and what still counts, in Spanish', async () => {
  const { page, close } = await openPage(browser, site, {
    size: 'phone',
    path: `/#/bench/${CLEAR.sheet}`,
  })
  await page.click('[data-step=amount]')
  const field = page.locator('[data-field=coats] input')
  await field.fill('dos')
  const said = page.locator('[data-field=coats] [role=alert]')
  await said.waitFor()
  await expect
    .poll(() => said.textContent())
    .toMatch(
      /^Manos: «dos» no es un número\. Escriba uno como 12\.5\. Cuenta el número propuesto\.$/,
    )
  await shot(page, 'no-number-phone-es')
  await field.fill('2,5')
  await said.waitFor({ state: 'detached' })
  await close()
})

test('a garbled code and a link are refused in Spanish', async () => {
  const { page, close } = await openPage(browser, site, {
    path: '/#/scan/https%3A%2F%2Fexample.org',
  })
  await page.waitForSelector('.scan [role=alert]')
  await expect.poll(() => sentence(page)).toMatch(/^No es una etiqueta nuestra\./)
  await page.goto(`${site.url}/#/scan/C1ßK7Fßk7f3qabcß0`)
  await page.waitForSelector('.scan [role=alert] >> text=El escáner escribe ß')
  await shot(page, 'label-slip-wall-es')
  await close()
})
