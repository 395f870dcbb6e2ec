import { afterEach, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE } from '../support/sheets.ts'
import { lane, waitsFor } from './onScreen.ts'

/** No dead end: a step without a way on is named when its route is made, and where the panel stands. */

const START = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const JOB = 'VANREAR2'
const PANEL = 'REARQTR2'
const CUP = 'K7QDM2XV'

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
  await waitsFor(page, PANEL, 'heat')
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

test('the only person in the shop is taken without being asked, until there is another', async () => {
  site = await serveShop(START)
  await site.send('AddPerson', { person: 'painter-1', name: 'Painter One', role: 'painter' })
  const { page, close } = await openPage(browser, site, { path: '/#/jobs/new' })
  await page.waitForSelector('.who-button >> text=Painter One')
  await page.click('[data-act=OpenJob]')
  const by = () =>
    Object.values(site.shops.ownWriter.state().things.job).map((job) => job.entries[0]?.by)
  await expect.poll(by).toEqual(['painter-1'])
  await site.send('AddPerson', { person: 'lead-2', name: 'Lead Two', role: 'lead' })
  await page.waitForSelector('.who-button >> text=/^(?!Painter One)/')
  await page.goto(`${site.url}/#/jobs/new`)
  await page.click('[data-act=OpenJob]')
  await expect.poll(by).toEqual(['painter-1', null])
  await close()
})
