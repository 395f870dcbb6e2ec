import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { madeContext } from '../support/things.ts'
import { hold, isInstalled, openHash } from './onScreen.ts'

/** The van's job in work and its end: pausing, curing, passing, closing the day and the job. */

const START = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const JOB = 'VANREAR2'
const SIDE = 'RRSDE222'
const DOOR = 'RRDDR222'
const CUP = 'K7QDM2XV'
const BASE_CUP = 'BASE3W9K'

const browser = browserForTests(SOUND)
let site: ShopSite
let page: Page
let closePage: () => Promise<void>

beforeAll(async () => {
  site = await serveShop(START)
  for (const sheet of [BASE, CLEAR]) await site.send('SaveSheet', { sheet })
  await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  await site.send('ChangeSettings', { hours: { opensAt: '07:30', closesAt: '18:00' } })
  await site.send('OpenJob', { job: JOB, title: 'Delivery van', vehicle: 'Van, white' })
  const route = [
    { stage: 'base', sheet: BASE.sheet },
    { stage: 'clear', sheet: CLEAR.sheet },
    { stage: 'cure', sheet: CLEAR.sheet },
    { stage: 'polish' },
  ]
  const panel = { job: JOB, operation: 'repair', areaM2: 1, route }
  await site.send('AddPanel', { ...panel, panel: SIDE, name: 'Right rear side panel' })
  await site.send('AddPanel', { ...panel, panel: DOOR, name: 'Right rear door' })
  const opened = await openPage(browser, site, {
    path: `/#/jobs/${JOB}`,
    hasTouch: true,
    // Refusals and wrong fields are what these tests ask for.
    expected: /status of 4(00|09)/,
  })
  page = opened.page
  closePage = opened.close
})
afterAll(() => site.stop())

const state = () => site.shops.ownWriter.state()
const side = () => madeContext(state(), 'panel', SIDE)
const openJob = (...rest: string[]) => openHash(page, 'jobs', JOB, ...rest)

test('a pause says that it silences prompts, and no alarm', async () => {
  await page.waitForSelector('[data-act=PauseJob] >> text=silences prompts, not alarms')
  await page.tap('[data-act=PauseJob]')
  await page.waitForSelector('.sentence >> text=Flash, windows and pot life keep running')
  // By its key: a second touch within a moment is a slip, and does not count.
  await page.waitForSelector('[data-act=ResumeJob]:enabled')
  await page.press('[data-act=ResumeJob]', 'Enter')
  await page.waitForSelector('[data-act=PauseJob]')
})

/** Two coats of a cup, each left to flash for some minutes. */
const spray = async (cup: string, flashMin: number) => {
  for (let coat = 0; coat < 2; coat += 1) {
    await site.send('StartCoat', { panels: [SIDE], cup })
    site.clock.move(2 * MINUTE)
    await site.send('FinishCoat', { panels: [SIDE] })
    site.clock.move(flashMin * MINUTE)
  }
}

test('a cure is started, the part read in the shop’s unit, ended; the panel is polished and passed', async () => {
  await site.send('MixCup', { cup: BASE_CUP, sheet: BASE.sheet, totalMl: 600 })
  await spray(BASE_CUP, 16)
  await site.send('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 600, activator: 'standard' })
  await spray(CUP, 11)
  // In the heat its time would run out.
  await site.send('MoveCup', { cup: CUP, zone: 'bench' })
  await openJob('panel', SIDE)
  await page.tap('[data-cure=bake]')
  await page.fill('[name=part]', 'hot')
  await page.tap('[data-act=ReadPart]')
  await page.waitForSelector('[role=alert] >> text=/data.partC: "hot" won.t work/')
  await expect.poll(() => page.inputValue('[name=part]')).toBe('hot')
  await page.fill('[name=part]', '61,5')
  await page.press('[name=part]', 'Enter')
  await page.waitForSelector('.cure-part >> text=61.5 °C')
  await page.tap('[data-act=atTemperature]')
  await page.waitForSelector('.cure-part >> text=over at')
  await shot(page, 'jobs-cure-wall')
  site.clock.move(31 * MINUTE)
  await page.tap('[data-act=EndCure]')
  // Hot from the bake it is not polished: it is measured cool first.
  await page.tap('[data-act=PolishPanel]')
  await page.waitForSelector('.refusal >> text=Not ready to polish yet')
  await page.tap('.refusal [data-act=partCool]')
  await expect.poll(() => side().parts.at(-1)?.partC).toBe(35)
  await page.tap('[data-act=PolishPanel]')
  // The panel may show what comes next before its own press is answered: until then keys are off.
  await page.waitForSelector('[data-act=PassPanel]:enabled')
  await page.press('[data-act=PassPanel]', 'Enter')
  await page.waitForSelector('[data-where=passed]')
  expect(side().status).toEqual(['done', 'done', 'done', 'done'])
})

test('closing the day shows what must not be left overnight, each with the button that ends it', async () => {
  await site.send('SaveGun', { gun: 'gun-1', name: 'Clear gun' })
  await site.send('LoadGun', { gun: 'gun-1', cup: CUP })
  await page.tap('text=Jobs')
  await page.tap('text=Close the day')
  await page.waitForSelector('.close-day >> text=07:30')
  await page.waitForSelector(`[data-day="${CUP}"]`)
  // What was done today is counted: two coats of each, two cups, a panel that passed.
  await page.waitForSelector('[data-done] >> text=2 coats of base')
  for (const said of ['2 coats of clear', '600 mL (1 cup)', '1 panel passed'])
    await expect.poll(() => page.textContent('[data-done]')).toContain(said)
  await shot(page, 'jobs-day-wall')
  await page.tap('[data-day="gun-1"] [data-act=CleanGun]')
  await page.waitForSelector('[data-day="gun-1"]', { state: 'detached' })
  await hold(page, `[data-day="${CUP}"] .hold`)
  await page.waitForSelector('.close-day >> text=Nothing is left open.')
  await page.mouse.up()
  await page.waitForSelector('[data-done] >> text=1 cup discarded')
  await expect
    .poll(() => state().things.cup[CUP]?.entries.at(-1))
    .toMatchObject({
      type: 'CupEmptied',
      data: { how: 'discarded' },
    })
})

test('polishing of several panels, one route for several, and a step skipped in own words', async () => {
  const more = ['RRMRR222', 'RRRRF222']
  for (const panel of more)
    await site.send('AddPanel', {
      ...{ job: JOB, panel, name: `Part ${panel}`, operation: 'repair' },
      route: [{ stage: 'polish' }, { stage: 'prep' }],
    })
  await openJob()
  await page.tap('[data-act=polishDone] >> text=(2)')
  await page.waitForSelector('[data-act=polishDone]', { state: 'detached' })
  for (const panel of more)
    await expect.poll(() => madeContext(state(), 'panel', panel).status[0]).toBe('done')
  await openJob('panel', more[0] ?? '')
  await page.tap('summary >> text=Skip')
  await page.tap('[data-act=ownWords]')
  await page.fill('[name=own-words]', 'The part came primed')
  await page.tap('.own-words .main')
  await expect.poll(() => madeContext(state(), 'panel', more[0] ?? '').status[1]).toBe('skipped')

  const fresh = ['AAAAAA22', 'AAAAAA33']
  for (const panel of fresh)
    await site.send('AddPanel', {
      ...{ job: JOB, panel, name: `Trim ${panel}`, operation: 'repair' },
      route: [{ stage: 'prep' }],
    })
  await openJob('panel', fresh[0] ?? '')
  await page.tap('summary >> text=Change the route')
  await page.tap('[data-act=addStep]')
  await page.tap('[data-value=polish]')
  await page.tap(`[data-pick=also] [data-value=${fresh[1]}]`)
  await shot(page, 'jobs-same-route')
  await page.tap('[data-act=SetRoute] >> text=2 PANELS')
  for (const panel of fresh)
    await expect
      .poll(() => madeContext(state(), 'panel', panel).route.map(({ stage }) => stage))
      .toEqual(['prep', 'polish'])
  for (const panel of [...more, ...fresh]) await site.send('RemovePanel', { panel })
})

test('a job with a panel that has not passed is closed with a coded reason only, is reopened, and its history stays', async () => {
  await openJob()
  await page.waitForSelector('[data-act=CloseJob]')
  await page.tap('[data-act=CloseJob] button')
  await page.waitForSelector('.refusal >> text=Not every panel has passed')
  await page.tap('.refusal summary')
  await page.tap('.refusal >> text=unknown')
  await page.waitForSelector('.sentence >> text=Closed')
  await expect.poll(() => state().things.job[JOB]?.value).toBe('closed')
  expect(await page.locator('[data-act=prepDone]').count()).toBe(0)

  await page.tap('text=History')
  await page.waitForSelector('[data-type=JobClosed] >> text=OVERRIDE: unknown')
  await openJob()
  await page.tap('[data-act=ReopenJob]')
  await page.waitForSelector('[data-act=PauseJob]')
  await expect.poll(() => state().things.job[JOB]?.value).toBe('open')
  await closePage()
})

test('with the server away the history of an open job is what this kiosk knows of it, and says so', async () => {
  const opened = await openPage(browser, site, {
    size: 'phone',
    path: `/#/jobs/${JOB}`,
    expected: /Failed to load|ERR_/,
  })
  await opened.page.waitForSelector('[data-panel]')
  await isInstalled(opened.page)
  await site.away()
  await opened.page.click('text=History')
  await opened.page.waitForSelector('[role=status] >> text=what this kiosk knows')
  await opened.page.waitForSelector('[data-type=PanelPassed]')
  await shot(opened.page, 'jobs-history-away-phone')
  await site.back()
  await opened.close()
})

test('in Spanish and in the dark theme the drawing, the list and the history say and show the same', async () => {
  await site.send('ChangeSettings', { language: 'es' })
  const opened = await openPage(browser, site, {
    path: `/#/jobs/${JOB}/panels`,
    colorScheme: 'dark',
  })
  await opened.page.waitForSelector('text=Toque los paneles por pintar')
  // The job keeps the name it was given; the drawing finds its panel by it anyway.
  await opened.page.waitForSelector('[data-panel-on="right-rear-side"]:disabled')
  await shot(opened.page, 'jobs-outline-es-dark-wall')
  await opened.page.click('text=Volver')
  await opened.page.click('text=Historial')
  await opened.page.waitForSelector('[data-type=PanelPassed] >> text=Aprobado')
  await shot(opened.page, 'jobs-history-es-dark-wall')
  await opened.close()
})

test('a job without panels, a finished panel and a removed one each say what they are and what is next', async () => {
  const job = 'ENDDD222'
  await site.send('ChangeSettings', { language: 'en' })
  const { page, close } = await openPage(browser, site, { hasTouch: true })
  await site.send('OpenJob', { job, title: 'Loose bumper' })
  const at = (...path: readonly string[]) => openHash(page, 'jobs', job, ...path)
  await at()
  await page.waitForSelector('[data-empty=noPanels] >> text=No panels in this job yet.')
  await shot(page, 'job-no-panels')
  const route = [{ stage: 'prep' }]
  for (const panel of ['ENDDD333', 'ENDDD444'])
    await site.send('AddPanel', { job, panel, name: `Part ${panel}`, operation: 'repair', route })
  await page.waitForSelector('[data-empty]', { state: 'detached' })
  await site.send('DoPrepStep', { panel: 'ENDDD333', step: 0 })
  await site.send('PassPanel', { panel: 'ENDDD333' })
  await at('panel', 'ENDDD333')
  await page.waitForSelector('[data-end=passed] >> text=PASSED')
  await shot(page, 'panel-passed')
  await at('panel', 'ENDDD444')
  await page.waitForSelector('[data-fold=remove]')
  await site.send('RemovePanel', { panel: 'ENDDD444' })
  // Whoever has its page open reads what became of it.
  await page.waitForSelector('[data-end=removed] >> text=Removed from the job')
  await shot(page, 'panel-removed')
  await page.tap('.acts .main')
  await page.waitForSelector('[data-empty=allPassed] >> text=Its one panel has passed.')
  await page.waitForSelector('[data-removed=ENDDD444] >> text=Part ENDDD444')
  await shot(page, 'job-all-passed')
  await close()
})
