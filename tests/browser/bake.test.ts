import { afterEach, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { CLEAR } from '../support/sheets.ts'
import { lane, overflowPx, waitsFor } from './onScreen.ts'

/** A bake from the Wall: what it is set to, what the vehicle takes, at temperature, and cool again. */

const START = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const JOB = 'VANREAR2'
const PANEL = 'REARQTR2'
const CUP = 'K7QDM2XV'

const browser = browserForTests(SOUND)
let site: ShopSite
afterEach(() => site.stop())

async function cleared(): Promise<void> {
  site = await serveShop(START)
  await site.send('SaveSheet', { sheet: CLEAR })
  await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  await site.send('OpenJob', { job: JOB, title: 'Delivery van', vehicle: 'Van' })
  const route = [{ stage: 'clear', sheet: CLEAR.sheet }, { stage: 'cure' }, { stage: 'polish' }]
  const about = { job: JOB, name: 'Rear quarter', operation: 'repair', route }
  await site.send('AddPanel', { ...about, panel: PANEL })
  await site.send('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 300 })
  for (let coat = 0; coat < 2; coat += 1) {
    await site.send('StartCoat', { panels: [PANEL], cup: CUP })
    site.clock.move(2 * MINUTE)
    await site.send('FinishCoat', { panels: [PANEL] })
    site.clock.move(10 * MINUTE)
  }
  await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
}
const panel = () => site.shops.ownWriter.state().things.panel[PANEL]?.context

test('a bake is set, refused above what the vehicle takes, measured by one touch, and cools', async () => {
  await cleared()
  await site.send('EmptyCup', { cup: CUP, how: 'used' })
  const { page, close } = await openPage(browser, site, { expected: /status of 409/ })
  await waitsFor(page, PANEL, 'heat')
  await page.click(lane(PANEL))
  await page.waitForSelector('[data-limit=unasked] >> text=How warm may this vehicle become?')
  // It comes before the bake, and no key is the expected one until it is answered.
  expect(await page.$('.act-sheet button.main')).toBe(null)
  const top = async (of: string) => (await page.locator(of).boundingBox())?.y ?? 0
  expect(await top('[data-act=limit-none]')).toBeLessThan(await top('.act-sheet [data-key=bake]'))
  await shot(page, 'bake-limit-asked')
  await page.click('[data-act=limit-60]')
  await page.waitForSelector('[data-limit="60"] >> text=takes 60 °C at most')
  await page.waitForSelector('.act-sheet button.main[data-key=bake]')
  await page.click('.act-sheet [data-key=bake]')
  await page.waitForSelector('.act-sheet .refusal >> text=Delivery van takes 60')
  await shot(page, 'bake-refused')
  await page.click('.act-sheet [data-key=bake-limit]')
  await expect.poll(() => panel()?.cure?.setC).toBe(60)
  await page.click(lane(PANEL))
  await page.waitForSelector('.act-sheet [data-key=at] >> text=PART AT 60 °C: 30 MIN')
  await shot(page, 'bake-part-at')
  await page.click('.act-sheet [data-key=at]')
  await expect.poll(() => panel()?.cure?.parts.length).toBe(1)
  await page.waitForSelector(`${lane(PANEL)} .chip >> text=of cure left`)
  await shot(page, 'bake-curing')
  site.clock.move(30 * MINUTE)
  await waitsFor(page, PANEL, 'cureEnd')
  await page.click(lane(PANEL))
  await page.click('.act-sheet [data-key=end]')
  await page.waitForSelector(`${lane(PANEL)} .chip >> text=until cool`)
  await shot(page, 'bake-cooling')
  await close()
})

test.each(['wall', 'phone'] as const)(
  'what a thermometer says of the part is entered with gloves on, in the unit of the shop: %s',
  async (size) => {
    await cleared()
    await site.send('ChangeSettings', { units: { temperature: 'F' } })
    await site.send('EmptyCup', { cup: CUP, how: 'used' })
    await site.send('SetHeatLimit', { job: JOB, maxC: null })
    await site.send('StartCure', { panels: [PANEL], mode: 'bake', setC: 60 })
    // Its air is no longer known, and a bake that goes by its part does not ask for it.
    site.clock.move(35 * MINUTE)
    const { page, close } = await openPage(browser, site, { size })
    await page.waitForSelector(`${lane(PANEL)} .chip >> text=UNMEASURED`)
    const word = page.locator(`${lane(PANEL)} .chip .big`)
    const lines = await word.evaluate(
      (box) =>
        box.getBoundingClientRect().height / Number.parseFloat(getComputedStyle(box).fontSize),
    )
    expect(lines).toBeLessThan(1.5)
    await page.click(lane(PANEL))
    await page.waitForSelector('.act-sheet .part-measured')
    expect(await page.locator('.act-sheet [data-act=readAir]').count()).toBe(0)
    expect(await overflowPx(page)).toBe(0)
    await shot(page, `bake-part-measured-${size}`)
    // The first touch brings what was to be reached, 60 °C; each of the next is a degree.
    await page.click('.part-measured [aria-label$="+"]')
    expect(await page.inputValue('.part-measured input')).toBe('140')
    await page.click('.part-measured [aria-label$="+"]')
    await page.click('.part-measured [data-act=ReadPart]')
    await expect.poll(() => panel()?.parts.at(-1)?.partC).toBeCloseTo((141 - 32) / 1.8, 2)
    await page.waitForSelector(`${lane(PANEL)} .chip >> text=of cure left`)
    await close()
  },
)

test('what stands in the heat with it fits a phone, in Spanish too', async () => {
  await cleared()
  await site.send('ChangeSettings', { language: 'es' })
  await site.send('LoadGun', { gun: 'gun-1', cup: CUP, zone: 'booth' })
  const { page, close } = await openPage(browser, site, { size: 'phone' })
  await waitsFor(page, PANEL, 'heat')
  await page.click(lane(PANEL))
  await page.waitForSelector('[data-heat-around] >> text=su tiempo corre más rápido')
  await shot(page, 'bake-limit-phone')
  await page.click('[data-act=limit-none]')
  await page.waitForSelector('[data-limit=none]')
  expect(await overflowPx(page)).toBe(0)
  await shot(page, 'bake-phone')
  await close()
})
