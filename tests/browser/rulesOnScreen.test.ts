import { afterEach, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { CLEAR } from '../support/sheets.ts'
import { lane, overflowPx } from './onScreen.ts'

/** What the rules want on the screen word by word, where no other test looks for it. */

const START = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const JOB = 'VANREAR2'
const [PANEL, SECOND] = ['REARQTR2', 'REARDDR2']
const [CUP, FRESH] = ['K7QDM2XV', 'FRESHCP2']

const browser = browserForTests(SOUND)
let site: ShopSite
afterEach(() => site.stop())

async function van(panels: readonly string[] = [PANEL]): Promise<void> {
  site = await serveShop(START)
  await site.send('SaveSheet', { sheet: CLEAR })
  await site.send('OpenJob', { job: JOB, title: 'Delivery van', vehicle: 'Van' })
  for (const [i, panel] of panels.entries()) {
    const about = { job: JOB, panel, name: `Panel ${i + 1}`, operation: 'repair' }
    const route = [{ stage: 'clear', sheet: CLEAR.sheet }, { stage: 'cure' }]
    await site.send('AddPanel', { ...about, route })
  }
  await site.send('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 500 })
}
const state = () => site.shops.ownWriter.state()

test('the range of the day before is offered again, and is said with two touches', async () => {
  await van()
  await site.send('EmptyCup', { cup: CUP, how: 'used' })
  await site.send('SetDayRange', { zone: 'booth', minC: 15, maxC: 22 })
  site.clock.move(24 * 60 * MINUTE)
  const { page, close } = await openPage(browser, site, { path: '/#/air/booth', size: 'phone' })
  const form = page.locator('[data-part=range]')
  await form.waitFor()
  await shot(page, 'day-range-again')
  // One touch led here; the other says that it is as yesterday.
  await form.locator('button[type=submit]').click()
  await expect.poll(() => state().things.zone.booth?.context.ranges?.length).toBe(2)
  const [before, again] = state().things.zone.booth?.context.ranges ?? []
  expect([again?.minC, again?.maxC]).toEqual([before?.minC, before?.maxC])
  await close()
})

test('before a gun is topped up from another cup it is said which of the two times it keeps', async () => {
  await van()
  await site.send('ChangeSettings', { timeZone: 'Etc/UTC' })
  await site.send('SaveGun', { gun: 'gun-1', name: 'Clear gun' })
  await site.send('LoadGun', { gun: 'gun-1', cup: CUP })
  site.clock.move(20 * MINUTE)
  await site.send('MixCup', { cup: FRESH, sheet: CLEAR.sheet, totalMl: 500 })
  const { page, close } = await openPage(browser, site, { path: `/#/cups/${FRESH}/load` })
  await page.click('[data-field=gun] [data-value="gun-1"], [data-pick=gun] [data-value="gun-1"]')
  await page.waitForSelector('text=Gun stays 09:00, not 09:20. Rinse it for 09:20.')
  // Where it is sprayed is touched, not typed.
  await page.waitForSelector('text=Sprayed in; where its panels wait, unless told')
  expect(await page.locator('[name=zone]').count()).toBe(0)
  await shot(page, 'gun-stays')
  await page.click('[data-act=RinseGun]')
  await expect.poll(() => state().things.gun['gun-1']?.value).toBe('rinsed')
  await close()
})

test('a pass that is refused for one panel offers START 1 OF 2, and starts the other', async () => {
  await van([PANEL, SECOND])
  await site.send('StartCoat', { panels: [SECOND], cup: CUP })
  site.clock.move(2 * MINUTE)
  await site.send('FinishCoat', { panels: [SECOND] })
  await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  const { page, close } = await openPage(browser, site, { expected: /status of 409/ })
  for (const panel of [PANEL, SECOND]) await page.waitForSelector(lane(panel))
  await page.click('[data-act=several]')
  for (const panel of [PANEL, SECOND]) await page.click(lane(panel))
  await page.click('[data-act=StartCoat].main')
  await page.waitForSelector('[data-act=startOthers] >> text=START 1 OF 2')
  await page.waitForSelector('.refusal >> text=Panel 2')
  await shot(page, 'start-others')
  await page.click('[data-act=startOthers]')
  await expect.poll(() => state().things.panel[PANEL]?.context.open).toBeTruthy()
  expect(state().things.panel[SECOND]?.context.open).toBeNull()
  await close()
})

test.each(['wall', 'phone'] as const)(
  'the mask line says KEEP AIR-FED MASK ON and that no clearance was set',
  async (size) => {
    await van()
    await site.send('SaveZone', { zone: 'booth', name: 'Booth' })
    await site.send('FinishCoat', { panels: [PANEL], cup: CUP })
    const { page, close } = await openPage(browser, site, { size })
    await page.waitForSelector(
      '[data-breathing=booth] >> text=Booth: KEEP AIR-FED MASK ON. CLEARANCE NOT SET.',
    )
    expect(await overflowPx(page)).toBe(0)
    await shot(page, `mask-not-set-${size}`)
    await close()
  },
)

test.each([
  ['wall', 'en', 'Only a lead may go on, under their own name.', ['START BAKE 60 °C', 'Who?']],
  [
    'phone',
    'es',
    'Solo un jefe puede continuar, con su propio nombre.',
    ['HORNEAR A 60 °C', '¿Quién?'],
  ],
] as const)(
  'above what a vehicle takes a painter is told that only a lead goes on: %s, %s',
  async (size, language, text, wanted) => {
    await van()
    await site.send('ChangeSettings', { language })
    for (const [person, role] of [
      ['ana', 'painter'],
      ['ben', 'lead'],
    ])
      await site.send('AddPerson', { person, name: person === 'ana' ? 'Ana' : 'Ben', role })
    site.clock.move(MINUTE)
    for (let n = 0; n < 2; n += 1) {
      await site.send('StartCoat', { panels: [PANEL], cup: CUP }, { by: 'ana' })
      site.clock.move(2 * MINUTE)
      await site.send('FinishCoat', { panels: [PANEL] }, { by: 'ana' })
      site.clock.move(12 * MINUTE)
    }
    await site.send('EmptyCup', { cup: CUP, how: 'used' })
    await site.send('SetHeatLimit', { job: JOB, maxC: 60 })
    const { page, close } = await openPage(browser, site, { size, expected: /status of 409/ })
    await page.click(lane(PANEL))
    await page.click('.act-sheet [data-key=bake]')
    await page.waitForSelector(`.act-sheet .refusal >> text=${text}`)
    expect(await overflowPx(page)).toBe(0)
    await shot(page, `bake-needs-lead-${size}`)
    expect(await page.locator('.act-sheet .refusal details').count()).toBe(0)
    await page.waitForSelector('.act-sheet .refusal [data-act=who]')
    // What leads out comes first, who may override it second.
    const keys = await page.locator('.act-sheet .refusal button').allInnerTexts()
    expect(keys).toEqual(wanted)
    await close()
  },
)
