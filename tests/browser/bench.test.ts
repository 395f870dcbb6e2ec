import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { madeContext } from '../support/things.ts'

/** A cup by touch from its sheet to its label; cups poured together; guns loaded and cleaned. */

const START = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const JOB = 'VANREAR2'
const CUP = 'K7QDM2XV'
const OTHER = 'M3TDM2XV'
const TOUCH = { hasTouch: true } as const

const browser = browserForTests(SOUND)
let site: ShopSite

async function openShop(settings: object = {}): Promise<ShopSite> {
  const shop = await serveShop(START)
  const route = [
    { stage: 'base', sheet: BASE.sheet, colour: 'silver' },
    { stage: 'clear', sheet: CLEAR.sheet },
    { stage: 'cure', sheet: CLEAR.sheet },
  ]
  await shop.send('ChangeSettings', settings)
  await shop.send('SaveSheet', { sheet: CLEAR })
  await shop.send('SaveSheet', { sheet: BASE })
  await shop.send('SaveGun', { gun: 'gun-1', name: 'Clear gun', needleMm: 1.3, inletKpa: 200 })
  await shop.send('ReadClimate', { zone: 'bench', airC: 20, rh: 0.5 })
  await shop.send('OpenJob', {
    job: JOB,
    title: 'Delivery van, rear right corner',
    colours: [{ key: 'silver', code: 'S-1 silver' }],
  })
  const panel = { job: JOB, operation: 'repair', route }
  await shop.send('AddPanel', { ...panel, panel: 'REARQTR2', name: 'Rear quarter', areaM2: 1.2 })
  await shop.send('AddPanel', { ...panel, panel: 'SDEDR222', name: 'Sliding door', areaM2: 2 })
  for (const cup of [CUP, OTHER]) {
    await shop.send('MixCup', { cup, sheet: CLEAR.sheet, totalMl: 300, activator: 'standard' })
    await shop.send('PrintLabel', { cup })
    shop.clock.move(5 * MINUTE)
  }
  return shop
}

beforeAll(async () => {
  site = await openShop()
})
afterAll(() => site.stop())

/** What the log will hold: it comes when it comes. */
const SOON = { timeout: 30_000 }
const state = (of = site) => of.shops.ownWriter.state()
const cupIn = (id: string, of = site) => madeContext(state(of), 'cup', id)
const pick = (page: Page, name: string, value: string) =>
  page.tap(`[data-pick="${name}"] [data-value="${value}"]`)
/** Types on the kiosk's own keys. */
const keys = async (page: Page, text: string) => {
  for (const sign of text) await page.tap(`.keypad button >> text="${sign}"`)
}
/** The id of the cup whose label is shown. */
const shownCup = async (page: Page) => {
  await page.waitForSelector('.cup-label')
  return (await page.getAttribute('.cup-label', 'data-cup')) ?? ''
}

test('a cup is mixed by touch from its sheet to its label, with too much poured in between', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/bench', ...TOUCH })
  await pick(page, 'sheet', CLEAR.sheet)
  await pick(page, 'job', JOB)
  expect(await page.textContent('[data-why=activator]')).toContain('standard is for')
  await page.tap('[data-act=next]')

  // 3.2 m² × 2 coats × 25 µm / (0.45 × 0.65) = 547 mL, rounded up.
  await page.waitForSelector('[data-needed="550"]')
  await page.waitForSelector('[data-life=enough]')
  await pick(page, 'cupMl', '650')
  await page.tap('[data-step=pour]')
  await page.waitForSelector('[data-next="0"] .reading >> text=366.7 g')

  await keys(page, '400')
  await page.tap('[data-act=take]')
  await page.waitForSelector('[data-over="0"] >> text=33.3 g more')
  expect(await page.textContent('[data-over]')).toContain('600 mL')
  expect(await page.textContent('[data-over]')).toContain('It fits the 650 mL cup')
  await page.waitForSelector('[data-next="1"] .reading >> text=610.0 g')
  expect(await page.isDisabled('[data-act=MixCup]')).toBe(true)
  await page.tap('[data-act=asShown]')
  await page.waitForSelector('[data-error="0.0"]')
  const activated = site.clock.now()

  site.clock.move(4 * MINUTE)
  await page.waitForSelector('.now time >> text=09:14')
  await page.tap('[data-act=MixCup]')
  const id = await shownCup(page)
  await page.waitForFunction(
    () => (document.querySelector<HTMLImageElement>('img.label')?.naturalWidth ?? 0) > 0,
  )
  const cup = cupIn(id)
  expect(cup).toMatchObject({ totalMl: 600, activator: 'standard', job: JOB, sheet: CLEAR.sheet })
  expect(state().things.cup[id]?.entries[0]?.data).toMatchObject({ pouredG: [400, 210] })
  // The pot life runs from when the activator went in, not from when MIXED was pressed.
  expect(Math.abs(cup.mixedAt - activated)).toBeLessThan(MINUTE)
  expect(cup.prints).toHaveLength(1)
  const hand = (await page.textContent('.by-hand')) ?? ''
  for (const says of [id, '2:1', 'USE BY 10:10', 'DANGER', 'ISOCYANATE'])
    expect(hand).toContain(says)
  await shot(page, 'bench-label-wall')

  await page.tap('[data-act=reprint]')
  await page.waitForSelector('.cup-label h2 >> text=COPY 1')
  const [first, second] = cupIn(id).prints
  expect(second?.untilMs).toBe(first?.untilMs)
  await close()
})

test('a scale that types sends its reading into the pour, and is not taken for a label', async () => {
  const { page, close } = await openPage(browser, site, { path: `/#/bench/${CLEAR.sheet}` })
  await page.click('[data-step=pour]')
  await page.waitForSelector('[data-next="0"] .reading >> text=200.0 g')
  // A burst without pauses, as a scanner types: the page's scan listener has it first.
  for (const key of [...'212.4', 'Enter']) await page.keyboard.press(key)
  await page.waitForSelector('[data-next="1"]')
  expect(await page.textContent('.pours')).toContain('212.4 g')
  expect(page.url()).toContain('#/bench')

  await page.fill('[name=reading]', '100')
  await page.keyboard.press('Enter')
  await page.waitForSelector('#scale-wrong >> text=The scale already showed 212.4 g')
  await page.reload()
  await page.waitForSelector('[data-next="1"]')
  await page.fill('[name=reading]', 'a lot')
  await page.keyboard.press('Enter')
  await page.waitForSelector('#scale-wrong >> text=in grams')
  expect(await page.inputValue('[name=reading]')).toBe('a lot')
  await page.click('[data-act=undoPour]')
  await page.waitForSelector('[data-next="0"]')
  await close()
})

test('with the server away a cup is mixed anyway, and its label is written by hand', async () => {
  const own = await openShop()
  const { page, close } = await openPage(browser, own, {
    path: `/#/bench/${CLEAR.sheet}`,
    expected: /Failed to load|ERR_|EventSource/,
    ...TOUCH,
  })
  await page.tap('[data-step=pour]')
  await page.waitForSelector('[data-next="0"]')
  await keys(page, '200')
  await page.tap('[data-act=take]')
  await page.waitForSelector('[data-next="1"]')
  await page.tap('[data-act=asShown]')
  await own.away()
  await page.waitForSelector('[data-error="0.0"]')
  await page.tap('[data-act=MixCup]')
  const id = await shownCup(page)
  await page.waitForSelector('.by-hand[data-alone]')
  expect(await page.textContent('.by-hand')).toContain(id)
  expect(await page.textContent('.by-hand')).toMatch(/USE BY 1[01]:\d\d/)
  await shot(page, 'bench-by-hand')
  await own.back()
  await expect.poll(() => cupIn(id, own)?.prints.length, SOON).toBe(1)
  await page.waitForSelector('img.label')
  await close()
  await own.stop()
})

test('two cups are poured together: the new cup ends with the earlier one, and has its own label', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/cups', ...TOUCH })
  const ends = cupIn(CUP).prints[0]?.untilMs
  await page.tap(`[data-cup="${OTHER}"] .cup-row`)
  await page.tap(`[data-cup="${OTHER}"] [data-act=pour]`)
  await pick(page, 'from', CUP)
  await page.waitForSelector(`[data-child="${ends}"]`)
  expect(await page.textContent('[data-child]')).toContain('600 mL')
  await page.tap('[data-act=PourCup]')
  const id = await shownCup(page)
  await expect.poll(() => cupIn(id)?.prints[0]?.untilMs, SOON).toBe(ends)
  expect(cupIn(id)).toMatchObject({ parents: [OTHER, CUP], totalMl: 600 })
  for (const parent of [CUP, OTHER]) expect(state().things.cup[parent]?.value).toBe('emptied')
  await close()
})

test('a gun is loaded with its needle, pressure and turns, and cleaned with a solvent', async () => {
  await site.send('MixCup', { cup: 'GGNDM2XV', sheet: CLEAR.sheet, totalMl: 200 })
  const { page, close } = await openPage(browser, site, { path: '/#/cups/GGNDM2XV/load', ...TOUCH })
  await pick(page, 'gun', 'gun-1')
  await page.fill('[name=inletKpa]', '29')
  await page.waitForSelector('[data-doubt=inletKpa] >> text=29 psi: did you mean 2 bar?')
  expect(await page.isDisabled('[data-act=LoadGun]')).toBe(true)
  await page.fill('[name=inletKpa]', '1.8')
  await page.tap('[data-field=turns] button >> nth=1')
  await page.tap('[data-act=LoadGun]')
  await page.waitForSelector('[data-gun="gun-1"][data-state=loaded]')
  expect(state().things.gun['gun-1']?.entries.at(-1)).toMatchObject({
    cup: 'GGNDM2XV',
    data: { needleMm: 1.3, inletKpa: 180, turns: 0.25 },
  })
  await page.tap('[data-gun="gun-1"] [data-fold=clean] > summary')
  await page.waitForSelector('[data-cautions~=isocyanate]')
  await pick(page, 'solvent', 'gun solvent')
  await page.tap('[data-act=CleanGun]')
  await page.waitForSelector('[data-gun="gun-1"][data-state=clean]')
  expect(state().things.gun['gun-1']?.entries.at(-1)?.data).toMatchObject({
    solvent: 'gun solvent',
  })
  await close()
})

test('a cup is discarded by holding, with what is left in it; leftovers are never sealed', async () => {
  await site.send('MixCup', { cup: 'DSCDM2XV', sheet: CLEAR.sheet, totalMl: 200 })
  const { page, close } = await openPage(browser, site, { path: '/#/cups/DSCDM2XV/empty' })
  await page.waitForSelector('.sentence >> text=Never seal')
  await page.fill('[name=leftMl]', '120')
  await page.hover('[data-act=discard] .hold')
  await page.mouse.down()
  const last = () => state().things.cup.DSCDM2XV?.entries.at(-1)?.data
  await expect.poll(last, SOON).toEqual({ how: 'discarded', leftMl: 120 })
  await page.mouse.up()
  await close()
})

test('a new label is offered where the printed one names a time that has become too late', async () => {
  const own = await openShop()
  await own.send('ReadClimate', { zone: 'bench', airC: 34, rh: 0.5 })
  const { page, close } = await openPage(browser, own, { path: `/#/cups/${CUP}`, ...TOUCH })
  await page.tap('[data-act=newLabel]')
  await page.waitForSelector('.cup-label h2 >> text=COPY 1')
  await page.waitForSelector('[data-act=newLabel]', { state: 'detached' })
  const [first, second] = cupIn(CUP, own).prints
  expect(second?.untilMs ?? 0).toBeLessThan(first?.untilMs ?? 0)
  await close()
  await own.stop()
})

const looks = [
  { name: 'wall-light', size: 'wall', colorScheme: 'light', language: 'en' },
  { name: 'wall-dark-es', size: 'wall', colorScheme: 'dark', language: 'es' },
  { name: 'large-light-es', size: 'wall', colorScheme: 'light', language: 'es', isLarge: true },
  { name: 'large-dark', size: 'wall', colorScheme: 'dark', language: 'en', isLarge: true },
  { name: 'phone-light-es', size: 'phone', colorScheme: 'light', language: 'es' },
  { name: 'phone-dark', size: 'phone', colorScheme: 'dark', language: 'en' },
] as const

test.each(looks)('the Bench fits a $name', async ({ name, language, ...look }) => {
  const own = await openShop({ language })
  const large = 'isLarge' in look ? { viewport: { width: 1920, height: 1080 } } : {}
  const { page, close } = await openPage(browser, own, {
    path: `/#/bench/${CLEAR.sheet}/${JOB}`,
    ...look,
    ...large,
  })
  const seen = async (what: string) => {
    await shot(page, `bench-${what}-${name}`)
    expect(await overflowPx(page), what).toBe(0)
  }
  await page.waitForSelector('[data-pick=job] [aria-pressed=true]')
  await seen('what')
  await page.click('[data-step=amount]')
  await page.waitForSelector('[data-life]')
  await seen('amount')
  await page.click('[data-step=pour]')
  await page.fill('[name=reading]', '500')
  await page.keyboard.press('Enter')
  await page.waitForSelector('[data-over]')
  await seen('pour')
  await page.goto(`${own.url}/#/cups/${CUP}`)
  await page.waitForSelector('.cup-label')
  await seen('label')
  for (const what of ['pour', 'load', 'empty']) {
    await page.goto(`${own.url}/#/cups/${CUP}/${what}`)
    await page.waitForSelector('.page-head')
    await seen(`cup-${what}`)
  }
  await page.goto(`${own.url}/#/cups`)
  await page.click(`[data-cup="${CUP}"] .cup-row`)
  await seen('cups')
  await close()
  await own.stop()
})

/** How far anything reaches over the screen's width. */
const overflowPx = (page: Page) =>
  page.evaluate(() => {
    const main = document.querySelector('main')
    const parts = [...document.querySelectorAll('main *')]
    return Math.max(
      main === null ? 0 : main.scrollWidth - main.clientWidth,
      ...parts.map((part) => Math.round(part.getBoundingClientRect().right - innerWidth)),
      0,
    )
  })
