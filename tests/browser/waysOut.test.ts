import type { Page } from 'playwright-core'
import { afterEach, expect, test } from 'vitest'
import { openPage, type Size, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE, CLEAR, SEALER } from '../support/sheets.ts'
import { lane, overflowPx } from './onScreen.ts'

/** What a refusal's first key does, touched on the Wall and on the page of a panel. */

const START = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const JOB = 'VANREAR2'
const [PANEL, BESIDE] = ['REARQTR2', 'SDEDR222']
const [CUP, FRESH] = ['K7QDM2XV', 'M3TDM2XV']
const REFUSED = { expected: /status of 409/, hasTouch: true } as const
const SOON = { timeout: 60_000 }
const WALLS = [
  ['wall', 'en'],
  ['phone', 'es'],
] as const

const browser = browserForTests()
let site: ShopSite
afterEach(() => site.stop())

const state = () => site.shops.ownWriter.state()
const panel = (id = PANEL) => state().things.panel[id]?.context
const PRIMER = { ...SEALER, sheet: 'primer-2k', name: '2K primer, 4:1', stage: 'primer' } as const
const COATS = { least: 1, planned: 1, most: 2 }

/** A van with two panels of one route, and a cup of what is sprayed first. */
async function van(route: readonly object[], sheet: { sheet: string }, language = 'en') {
  site = await serveShop(START)
  await site.send('ChangeSettings', { language })
  for (const one of [BASE, CLEAR, PRIMER]) await site.send('SaveSheet', { sheet: one })
  for (const zone of ['booth', 'bench'])
    await site.send('ReadClimate', {
      zone,
      airC: 20,
      rh: 0.5,
      ...(zone === 'booth' ? { surfaceC: 20 } : {}),
    })
  const colours = [{ key: 'silver', code: 'S-1', kind: 'metallic' }]
  await site.send('OpenJob', { job: JOB, title: 'Delivery van', colours })
  for (const [id, name] of [
    [PANEL, 'Rear quarter'],
    [BESIDE, 'Sliding door'],
  ])
    await site.send('AddPanel', {
      job: JOB,
      panel: id,
      name,
      operation: 'repair',
      areaM2: 1,
      route,
    })
  await site.send('MixCup', { cup: CUP, sheet: sheet.sheet, totalMl: 300, job: JOB })
}
const clearRoute = [{ stage: 'clear', sheet: CLEAR.sheet, coats: COATS }, { stage: 'cure' }]
const clearVan = (language = 'en') => van(clearRoute, CLEAR, language)
async function coat(id: string, cup = CUP): Promise<void> {
  await site.send('StartCoat', { panels: [id], cup })
  site.clock.move(2 * MINUTE)
  await site.send('FinishCoat', { panels: [id] })
}

const onWall = (size: Size) => openPage(browser, site, { size, ...REFUSED })
const press = (page: Page, key: string) => page.tap(`.act-sheet [data-key^="${key}"]`)
/** The keys of a refusal, in the order in which they are drawn: the way out before the override. */
const refusalKeys = (page: Page) =>
  page
    .locator('.refusal button, .refusal a, .refusal summary')
    .evaluateAll((all) => all.map((e) => e.getAttribute('data-act') ?? e.tagName))

test.each(WALLS)(
  'a gun with something else in it is cleaned from the refusal: %s, %s',
  async (size, language) => {
    await clearVan(language)
    await site.send('MixCup', { cup: FRESH, sheet: BASE.sheet, totalMl: 100 })
    await site.send('LoadGun', { gun: 'gun-1', cup: FRESH })
    await site.send('LoadGun', { gun: 'gun-1', cup: CUP, override: { reason: 'EQUIPMENT' } })
    const { page, close } = await onWall(size)
    await page.tap(lane(PANEL))
    await press(page, 'start-')
    await page.waitForSelector('.refusal [data-act=CleanGun]')
    expect((await refusalKeys(page)).slice(0, 2)).toEqual(['CleanGun', 'SUMMARY'])
    expect(await overflowPx(page)).toBe(0)
    await shot(page, `way-gun-${size}`)
    await page.tap('.refusal [data-act=CleanGun]')
    await expect.poll(() => state().things.gun['gun-1']?.value, SOON).toBe('clean')
    await press(page, 'start-')
    await expect.poll(() => panel()?.open?.cups, SOON).toEqual([CUP])
    await close()
  },
)

test.each(WALLS)('heat beside it is ended from the refusal: %s, %s', async (size, language) => {
  await clearVan(language)
  await coat(BESIDE)
  site.clock.move(15 * MINUTE)
  await site.send('StartCure', { panels: [BESIDE], mode: 'bake' })
  const { page, close } = await onWall(size)
  await page.tap(lane(PANEL))
  await press(page, 'start-')
  await page.waitForSelector('.refusal [data-act=EndCure]')
  expect(await overflowPx(page)).toBe(0)
  await shot(page, `way-heat-${size}`)
  await page.tap('.refusal [data-act=EndCure]')
  await expect.poll(() => panel(BESIDE)?.cure, SOON).toBeNull()
  await close()
})

test('air that forbids leads to a reading, and what was poured wrong to the Bench', async () => {
  await clearVan()
  await site.send('ReadClimate', { zone: 'booth', airC: 9, rh: 0.5, surfaceC: 9 })
  const { page, close } = await onWall('wall')
  await page.tap(lane(PANEL))
  await press(page, 'start-')
  await page.waitForSelector('.refusal [data-act=readAir]')
  await shot(page, 'way-air')
  await page.tap('.refusal [data-act=readAir]')
  await page.waitForURL(/#\/air\/booth/)
  await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  await site.send('EmptyCup', { cup: CUP, how: 'discarded' })
  await site.send('MixCup', { cup: FRESH, sheet: CLEAR.sheet, totalMl: 300, pouredG: [200, 60] })
  await page.goto(`${site.url}/`)
  await page.tap(lane(PANEL))
  await press(page, 'start-')
  await page.waitForSelector('.refusal [data-act=pour]')
  await shot(page, 'way-pour')
  await page.tap('.refusal [data-act=pour]')
  await page.waitForURL(new RegExp(`#/cups/${FRESH}/pour`))
  await close()
})

test('a window that is shut is opened by abrading, with the refusal’s own key', async () => {
  await van([{ stage: 'clear', sheet: CLEAR.sheet }], CLEAR)
  await coat(PANEL)
  await site.send('EmptyCup', { cup: CUP, how: 'discarded' })
  site.clock.move(500 * MINUTE)
  await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  await site.send('MixCup', { cup: FRESH, sheet: CLEAR.sheet, totalMl: 300 })
  const { page, close } = await onWall('wall')
  await page.tap(lane(PANEL))
  await press(page, `start-${FRESH}`)
  await page.waitForSelector('.refusal [data-key^=abrade-]')
  await shot(page, 'way-window')
  await page.tap('.refusal [data-key^=abrade-]')
  await expect.poll(() => panel()?.abradedAt, SOON).not.toBeNull()
  await close()
})

test.each(WALLS)(
  'over a tinted coat the plain mix is refused, and its own tint goes on: %s, %s',
  async (size, language) => {
    await van([{ stage: 'base', sheet: BASE.sheet, colour: 'silver' }], BASE, language)
    const of = { sheet: BASE.sheet, totalMl: 300, job: JOB, colour: 'silver' }
    await site.send('MixCup', { ...of, cup: FRESH, tint: 'T1' })
    await site.send('EmptyCup', { cup: CUP, how: 'discarded' })
    await coat(PANEL, FRESH)
    await site.send('MixCup', { ...of, cup: 'P2TDM2XV' })
    site.clock.move(9 * MINUTE)
    const { page, close } = await onWall(size)
    await page.tap(lane(PANEL))
    await press(page, 'start-P2TDM2XV')
    await page.waitForSelector('.refusal a.main')
    expect(await overflowPx(page)).toBe(0)
    await shot(page, `way-tint-${size}`)
    await press(page, `start-${FRESH}`)
    await expect.poll(() => panel()?.open?.cups, SOON).toEqual([FRESH])
    await close()
  },
)

test.each(WALLS)(
  'when primer may be sanded is asked once, and sanding goes on: %s, %s',
  async (size, language) => {
    const route = [{ stage: 'primer', sheet: PRIMER.sheet, coats: COATS }, { stage: 'sand' }]
    await van([...route, ...clearRoute], PRIMER, language)
    await coat(PANEL)
    await site.send('EmptyCup', { cup: CUP, how: 'discarded' })
    site.clock.move(40 * MINUTE)
    const { page, close } = await openPage(browser, site, { size, ...REFUSED })
    await page.tap(lane(PANEL))
    await page.waitForSelector('.act-sheet [data-asks=ready-sand]')
    expect(await overflowPx(page)).toBe(0)
    await shot(page, `ready-asked-${size}`)
    await page.tap('.act-sheet [data-act=ready-60]')
    await page.waitForSelector('.act-sheet [data-asks=ready-sand]', { state: 'detached' })
    await press(page, 'hand-500')
    await page.waitForSelector('.act-sheet .refusal')
    await shot(page, `ready-refused-${size}`)
    site.clock.move(21 * MINUTE)
    // Twice on one key within a moment is one press.
    await press(page, 'hand-800')
    await expect.poll(() => panel()?.status[1], SOON).toBe('done')
    const done = state().things.panel[PANEL]?.entries.at(-1)
    expect([done?.type, done?.notJudged]).toEqual(['PrepStepDone', undefined])
    // What was said once stands on the sheet's own page.
    await page.goto(`${site.url}/#/setup/sheets/${PRIMER.sheet}`)
    await page.waitForSelector('[data-own=sand] >> text=60 min / 20')
    expect(await overflowPx(page)).toBe(0)
    await page.locator('[data-own=sand]').scrollIntoViewIfNeeded()
    await shot(page, `ready-own-${size}`)
    await close()
  },
)

test.each(WALLS)(
  'on the page of a panel a coat beside its bake is finished from the refusal: %s, %s',
  async (size, language) => {
    await clearVan(language)
    await coat(PANEL)
    site.clock.move(15 * MINUTE)
    await site.send('StartCoat', { panels: [BESIDE], cup: CUP })
    const { page, close } = await openPage(browser, site, {
      ...{ size, path: `/#/jobs/${JOB}/panel/${PANEL}` },
      ...REFUSED,
    })
    await page.tap('[data-cure=bake]')
    await page.waitForSelector('.refusal [data-act=FinishCoat]')
    expect(await overflowPx(page)).toBe(0)
    await shot(page, `way-panel-page-${size}`)
    await page.tap('.refusal [data-act=FinishCoat]')
    await expect.poll(() => panel(BESIDE)?.coats.length, SOON).toBe(1)
    await close()
  },
)

test.each(WALLS)(
  'what is left in a gun goes back into a cup, which takes its time: %s, %s',
  async (size, language) => {
    await clearVan(language)
    await site.send('LoadGun', { gun: 'gun-1', cup: CUP })
    site.clock.move(20 * MINUTE)
    await site.send('MixCup', { cup: FRESH, sheet: CLEAR.sheet, totalMl: 200 })
    const { page, close } = await openPage(browser, site, { size, path: '/#/cups', hasTouch: true })
    await page.waitForSelector('[data-gun=gun-1] [data-act=PourBack] >> text=M3TD')
    expect(await overflowPx(page)).toBe(0)
    await page.locator('[data-gun=gun-1]').scrollIntoViewIfNeeded()
    await shot(page, `pour-back-${size}`)
    await page.tap('[data-gun=gun-1] [data-act=PourBack] >> text=M3TD')
    await expect.poll(() => state().things.cup[FRESH]?.context.clocks.length, SOON).toBe(2)
    await close()
  },
)

test.each(WALLS)(
  'one cup is mixed for two jobs of one code, and one START sprays both: %s, %s',
  async (size, language) => {
    const route = [{ stage: 'base', sheet: BASE.sheet, colour: 'silver' }]
    await van(route, BASE, language)
    await site.send('EmptyCup', { cup: CUP, how: 'discarded' })
    await site.send('RemovePanel', { panel: BESIDE })
    const [car, hood] = ['CARRAD22', 'HQQD2222']
    const colours = [{ key: 'roof', code: 'S-1', kind: 'metallic' }]
    await site.send('OpenJob', { job: car, title: 'Estate car', colours })
    const other = { job: car, panel: hood, name: 'Hood', operation: 'repair', areaM2: 1.4 }
    await site.send('AddPanel', { ...other, route: [{ ...route[0], colour: 'roof' }] })
    const path = `/#/bench/${BASE.sheet}/${JOB}`
    const { page, close } = await openPage(browser, site, { size, path, hasTouch: true })
    await page.tap('[data-act=next]')
    await page.tap(`[data-pick=panels] [data-value="${hood}"]`)
    await page.waitForSelector(`[data-pick=panels] [data-value="${hood}"][aria-pressed=true]`)
    expect(await overflowPx(page)).toBe(0)
    await shot(page, `two-jobs-bench-${size}`)
    await page.tap('[data-step=pour]')
    await page.waitForSelector('[data-next="0"]')
    await page.fill('[name=reading]', '250')
    await page.keyboard.press('Enter')
    await page.waitForSelector('[data-next="1"]')
    await page.tap('[data-act=asShown]')
    await page.tap('[data-act=MixCup]')
    await page.waitForSelector('.cup-label')
    const cup = (await page.getAttribute('.cup-label', 'data-cup')) ?? ''
    const mixed = () => state().things.cup[cup]?.context
    await expect.poll(() => [mixed()?.job, mixed()?.alsoFor], SOON).toEqual([JOB, [car]])
    await shot(page, `two-jobs-label-${size}`)
    await page.goto(`${site.url}/#/`)
    for (const id of [PANEL, hood]) {
      await page.tap(lane(id))
      await page.waitForSelector(`.act-sheet [data-key="start-${cup}"]`)
      await shot(page, `two-jobs-lane-${id === hood ? 'other' : 'own'}-${size}`)
      await press(page, `start-${cup}`)
      await expect.poll(() => panel(id)?.open?.cups, SOON).toEqual([cup])
    }
    await close()
  },
)
