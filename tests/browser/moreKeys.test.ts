import type { Page } from 'playwright-core'
import { afterEach, expect, test } from 'vitest'
import { settingsOf } from '../../machines/shop/settings.ts'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { lane, overflowPx, waitsFor } from './onScreen.ts'

/** Keys that few panels need: a pad, a gauge, a heavy coat, air movers, an additive, a usual route, a purge. */

const START = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const JOB = 'VANREAR2'
const PANEL = 'REARQTR2'
const CUP = 'K7QDM2XV'
const at20 = (minutes: number) => [{ atC: 20, minutes }]

const browser = browserForTests()
let site: ShopSite
afterEach(() => site.stop())

const state = () => site.shops.ownWriter.state()
const panel = () => state().things.panel[PANEL]?.context
const entries = () => state().things.panel[PANEL]?.entries ?? []

/** A van's panel with this route, and a cup of what is sprayed first. */
async function van(sheet: { sheet: string }, route: readonly object[], language = 'en') {
  site = await serveShop(START)
  await site.send('ChangeSettings', { language })
  await site.send('SaveSheet', { sheet })
  await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  await site.send('ReadClimate', { zone: 'bench', airC: 20, rh: 0.5 })
  await site.send('OpenJob', { job: JOB, title: 'Delivery van', vehicle: 'Van' })
  const about = { job: JOB, name: 'Rear quarter', operation: 'repair', areaM2: 0.8 }
  await site.send('AddPanel', { ...about, panel: PANEL, route })
  await site.send('MixCup', { cup: CUP, sheet: sheet.sheet, totalMl: 300 })
}

/** What was pressed there before closes the sheet when it was taken. */
async function openSheet(page: Page): Promise<void> {
  await page.waitForSelector('.act-sheet', { state: 'detached' })
  await page.tap(lane(PANEL))
}

/** Presses a key of the lane's sheet that is folded away. */
async function other(page: Page, key: string): Promise<void> {
  await openSheet(page)
  await pressOther(page, key)
}

async function pressOther(page: Page, key: string): Promise<void> {
  await page.tap(`.act-sheet details.more:has([data-key="${key}"]) > summary`)
  await page.locator(`.act-sheet [data-key="${key}"]`).scrollIntoViewIfNeeded()
  await page.tap(`.act-sheet [data-key="${key}"]`)
}

test.each([
  ['wall', 'en'],
  ['phone', 'es'],
] as const)(
  'a gauge before anything, then a pad, by two touches: %s, %s',
  async (size, language) => {
    await van(CLEAR, [{ stage: 'sand' }, { stage: 'clear', sheet: CLEAR.sheet }], language)
    const { page, close } = await openPage(browser, site, { size, hasTouch: true })
    await page.tap(lane(PANEL))
    await page.tap('.act-sheet [data-more=inspect] > summary')
    await page.waitForSelector('.act-sheet [data-key=gauge-120]')
    await shot(page, `more-gauge-${size}`)
    expect(await overflowPx(page)).toBe(0)
    await page.tap('.act-sheet [data-key=gauge-120]')
    await expect.poll(() => panel()?.films).toMatchObject([{ um: 120, method: 'gauge' }])
    await other(page, 'hand-gray')
    await expect
      .poll(() => entries().at(-1))
      .toMatchObject({
        ...{ type: 'PrepStepDone', data: { pad: 'gray' } },
      })
    await close()
  },
)

test('a heavy coat waits as its sheet says of heavy coats', async () => {
  await van(
    { ...CLEAR, heavyCoat: { flashBetween: at20(25), flashBeforeNext: at20(25) } } as never,
    [{ stage: 'clear', sheet: CLEAR.sheet }],
  )
  const { page, close } = await openPage(browser, site, { hasTouch: true })
  await other(page, 'kind-heavy')
  await waitsFor(page, PANEL, 'spraying')
  site.clock.move(2 * MINUTE)
  await page.tap(lane(PANEL))
  await page.tap('.act-sheet [data-act=FinishCoat]')
  await expect.poll(() => panel()?.coats[0]?.kind).toBe('heavy')
  await waitsFor(page, PANEL, 'flash')
  await expect.poll(() => page.textContent(`${lane(PANEL)} .chip`)).toMatch(/2[45]:\d\d/)
  await close()
})

test('air movers are turned on over a waterborne film, and off again', async () => {
  const sheet = { ...BASE, medium: 'waterborne', rhRef: 0.5 }
  await van(sheet, [{ stage: 'base', sheet: BASE.sheet }])
  await site.send('FinishCoat', { panels: [PANEL], cup: CUP })
  const { page, close } = await openPage(browser, site, { hasTouch: true })
  const movers = () =>
    state().things.zone.booth?.entries.filter(({ type }) => type === 'AirMoversSet') ?? []
  await other(page, 'movers')
  await expect.poll(() => movers().map(({ data }) => data.on)).toEqual([true])
  await openSheet(page)
  await page.waitForSelector('.act-sheet [data-act=InspectCoat], .act-sheet [data-key^=look]')
  await shot(page, 'more-movers')
  await pressOther(page, 'movers')
  await expect.poll(() => movers().map(({ data }) => data.on)).toEqual([true, false])
  await close()
})

test('a purge is begun by one touch, and heat waits for its end', async () => {
  const route = [{ stage: 'clear', sheet: CLEAR.sheet }, { stage: 'cure' }]
  await van(CLEAR, route)
  await site.send('SetHeatLimit', { job: JOB, maxC: 80 })
  for (let coat = 0; coat < 2; coat += 1) {
    await site.send('FinishCoat', { panels: [PANEL], cup: CUP })
    site.clock.move(11 * MINUTE)
  }
  await site.send('EmptyCup', { cup: CUP, how: 'used' })
  const { page, close } = await openPage(browser, site, {
    ...{ hasTouch: true, expected: /status of 409/ },
  })
  await waitsFor(page, PANEL, 'heat')
  await page.tap(lane(PANEL))
  await page.tap('[data-heat-around] [data-act=purge]')
  await expect
    .poll(() => state().things.zone.booth?.entries.some(({ type }) => type === 'ZonePurged'))
    .toBe(true)
  await page.tap('.act-sheet [data-key=bake]')
  await page.waitForSelector('.act-sheet .refusal')
  await shot(page, 'more-purge-refused')
  expect(panel()?.cure ?? null).toBeNull()
  await close()
})

test('an additive is touched on the Bench, and the cup has it', async () => {
  const additives = [{ name: 'accelerator', potLifeFactor: 0.5 }]
  await van({ ...CLEAR, additives } as never, [{ stage: 'clear', sheet: CLEAR.sheet }])
  const { page, close } = await openPage(browser, site, {
    ...{ hasTouch: true, path: `/#/bench/${CLEAR.sheet}` },
  })
  await page.tap('[data-pick=additives] [data-value=accelerator]')
  await page.waitForSelector('[data-pick=additives] [aria-pressed=true]')
  await page.tap('[data-step=pour]')
  await page.tap('[data-act=asShown]')
  await page.waitForSelector('[data-next="1"]')
  await page.fill('[name=reading]', '305')
  await page.keyboard.press('Enter')
  await page.waitForSelector('[data-act=MixCup]:enabled')
  await page.tap('[data-act=MixCup]')
  await page.waitForSelector('.cup-label')
  const mixed = () =>
    Object.values(state().things.cup)
      .flatMap((cup) => cup.entries)
      .findLast(({ type }) => type === 'CupMixed')
  await expect.poll(() => mixed()?.data).toMatchObject({ additives: [{ name: 'accelerator' }] })
  await close()
})

test('a changed route is kept as the shop’s usual one, and the next panel has it', async () => {
  await van(CLEAR, [{ stage: 'clear', sheet: CLEAR.sheet }])
  const { page, close } = await openPage(browser, site, {
    ...{ hasTouch: true, path: `/#/jobs/${JOB}/panels` },
  })
  const chosen = '[data-chosen=hood]'
  await page.tap('[data-list=hood]')
  await page.tap(`${chosen} [data-act=changeRoute]`)
  await page.waitForSelector(`${chosen} .step-item`)
  const before = await page.locator(`${chosen} .step-item`).count()
  await page.locator(`${chosen} .step-item button`).last().tap()
  await page.tap(`${chosen} [data-act=dropStep]`)
  await page.tap(`${chosen} [data-act=keepRoute]`)
  await expect.poll(() => settingsOf(state()).usualRoutes).toHaveLength(1)
  await page.tap('[data-list=roof]')
  await page.tap('[data-chosen=roof] [data-act=changeRoute]')
  await expect.poll(() => page.locator('[data-chosen=roof] .step-item').count()).toBe(before - 1)
  await close()
})
