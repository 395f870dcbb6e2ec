import { afterAll, beforeAll, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import type { ShopSite } from '../support/browserShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import {
  CUP,
  cupIn,
  JOB,
  OTHER,
  openShop,
  pick,
  SOON,
  shownCup,
  stateOf,
  TOUCH,
} from './benchShop.ts'

/** Cups poured together and apart, emptied and labeled again; guns loaded and cleaned. */

const browser = browserForTests(SOUND)
let site: ShopSite
beforeAll(async () => {
  site = await openShop()
})
afterAll(() => site.stop())

test('two cups are poured together: the new cup ends with the earlier one, and has its own label', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/cups', ...TOUCH })
  const ends = cupIn(site, CUP).prints[0]?.untilMs
  await page.tap(`[data-cup="${OTHER}"] .cup-row`)
  await page.tap(`[data-cup="${OTHER}"] [data-act=pour]`)
  await pick(page, 'from', CUP)
  await page.waitForSelector(`[data-child="${ends}"]`)
  await expect.poll(() => page.textContent('[data-child]')).toContain('600 mL')
  await page.tap('[data-act=PourCup]')
  const id = await shownCup(page)
  await page.tap('[data-act=print]')
  await page.tap('[data-act=isOnCup]')
  await expect.poll(() => cupIn(site, id)?.prints[0]?.untilMs, SOON).toBe(ends)
  await expect.poll(() => cupIn(site, id)).toMatchObject({ parents: [OTHER, CUP], totalMl: 600 })
  for (const parent of [CUP, OTHER]) expect(stateOf(site).things.cup[parent]?.value).toBe('emptied')
  await close()
})

test('a part of a cup is poured off, with the keyboard; it outlives a reload, and emptied it is all again', async () => {
  await site.send('MixCup', { cup: 'PRTDM2XV', sheet: BASE.sheet, totalMl: 200 })
  const { page, close } = await openPage(browser, site, { path: '/#/cups/PRTDM2XV/pour' })
  const amount = page.locator('[name="from.0.ml"]')
  const holds = (text: string) => page.waitForSelector(`[data-child] >> text=${text}`)
  await holds('200 mL')
  await expect.poll(() => amount.inputValue()).toBe('200')
  await amount.fill('80,5')
  await holds('81 mL')
  await page.reload()
  await holds('81 mL')
  await expect.poll(() => amount.inputValue()).toBe('80.5')
  await amount.fill('a bit')
  await page.waitForSelector('[data-field="from.0.ml"] >> text=is not a number')
  await amount.press('Enter')
  // Named by its own words, and said in the field as well.
  await page.waitForSelector('form > [role=alert] >> text=From PRTD: all 200 mL, or less: "a bit"')
  await amount.fill('')
  // What was said was about what was in it.
  await page.waitForSelector('form [role=alert]', { state: 'detached' })
  await amount.blur()
  await holds('200 mL')
  await expect.poll(() => amount.inputValue()).toBe('200')
  await page.locator('[data-field="from.0.ml"] button').first().press('Enter')
  await holds('150 mL')
  await amount.press('Enter')
  const id = await shownCup(page)
  await expect.poll(() => cupIn(site, id).totalMl, SOON).toBe(150)
  await expect.poll(() => cupIn(site, 'PRTDM2XV').pouredMl).toBe(150)
  await close()
})

test('a gun that holds another product refuses the load, and takes it with a coded reason', async () => {
  await site.send('SaveGun', { gun: 'gun-2', name: 'Second gun', needleMm: 1.4 })
  await site.send('LoadGun', { gun: 'gun-2', cup: 'PRTDM2XV' })
  await site.send('MixCup', { cup: 'SCNDM2XV', sheet: CLEAR.sheet, totalMl: 200 })
  const { page, close } = await openPage(browser, site, {
    path: '/#/cups/SCNDM2XV/load',
    expected: /status of 409/,
    ...TOUCH,
  })
  await pick(page, 'gun', 'gun-2')
  await expect.poll(() => page.inputValue('[name=needleMm]')).toBe('1.4')
  await page.tap('[data-act=LoadGun]')
  await page.tap('.refusal summary')
  await page.tap('.reasons button >> nth=0')
  await page.waitForSelector('[data-gun="gun-2"][data-state=dirty]')
  await expect
    .poll(() => stateOf(site).things.gun['gun-2']?.entries.at(-1))
    .toMatchObject({
      cup: 'SCNDM2XV',
      data: { needleMm: 1.4, inletKpa: 200 },
    })
  // A gun that the shop does not know yet is typed in by name.
  await page.goto(`${site.url}/#/cups/SCNDM2XV/load`)
  await pick(page, 'gun', '+')
  await expect.poll(() => page.isDisabled('[data-act=LoadGun]')).toBe(true)
  await page.fill('input[name=gun]', 'borrowed')
  await page.tap('[data-act=LoadGun]')
  await page.waitForSelector('[data-gun=borrowed][data-state=loaded]')
  await close()
})

test('a gun is loaded with its needle, pressure and turns, and cleaned with a solvent', async () => {
  await site.send('MixCup', { cup: 'GGNDM2XV', sheet: CLEAR.sheet, totalMl: 200 })
  const { page, close } = await openPage(browser, site, { path: '/#/cups/GGNDM2XV/load', ...TOUCH })
  await pick(page, 'gun', 'gun-1')
  await page.fill('[name=inletKpa]', '29')
  await page.waitForSelector('[data-doubt=inletKpa] >> text=29 psi: did you mean 2 bar?')
  await expect.poll(() => page.isDisabled('[data-act=LoadGun]')).toBe(true)
  await page.fill('[name=inletKpa]', '1.8')
  await page.tap('[data-field=turns] button >> nth=1')
  await page.tap('[data-act=LoadGun]')
  await page.waitForSelector('[data-gun="gun-1"][data-state=loaded]')
  await expect
    .poll(() => stateOf(site).things.gun['gun-1']?.entries.at(-1))
    .toMatchObject({
      cup: 'GGNDM2XV',
      data: { needleMm: 1.3, inletKpa: 180, turns: 0.25 },
    })
  const gun = page.locator('[data-gun="gun-1"]')
  await gun.locator('[data-fold=clean] > summary').tap()
  await gun.locator('[data-cautions~=isocyanate]').waitFor()
  await gun.locator('[data-pick=solvent] [data-value="gun solvent"]').tap()
  await gun.locator('[data-act=CleanGun]').tap()
  await page.waitForSelector('[data-gun="gun-1"][data-state=clean]')
  await expect
    .poll(() => stateOf(site).things.gun['gun-1']?.entries.at(-1)?.data)
    .toMatchObject({
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
  const last = () => stateOf(site).things.cup.DSCDM2XV?.entries.at(-1)?.data
  await expect.poll(last, SOON).toEqual({ how: 'discarded', leftMl: 120 })
  await page.mouse.up()
  await close()
})

test('a new label is offered where the printed one names a time that has become too late', async () => {
  const own = await openShop()
  await own.send('ReadClimate', { zone: 'bench', airC: 34, rh: 0.5 })
  const { page, close } = await openPage(browser, own, { path: `/#/cups/${CUP}`, ...TOUCH })
  await page.tap('[data-act=newLabel]')
  await page.tap('[data-act=isOnCup]')
  await page.waitForSelector('.cup-label h2 >> text=COPY 1')
  await page.waitForSelector('[data-act=newLabel]', { state: 'detached' })
  const [first, second] = cupIn(own, CUP).prints
  expect(second?.untilMs ?? 0).toBeLessThan(first?.untilMs ?? 0)
  await close()
  await own.stop()
})

test('what is left in a cup follows from the coats, marked estimated, until somebody weighs it', async () => {
  const cup = 'KEFT2345'
  await site.send('MixCup', { cup, sheet: CLEAR.sheet, totalMl: 200, activator: 'standard' })
  const { page, close } = await openPage(browser, site, { path: '/#/cups', ...TOUCH })
  const left = `[data-cup="${cup}"] [data-left]`
  await page.waitForSelector(`${left} >> text=200 mL`)
  const route = [{ stage: 'clear', sheet: CLEAR.sheet }]
  const about = { job: JOB, name: 'Hood', operation: 'repair', route }
  await site.send('AddPanel', { ...about, panel: 'HHHH2345', areaM2: 1 })
  await site.send('StartCoat', { panels: ['HHHH2345'], cup })
  await site.send('FinishCoat', { panels: ['HHHH2345'] })
  // 1 m² × 25 µm / (0.45 × 0.65) = 85.5 mL.
  await page.waitForSelector(`${left} >> text=about 115 mL left (estimated)`)
  await page.tap(`[data-cup="${cup}"] .cup-row`)
  await shot(page, 'cup-left')
  await page.tap(`[data-cup="${cup}"] [data-act=left]`)
  await page.waitForSelector('[data-field=leftMl] input')
  await expect.poll(() => page.inputValue('[data-field=leftMl] input')).toBe('115')
  await page.fill('[data-field=leftMl] input', '60')
  await page.tap('[data-act=MeasureCup]')
  await page.waitForSelector(`${left} >> text=/^60 mL$/`)
  await close()
  // The next coat takes more than that: said before the start, and nothing is refused.
})
