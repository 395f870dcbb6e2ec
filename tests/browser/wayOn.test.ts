import { afterEach, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { lane, waitsFor } from './onScreen.ts'

/** No dead end: a step without a way on is named when its route is made, and where the panel stands. */

const START = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const JOB = 'VANREAR2'
const PANEL = 'REARQTR2'
const CUP = 'K7QDM2XV'

/** What the log will hold: it comes when it comes. */
const SOON = { timeout: 60_000 }

const browser = browserForTests(SOUND)
let site: ShopSite
afterEach(() => site.stop())

async function shop(): Promise<void> {
  site = await serveShop(START)
  await site.send('SaveSheet', { sheet: BASE })
  await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  await site.send('OpenJob', { job: JOB, title: 'Delivery van', vehicle: 'Van' })
}

test('a cure that the sheet has no way for is named while the route is made', async () => {
  await shop()
  const { page, close } = await openPage(browser, site, { path: `/#/jobs/${JOB}/panels` })
  await page.click('[data-list=hood]')
  await page.waitForSelector(
    '.chosen [data-no-way=noCure] >> text=The sheet of Solvent base, ready to spray has no cure',
  )
  await shot(page, 'no-way-route')
  // Without the step the route has a way to its end.
  await page.click('[data-act=changeRoute]')
  await page.click('.step-row:has-text("cure")')
  await page.click('[data-act=dropStep]')
  await page.waitForSelector('[data-no-way]', { state: 'detached' })
  await close()
})

test('a panel that stands there says so, and leads to where the step is skipped', async () => {
  await shop()
  const route = [
    { stage: 'base', sheet: BASE.sheet },
    { stage: 'cure', sheet: BASE.sheet },
  ]
  await site.send('AddPanel', {
    job: JOB,
    panel: PANEL,
    name: 'Rear quarter',
    operation: 'repair',
    route,
  })
  await site.send('MixCup', { cup: CUP, sheet: BASE.sheet, totalMl: 300 })
  for (let coat = 0; coat < 2; coat += 1) {
    await site.send('StartCoat', { panels: [PANEL], cup: CUP })
    site.clock.move(2 * MINUTE)
    await site.send('FinishCoat', { panels: [PANEL] })
    site.clock.move(20 * MINUTE)
  }
  const { page, close } = await openPage(browser, site)
  await waitsFor(page, PANEL, 'noCure')
  await expect.poll(() => page.textContent(`${lane(PANEL)} .chip`)).toBe('NO CUREon its sheet')
  await page.click(lane(PANEL))
  await page.waitForSelector('.act-sheet [data-no-way=noCure]')
  await shot(page, 'no-way-lane')
  await page.click('.act-sheet [data-no-way] a')
  await page.click('[data-fold=skip] > summary')
  await page.click('[data-fold=skip] button >> text=unknown')
  await expect
    .poll(() => site.shops.ownWriter.state().things.panel[PANEL]?.context.status)
    .toEqual(['done', 'skipped'])
  await close()
})

test.each(['wall', 'phone'] as const)(
  'a route without a product is said on the lane, which leads to where one is chosen: %s',
  async (size) => {
    await shop()
    const hood = { job: JOB, panel: PANEL, name: 'Hood', operation: 'repair' }
    await site.send('AddPanel', { ...hood, route: [{ stage: 'base', sheet: BASE.sheet }] })
    await site.send('RetireSheet', { sheet: BASE.sheet })
    const other = { ...BASE, sheet: 'base-other', name: 'Other base' }
    await site.send('SaveSheet', { sheet: other })
    const { page, close } = await openPage(browser, site, { size })
    await page.waitForSelector(`${lane(PANEL)} >> text=stops at step 1`)
    await expect
      .poll(() => page.textContent(`${lane(PANEL)} .chip`))
      .toBe('NO SHEETchoose the product')
    await page.click(lane(PANEL))
    await page.waitForSelector(
      '.act-sheet [data-no-way=noSheet] >> text=the sheet of Solvent base, ready to spray is out of use',
    )
    // Nothing is mixed of what is out of use.
    expect(await page.locator('.act-sheet a[href^="#/bench"]').count()).toBe(0)
    await shot(page, `no-way-no-sheet-${size}`)
    await page.click('.act-sheet [data-act=changeStep]')
    await page.click('[data-fold=route] .step-row')
    await page.click('[data-fold=route] [data-value=base-other]')
    await page.click('[data-act=SetRoute]')
    await expect
      .poll(() => site.shops.ownWriter.state().things.panel[PANEL]?.context.route[0]?.sheet)
      .toBe('base-other')
    await page.goto(`${site.url}/#/wall`)
    await page.click(lane(PANEL))
    await page.waitForSelector('.act-sheet >> text=Other base')
    expect(await page.locator('[data-no-way]').count()).toBe(0)
    await close()
  },
)

test('the only person in the shop is taken without being asked, until there is another', async () => {
  site = await serveShop(START)
  await site.send('AddPerson', { person: 'painter-1', name: 'Painter One', role: 'painter' })
  const { page, close } = await openPage(browser, site, { path: '/#/jobs/new' })
  await page.waitForSelector('.who-button >> text=Painter One')
  await page.click('[data-act=OpenJob]')
  const by = () =>
    Object.values(site.shops.ownWriter.state().things.job).map((job) => job.entries[0]?.by)
  await expect.poll(by, SOON).toEqual(['painter-1'])
  // The page goes to the new job by itself, and not after it was led elsewhere.
  await page.waitForFunction(() => window.location.hash !== '#/jobs/new')
  await site.send('AddPerson', { person: 'lead-2', name: 'Lead Two', role: 'lead' })
  await page.waitForSelector('.who-button >> text=/^(?!Painter One)/')
  await page.goto(`${site.url}/#/jobs/new`)
  await page.click('[data-act=OpenJob]')
  await expect.poll(by, SOON).toEqual(['painter-1', null])
  await close()
})

test('a flash before heat that nobody typed is asked for from the lane; "none" is a choice', async () => {
  await shop()
  const bake = { tempC: 60, minutes: 30, basis: 'part' }
  const sheet = { ...CLEAR, coats: { least: 1, planned: 1, most: 1 }, cure: { bake: [bake] } }
  await site.send('SaveSheet', { sheet })
  const route = [{ stage: 'clear', sheet: CLEAR.sheet }, { stage: 'cure' }]
  const about = { job: JOB, name: 'Rear quarter', operation: 'repair', route }
  await site.send('AddPanel', { ...about, panel: PANEL })
  await site.send('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 300 })
  await site.send('StartCoat', { panels: [PANEL], cup: CUP })
  site.clock.move(2 * MINUTE)
  await site.send('FinishCoat', { panels: [PANEL] })
  site.clock.move(5 * MINUTE)
  const { page, close } = await openPage(browser, site, { expected: /status of 409/ })
  await waitsFor(page, PANEL, 'heatAsk')
  await expect
    .poll(() => page.textContent(`${lane(PANEL)} .chip`))
    .toBe('NOT KNOWNflash before heat')
  await page.click(lane(PANEL))
  await page.waitForSelector(
    '.act-sheet [data-no-way=heatFlash] >> text=The sheet of 2K clear, 2:1 does not say',
  )
  await shot(page, 'no-way-heat-flash')
  // Pressed all the same it is refused, and the way out stands there.
  await page.click('.act-sheet [data-act=StartCure]')
  await page.waitForSelector('.act-sheet .refusal >> text=Flash before heat is not known')
  await page.click('.act-sheet [data-act=heatFlash]')
  // Saved empty, it is asked for: nothing is not zero.
  await page.click('[data-form="heat.clear-2k"] [data-act=SaveSheet]')
  await page.waitForSelector('[data-form="heat.clear-2k"] .sentence')
  await shot(page, 'heat-flash-form')
  await page.click('[data-field="bake.0.minutes"] input')
  for (const key of ['1', '0']) await page.click(`.keypad [data-key="${key}"]`)
  await page.click('[data-form="heat.clear-2k"] [data-act=SaveSheet]')
  await waitsFor(page, PANEL, 'heatFlash')
  const saved = async () => {
    const { sheets } = (await (await fetch(`${site.url}/api/sheets`)).json()) as {
      sheets: { cure: { bake?: { flashBefore: unknown }[] } }[]
    }
    return sheets.flatMap(({ cure }) => cure.bake ?? []).map(({ flashBefore }) => flashBefore)
  }
  await expect.poll(saved).toEqual([[{ atC: 20, minutes: 10 }]])
  await close()
  await site.send('SaveSheet', { sheet })
  const again = await openPage(browser, site, { path: `/#/setup/sheets/${CLEAR.sheet}` })
  await again.page.waitForSelector('[data-fact="cure.bake.0.flashBefore"] >> text=NOT KNOWN')
  await shot(again.page, 'sheet-not-known')
  await again.page.click('[data-missing=heatFlash] [data-act=heatFlash]')
  await again.page.click('[data-form="heat.clear-2k"] [data-value=none]')
  await again.page.click('[data-form="heat.clear-2k"] [data-act=SaveSheet]')
  await again.page.waitForSelector('[data-fact="cure.bake.0.flashBefore"] >> text=none')
  await expect.poll(saved).toEqual(['none'])
  await again.close()
})
