import type { Page } from 'playwright-core'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { contextOf } from '../../machines/state.ts'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { lane } from './onScreen.ts'

/** A color beside its panel: neighbors taken or left out, cards measured, the let-down card, the gun. */

const START = Date.UTC(2026, 10, 25, 8)
const JOB = 'VANREAR2'
const PANEL = 'REARQTR2'
const CUP = 'K7QDM2XV'
const MID = { ...BASE, sheet: 'mid-1', name: 'Pearl midcoat', stage: 'midcoat' }

const browser = browserForTests(SOUND)
let site: ShopSite
beforeEach(async () => {
  site = await serveShop(START)
  for (const sheet of [BASE, MID, CLEAR]) await site.send('SaveSheet', { sheet })
  await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  await site.send('OpenJob', {
    job: JOB,
    title: 'Delivery van',
    vehicle: 'Van',
    colours: [{ key: 'body', code: 'P-101', kind: 'three-stage' }],
  })
})
afterEach(() => site.stop())

const job = () => contextOf(site.shops.ownWriter.state(), 'job', JOB)

test('a neighbor is taken by a touch, another left out with a reason that is kept and shown', async () => {
  const { page, close } = await openPage(browser, site, { path: `/#/jobs/${JOB}/panels` })
  await page.click('[data-list=right-rear-side]')
  await page.waitForSelector('[data-neighbor="right-side-door"] >> text=/Midcoat: all of it/')
  await expect
    .poll(() => page.textContent('[data-neighbor="right-side-door"]'))
    .toContain('Ground coat: 33 %')
  // The second neighbor is only for where the card shows it.
  await expect
    .poll(() => page.textContent('[data-neighbor="right-front-door"]'))
    .toContain('only if the card')
  await page.locator('.blend-plan').evaluate((plan) => plan.scrollIntoView())
  await shot(page, 'blend-plan')
  await page.click('[data-leave=roof]')
  await page.click('[data-why=roof] button >> text=trim or a gap hides it')
  await page.waitForSelector('[data-neighbor=roof][data-left] >> text=trim or a gap hides it')
  await page.click('[data-leave=rear-bumper]')
  await page.fill('[name=why-rear-bumper]', 'it is plastic of its own color')
  await page.click('[data-why=rear-bumper] [data-act=leaveOut]')
  await page.click('[data-blend="right-side-door"]')
  await page.waitForSelector(
    '[data-chosen="right-side-door"] [data-value=blend][aria-pressed=true]',
  )
  await expect
    .poll(() => job()?.blends?.map(({ on, blend, reason }) => [on, blend, reason]))
    .toEqual([
      ['roof', false, 'trim or a gap hides it'],
      ['rear-bumper', false, 'it is plastic of its own color'],
      ['right-side-door', true, undefined],
    ])
  await page.setViewportSize({ width: 390, height: 844 })
  await shot(page, 'blend-plan-phone')
  // What was left out can still be taken.
  await page.focus('[data-blend=roof]')
  await page.keyboard.press('Enter')
  await page.waitForSelector('[data-chosen=roof]')
  await page.goto(`${site.url}/#/jobs/${JOB}/colour`)
  await page.waitForSelector('[data-decided=rear-bumper] >> text=it is plastic of its own color')
  await close()
})

test('a new part off the vehicle is cut in first: its edges come before its face', async () => {
  const { page, close } = await openPage(browser, site, { path: `/#/jobs/${JOB}/panels` })
  await page.click('[data-list=hood]')
  await page.click('[data-chosen=hood] [data-value=new-part]')
  await page.click('[data-chosen=hood] [data-pick=hung] [data-value=off]')
  await page.waitForSelector('.blend-plan >> text=/then hang Hood/')
  await page.click('[data-act=AddPanel]')
  const faces = () =>
    Object.values(site.shops.ownWriter.state().things.panel)[0]?.context.route.flatMap(
      ({ stage, face }) => (stage === 'base' || stage === 'clear' ? [`${stage} ${face}`] : []),
    )
  await expect.poll(faces).toEqual(['base edges', 'clear edges', 'base whole', 'clear whole'])
  await close()
})

async function measure(page: Page, card: string, l: number, more: () => Promise<void>) {
  if (!(await page.isVisible('[data-form=colour] [data-act=MeasureColourCard]')))
    await page.click('[data-fold=measure] > summary')
  await page.fill('[name=card]', card)
  for (const [i, [panelL, cardL]] of [
    [80, 80 + l],
    [50, 50 + l],
    [30, 30],
  ].entries()) {
    for (const [of, lightness] of [
      ['panel', panelL],
      ['card', cardL],
    ] as const) {
      await page.fill(`[name="angles.${i}.${of}.0"]`, String(lightness))
      await page.fill(`[name="angles.${i}.${of}.1"]`, '0')
      await page.fill(`[name="angles.${i}.${of}.2"]`, '0')
    }
  }
  await more()
  await page.click('[data-act=MeasureColourCard]')
}

test('cards are measured and drawn by angle; that of the let-down panel sets the midcoats', async () => {
  await site.send('ChangeSettings', { colour: { match: 1, blend: 2, atGun: false } })
  await site.send('AddPanel', {
    job: JOB,
    panel: PANEL,
    name: 'Right rear side panel',
    operation: 'repair',
    route: [
      { stage: 'base', sheet: BASE.sheet, colour: 'body' },
      { stage: 'midcoat', sheet: MID.sheet, colour: 'body' },
    ],
  })
  const { page, close } = await openPage(browser, site, { path: `/#/jobs/${JOB}` })
  await page.click(`a[href="#/jobs/${JOB}/colour"]`)
  await page.waitForSelector('text=No card was measured yet.')
  await shot(page, 'colour-empty')
  await measure(page, 'A', 4, async () => {})
  await page.waitForSelector('[data-card=A][data-verdict=retint]')
  const letDown = async () => {
    await page.click('[data-form=colour] [data-fold=more] > summary')
    await page.fill('[name=midcoats]', '3')
  }
  await measure(page, 'B', 0.5, letDown)
  await page.waitForSelector('[data-card=B][data-verdict=match]')
  // What was found of the card is in sight: the form that measured it stands below.
  const seen = () =>
    page.locator('[data-card=B]').evaluate((card) => {
      const { top, bottom } = card.getBoundingClientRect()
      return top > 0 && bottom < innerHeight
    })
  await expect.poll(seen).toBe(true)
  await expect
    .poll(() => job()?.cards?.map(({ card, midcoats }) => [card, midcoats]))
    .toEqual([
      ['A', undefined],
      ['B', 3],
    ])
  // Every card stands at every angle, the shop's levels are drawn, and the table says it in figures.
  await expect.poll(() => page.locator('.card-mark').count()).toBe(6)
  await expect.poll(() => page.locator('.colour-chart .level').count()).toBe(2)
  await expect
    .poll(() => page.textContent('.colour-table tbody tr:nth-child(2) td:last-child'))
    .toBe('0.0')
  await page.click('[data-card=B] [data-act=ChooseColourCard]')
  await page.waitForSelector('[data-card=B] >> text=CHOSEN')
  await expect
    .poll(
      () =>
        contextOf(site.shops.ownWriter.state(), 'panel', PANEL)?.route.find(
          ({ stage }) => stage === 'midcoat',
        )?.coats?.planned,
    )
    .toBe(3)
  await page.locator('[data-colour=body]').evaluate((cards) => cards.scrollIntoView())
  await shot(page, 'colour-cards')
  await page.setViewportSize({ width: 390, height: 844 })
  await page.locator('[data-colour=body]').evaluate((cards) => cards.scrollIntoView())
  await shot(page, 'colour-cards-phone')
  await close()
})

test('a card without its figures is told beside each field, and nothing typed is lost', async () => {
  const { page, close } = await openPage(browser, site, { path: `/#/jobs/${JOB}/colour` })
  await page.fill('[name="angles.0.panel.0"]', '101')
  await page.click('[data-act=MeasureColourCard]')
  await page.waitForSelector('[data-form=colour] .sentence')
  await expect.poll(() => page.inputValue('[name="angles.0.panel.0"]')).toBe('101')
  expect(job()?.cards).toBe(undefined)
  await close()
})

test('at the gun a shop that wants it is stopped, and led to the color check', async () => {
  await site.send('ChangeSettings', { colour: { match: 1, blend: 2, atGun: true } })
  await site.send('AddPanel', {
    job: JOB,
    panel: PANEL,
    name: 'Right rear side panel',
    operation: 'repair',
    route: [{ stage: 'base', sheet: BASE.sheet, colour: 'body' }],
  })
  await site.send('MixCup', { cup: CUP, sheet: BASE.sheet, totalMl: 300, job: JOB, colour: 'body' })
  const { page, close } = await openPage(browser, site, { expected: /status of 409/ })
  await page.click(lane(PANEL))
  await page.click('.act-sheet [data-act=StartCoat]')
  await page.waitForSelector('.act-sheet .refusal >> text=No card of color body was measured')
  await shot(page, 'colour-at-gun')
  await page.click('.act-sheet .refusal a[data-way=colour]')
  await page.waitForSelector('.colour-page')
  await close()
})

test('Setup keeps the shop’s own levels, and says so where they are the wrong way round', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/setup/shop' })
  await page.fill('[name="colour.match"]', '2')
  await page.fill('[name="colour.blend"]', '1')
  await page.click('[data-form=shop] [data-act=ChangeSettings]')
  await page.waitForSelector('[data-form=shop] .sentence')
  await page.fill('[name="colour.blend"]', '3')
  await shot(page, 'colour-levels')
  // By the keyboard: two touches of a key within 400 ms are one, and no hand mends a figure in that time.
  await page.press('[name="colour.blend"]', 'Enter')
  await expect
    .poll(() => contextOf(site.shops.ownWriter.state(), 'settings', 'shop')?.colour)
    .toEqual({ match: 2, blend: 3, atGun: false })
  await close()
})
