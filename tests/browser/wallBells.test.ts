import { expect, test } from 'vitest'
import { shot } from '../support/browser.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { CUP, JOB, MINUTE, panelId } from './busyShop.ts'
import { heightMm, hold, lane, overflowPx, waitsFor } from './onScreen.ts'
import { vanShop } from './vanShop.ts'

/** Bells on every screen: what rings, what answers it, what waits, and the view through the booth’s window. */

const shop = vanShop()
const { van, open, entriesOf } = shop

const A = panelId(0)
const B = panelId(1)
const C = panelId(2)

test('a LOOK bell is answered by what was seen, straight from its card', async () => {
  await van(0)
  await shop.site.send('SaveSheet', { sheet: { ...BASE, flashBy: 'appearance', floorMin: 2 } })
  await shop.site.send('AddPanel', {
    job: JOB,
    panel: A,
    name: 'Tailgate',
    operation: 'repair',
    route: [{ stage: 'base', sheet: BASE.sheet }],
  })
  await shop.site.send('MixCup', { cup: 'M2XVK7QD', sheet: BASE.sheet, totalMl: 300 })
  await shop.site.send('FinishCoat', { panels: [A], cup: 'M2XVK7QD' })
  const { page, close } = await open()
  shop.site.clock.move(8.1 * MINUTE)
  await page.waitForSelector('[data-bell=look]')
  await shot(page, 'wall-look')
  await page.click('[data-result=notYet]')
  await page.waitForSelector('[data-bell=look]', { state: 'detached' })
  shop.site.clock.move(2.1 * MINUTE)
  await page.click('[data-bell=look] [data-result=matt]')
  await waitsFor(page, A, 'coat')
  await expect.poll(() => entriesOf(A).at(-1)?.data.result).toBe('matt')
  await close()
})

test('a pot life past takes the whole screen of every kiosk until the cup is answered for', async () => {
  await van(1)
  const { page, close } = await open({ path: '/#/scan' })
  await page.waitForSelector('.scan')
  shop.site.clock.move(63 * MINUTE)
  await page.waitForSelector('.takeover')
  await shot(page, 'wall-takeover')
  await expect.poll(() => page.textContent('.takeover')).toMatch(/K7QD.*\d+ min.*Delivery van/s)
  await expect.poll(() => heightMm(page, '.takeover .far')).toBeGreaterThanOrEqual(31.9)
  // Nothing under it can be reached.
  expect(await page.locator('.shell').getAttribute('inert')).not.toBeNull()
  await page.click('.takeover [data-act=silence]')
  await page.waitForSelector('.takeover >> text=Silent for')
  // Discarding needs a press of one second.
  await page.click('.takeover .hold')
  expect(shop.site.shops.ownWriter.state().things.cup[CUP]?.value).toBe('live')
  await hold(page, '.takeover .hold')
  await page.waitForSelector('.takeover', { state: 'detached' })
  await page.mouse.up()
  await expect
    .poll(() => shop.site.shops.ownWriter.state().things.cup[CUP]?.context)
    .toMatchObject({
      emptiedAt: expect.any(Number),
    })
  await close()
})

test('an acknowledged takeover frees the screen and is not hidden; the deadline stays', async () => {
  await van(1)
  const { page, close } = await open()
  shop.site.clock.move(61 * MINUTE)
  await page.click('.takeover [data-act=carryOn]')
  await page.waitForSelector('.takeover', { state: 'detached' })
  await page.waitForSelector(`[data-cup=${CUP}] .left.bell[data-sound=B2]`)
  await close()
})

test('silence lasts a minute on this kiosk, a snoozed bell is listed with the time left, and a new bell ends the silence', async () => {
  await van(2)
  await shop.site.send('FinishCoat', { panels: [A], cup: CUP })
  const { page, close } = await open()
  shop.site.clock.move(10.1 * MINUTE)
  await page.waitForSelector('[data-bell=coatReady]')
  await page.click('[data-act=silence]')
  await page.waitForSelector('.bell-rest >> text=Silent for')
  await shop.site.send('FinishCoat', { panels: [B], cup: CUP })
  shop.site.clock.move(10.1 * MINUTE)
  await page.waitForSelector('[data-act=silence]')
  await page.locator('[data-act=snooze]').first().click()
  await page.waitForSelector('[data-put-off=coatReady] >> text=/[45]:\\d\\d/')
  await page.reload()
  await page.waitForSelector('[data-put-off=coatReady]')
  await shot(page, 'wall-put-off')
  await page.click('[data-put-off] button')
  await page.waitForSelector('[data-put-off]', { state: 'detached' })
  await close()
})

test('an alarm that ended unanswered leaves a quiet badge until it is seen', async () => {
  await van(1)
  const { page, close } = await open()
  shop.site.clock.move(49 * MINUTE)
  await page.waitForSelector('[data-bell=potNear]')
  // The kiosk's word that it rang is answered before its deadline is gone.
  const hasRung = () => Object.keys(shop.site.shops.ownWriter.state().things.bell).length
  await expect.poll(hasRung).toBe(1)
  await shop.site.send('EmptyCup', { cup: CUP, how: 'used' })
  await page.click('[data-act=missed]')
  await page.waitForSelector('text=pot life ends soon')
  await page.click('[data-act=seen]')
  await page.waitForSelector('[data-act=missed]', { state: 'detached' })
  await close()
})

test('in a flood the list is counted, and the most urgent comes first', async () => {
  await van(12, [{ stage: 'clear', sheet: CLEAR.sheet }])
  const { page, close } = await open()
  for (let n = 0; n < 11; n += 1) {
    await shop.site.send('FinishCoat', { panels: [panelId(n)], cup: CUP })
    shop.site.clock.move(MINUTE / 2)
  }
  // In the booth's warmth the cup lasts 48 minutes.
  shop.site.clock.move(35 * MINUTE)
  await page.waitForSelector('.flood')
  await shot(page, 'wall-flood')
  await expect.poll(() => page.textContent('.flood')).toMatch(/\d+ alerts/)
  await expect.poll(() => page.locator('.bell-cards > li').count()).toBe(1)
  await page.waitForSelector('.bell-cards > [data-bell=potNear]')
  await page.click('[data-act=more]')
  await expect.poll(() => page.locator('.bell-cards > li').count()).toBeGreaterThan(3)
  await close()
})

test('a bell that rings again and again is held: it stays, says so, and is logged once', async () => {
  await van(1)
  await shop.site.send('FinishCoat', { panels: [A], cup: CUP })
  const { page, close } = await open()
  shop.site.clock.move(10.1 * MINUTE)
  const bell = '[data-bell=coatReady]'
  await page.waitForSelector(bell)
  // A sensor that says by turns that half of the flash was cold, and that it was not.
  for (let n = 0; n < 2; n += 1) {
    const at = shop.site.clock.now() - 5 * MINUTE
    await shop.site.send('ReadClimate', { zone: 'booth', airC: 12, rh: 0.5 }, { at })
    await page.waitForSelector(bell, { state: 'detached' })
    const readings = shop.site.shops.ownWriter.state().things.zone.booth?.entries ?? []
    const voided = readings.filter(({ type }) => type === 'EntryVoided').map((e) => e.data.entry)
    const entry = readings.findLast(({ id, data }) => data.airC === 12 && !voided.includes(id))?.id
    await shop.site.send('VoidEntry', { entry, reason: 'SENSOR_FAULT' })
    await page.waitForSelector(bell)
  }
  await page.waitForSelector(
    `${bell} [data-held] >> text=/Rang again and again: quiet for \\d:\\d\\d/`,
  )
  await shot(page, 'wall-held')
  const told = () =>
    Object.values(shop.site.shops.ownWriter.state().things.bell).flatMap((thing) =>
      thing.entries.filter(({ type }) => type === 'BellHeld'),
    )
  await expect.poll(() => told().length).toBe(1)
  await close()
})

test('while a coat started here is sprayed prompts wait, alarms do not; after the finish the prompts ring', async () => {
  await van(2)
  await shop.site.send('FinishCoat', { panels: [A], cup: CUP })
  const here = await open()
  const there = await open()
  await here.page.click(lane(B))
  await here.page.click('[data-act=StartCoat].main')
  await waitsFor(here.page, B, 'spraying')
  shop.site.clock.move(11 * MINUTE)
  await there.page.waitForSelector('[data-bell=coatOpen]')
  await there.page.click('[data-act=more]')
  await there.page.waitForSelector('[data-bell=coatReady]')
  await waitsFor(here.page, A, 'coat')
  // But for the question whether this coat was finished.
  await expect.poll(() => here.page.locator('[data-bell]').count()).toBe(1)
  await here.page.waitForSelector('[data-bell=coatOpen] >> text=was this coat finished?')
  await here.page.waitForSelector('.dock >> text=Prompts wait')
  shop.site.clock.move(29 * MINUTE)
  await here.page.waitForSelector('[data-bell=potNear]')
  expect(await here.page.locator('[data-bell=coatReady]').count()).toBe(0)
  await here.page.click(lane(B))
  await here.page.click('[data-key=finish]')
  await here.page.click('[data-act=more]')
  await here.page.waitForSelector('[data-bell=coatReady]')
  await here.close()
  await there.close()
})

test('the air-fed mask stays on for the zone’s clearance time, and every screen says so', async () => {
  await van(1)
  await shop.site.send('StartCoat', { panels: [A], cup: CUP })
  const { page, close } = await open({ path: '/#/scan' })
  await page.waitForSelector('[data-breathing=booth] >> text=while spraying and 25 min after')
  await shop.site.send('FinishCoat', { panels: [A] })
  await page.waitForSelector('[data-breathing=booth] >> text=on until 09:25')
  shop.site.clock.move(25.1 * MINUTE)
  await page.waitForSelector('[data-breathing]', { state: 'detached' })
  await close()
})

test('in a zone without a clearance time the mask line is a target that leads to how it was found clear', async () => {
  await van(1)
  await shop.site.send('SaveZone', { zone: 'booth', name: 'Booth' })
  await shop.site.send('FinishCoat', { panels: [A], cup: CUP })
  const { page, close } = await open({ colorScheme: 'dark' })
  const line = page.locator('a[data-breathing=booth]')
  const { height, isInk } = await line.evaluate((e) => ({
    height: e.getBoundingClientRect().height,
    isInk: getComputedStyle(e).color === getComputedStyle(document.body).color,
  }))
  expect(height).toBeGreaterThanOrEqual(75)
  expect(isInk).toBe(true)
  await line.click()
  await page.click('[data-part=notClear] [data-act=smokeTest]')
  await page.waitForSelector('[data-breathing]', { state: 'detached' })
  await close()
})

test('the Booth view shows at most two timers, with digits of 32 mm or more', async () => {
  await van(3)
  for (const panel of [A, B, C]) await shop.site.send('FinishCoat', { panels: [panel], cup: CUP })
  const { page, close } = await open({ path: '/#/booth' })
  await page.waitForSelector('.booth-timer')
  await shot(page, 'wall-booth')
  await expect.poll(() => page.locator('.booth-timer').count()).toBe(2)
  await expect.poll(() => heightMm(page, '.booth-timer .far')).toBeGreaterThanOrEqual(31.9)
  // A countdown keeps its width as it runs.
  await page.evaluate(() => document.fonts.ready)
  await page.waitForFunction(() =>
    /^[1-9]:/.test(document.querySelector('.far')?.textContent ?? ''),
  )
  const width = () =>
    page
      .locator('.booth-timer .far')
      .first()
      .evaluate((e) => {
        const range = document.createRange()
        range.selectNodeContents(e)
        return range.getBoundingClientRect().width
      })
  const before = { text: await page.textContent('.far'), width: await width() }
  await page.waitForFunction(
    (was) => document.querySelector('.far')?.textContent !== was,
    before.text,
  )
  expect(await width()).toBe(before.width)
  expect(await overflowPx(page)).toBe(0)
  await close()
})

test.each(['wall', 'phone'] as const)(
  'the words of the Booth view are whole on a %s in Spanish',
  async (size) => {
    await van(2, undefined, { language: 'es' })
    for (const panel of [A, B]) await shop.site.send('FinishCoat', { panels: [panel], cup: CUP })
    shop.site.clock.move(10.1 * MINUTE)
    const { page, close } = await open({ size, path: '/#/booth' })
    await page.waitForSelector('.booth-timer.bell >> text=TRANSPARENTE 2')
    await shot(page, `wall-booth-es-${size}`)
    const cut = await page.evaluate(() =>
      [...document.querySelectorAll('.booth-timer')].flatMap((timer) => {
        const box = timer.getBoundingClientRect()
        return [...timer.children].flatMap((child) => {
          const range = document.createRange()
          range.selectNodeContents(child)
          const { left, right } = range.getBoundingClientRect()
          return left < box.left || right > box.right ? [child.textContent] : []
        })
      }),
    )
    expect(cut).toEqual([])
    await close()
  },
)
