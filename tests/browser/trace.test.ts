import { readFileSync } from 'node:fs'
import type { Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openPage, type Size, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { pdfPages } from '../support/pdfReader.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { AXE, problemsNow } from './audit.ts'
import { rulesFor } from './targets.ts'

/** A job after a defect, looked through by touch: what was outside, and what may have caused it. */

const START = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const [JOB, DOOR, SILL] = ['VANJAB22', 'DRDR2222', 'SKSK2222']
const [BASE_CUP, CLEAR_CUP] = ['BSBS2222', 'CRCR2222']

const browser = browserForTests()
let site: ShopSite

/** Two panels, base twice, clear twice; the second clear of the door went on after 4 of its 10 min. */
beforeAll(async () => {
  site = await serveShop(START)
  const { send, clock } = site
  const after = (min: number) => clock.move(min * MINUTE)
  const panels = [DOOR, SILL]
  for (const sheet of [BASE, CLEAR]) await send('SaveSheet', { sheet })
  await send('SaveZone', { zone: 'booth', name: 'Booth' })
  await send('OpenJob', { job: JOB, title: 'Delivery van, rear right corner' })
  const route = [
    { stage: 'base', sheet: BASE.sheet },
    { stage: 'clear', sheet: CLEAR.sheet },
    { stage: 'cure' },
  ]
  for (const panel of panels)
    await send('AddPanel', {
      ...{ job: JOB, panel, operation: 'repair', areaM2: 1, zone: 'booth', route },
      name: panel === DOOR ? 'Rear door, right' : 'Sill',
    })
  const air = () => send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  await air()
  await send('MixCup', { cup: BASE_CUP, sheet: BASE.sheet, totalMl: 600, zone: 'booth', job: JOB })
  for (const wait of [1, 9]) {
    after(wait)
    await send('StartCoat', { panels, cup: BASE_CUP, gun: 'gun-1', gunSet: { inletKpa: 180 } })
    after(4)
    await send('FinishCoat', { panels, ordered: true, usedMl: 150 })
  }
  after(14)
  await air()
  await send('MixCup', {
    cup: CLEAR_CUP,
    sheet: CLEAR.sheet,
    totalMl: 600,
    zone: 'booth',
    job: JOB,
  })
  after(2)
  await send('StartCoat', { panels, cup: CLEAR_CUP, gun: 'gun-2', gunSet: { inletKpa: 200 } })
  after(4)
  await send('FinishCoat', { panels, ordered: true, usedMl: 240 })
  after(4)
  const override = { reason: 'the booth is needed' }
  await send('StartCoat', { panels: [DOOR], cup: CLEAR_CUP, gun: 'gun-2', override })
  after(2)
  await send('FinishCoat', { panels: [DOOR], usedMl: 120 })
  after(5)
  await send('CleanGun', { gun: 'gun-2' })
  after(90)
  await send('StartCoat', { panels: [SILL], cup: CLEAR_CUP, gun: 'gun-2', override })
  after(3)
  await send('FinishCoat', { panels: [SILL] })
  // Nothing rings over the page.
  await send('EmptyCup', { cup: CLEAR_CUP, how: 'discarded' })
  await send('CleanGun', { gun: 'gun-1' })
  await send('CleanGun', { gun: 'gun-2' })
})
afterAll(() => site.stop())

const beginsInSight = (what: Locator): Promise<boolean> =>
  what.evaluate((element) => {
    const { top } = element.getBoundingClientRect()
    return top >= 0 && top < innerHeight - 64
  })

test.each([
  ['wall', 1280, 800],
  ['large', 1920, 1080],
  ['phone', 390, 844],
])(
  'at the size of a %s the timeline, its table, deviations and causes are one page',
  async (name, width, height) => {
    const { page, close } = await openPage(browser, site, {
      path: `/#/jobs/${JOB}/history`,
      hasTouch: true,
      viewport: { width, height },
      prepare: async (one) => {
        await one.addInitScript({ path: AXE })
      },
    })
    await page.waitForSelector('[data-line]')
    await page.tap('text=TRACE A DEFECT')
    await page.waitForSelector('.trace-box svg')
    await shot(page, `trace-${name}`)
    // A limit was broken: it is listed with its numbers, and the touch shows its spot.
    const deviation = page.locator('[data-deviation=flashNotOver]').first()
    await expect.poll(() => deviation.textContent()).toContain('the booth is needed')
    await deviation.tap()
    await expect.poll(() => page.locator('[data-mark=coat] rect[stroke-width="6"]').count()).toBe(1)
    await shot(page, `trace-${name}-spot`)
    // The table says what is drawn.
    const drawn = await page.locator('.trace-box svg [data-mark=coat]').count()
    expect(drawn).toBeGreaterThan(0)
    await page.tap('[data-fold=table] summary')
    await expect
      .poll(() => page.locator('[data-fold=table] td >> text=not recorded').count())
      .toBeGreaterThan(0)
    await page.tap('[data-pick=panel] [data-value=DRDR2222]')
    await page.tap('[data-pick=defect] [data-value=solventPop]')
    // It comes into sight by itself: it stands below all that can be wrong.
    await expect.poll(() => beginsInSight(page.locator('[data-cause]').first())).toBe(true)
    const cause = page.locator('[data-cause=flashShort]')
    await expect.poll(() => cause.textContent()).toContain('at least 10:00 min')
    await expect.poll(() => page.locator('[data-cause=notVisible]').count()).toBe(1)
    await expect.poll(() => page.locator('[data-verdict]').textContent()).toContain('Isocyanates')
    await page.locator('.page-head').scrollIntoViewIfNeeded()
    // Read by a program, touched with gloves, nothing cut off.
    expect(await problemsNow(page, rulesFor(name as Size, 96 / 25.4))).toEqual([])
    await cause.scrollIntoViewIfNeeded()
    await shot(page, `trace-${name}-causes`)
    // Any moment again.
    const from = Number(await page.getAttribute('.trace-moment', 'min'))
    await page.locator('.trace-moment').evaluate(
      (input, at) => {
        ;(input as HTMLInputElement).value = String(at)
        input.dispatchEvent(new Event('input', { bubbles: true }))
      },
      from + 6 * MINUTE,
    )
    await expect.poll(() => page.locator('[data-lane]').count()).toBe(2)
    // What it was sprayed from stands there as it stood then, and the line of the moment on the chart.
    await expect.poll(() => page.locator('[data-cup]').count()).toBe(1)
    await expect
      .poll(() => page.locator('[data-gun=gun-1]').textContent())
      .toContain('Solvent base')
    await expect.poll(() => page.locator('[data-moment-line]').count()).toBe(1)
    await page.locator('[data-moment]').scrollIntoViewIfNeeded()
    await shot(page, `trace-${name}-moment`)
    await close()
  },
)

/** How many dots of a picture are dark, and how many there are. */
const darkIn = (page: Page, png: Buffer) =>
  page.evaluate(async (data) => {
    const image = new Image()
    image.src = `data:image/png;base64,${data}`
    await image.decode()
    const canvas = document.createElement('canvas')
    canvas.width = image.width
    canvas.height = image.height
    const pen = canvas.getContext('2d') as CanvasRenderingContext2D
    pen.drawImage(image, 0, 0)
    const darkAbove = (height: number) => {
      const dots = pen.getImageData(0, 0, image.width, height).data
      let dark = 0
      for (let i = 0; i < dots.length; i += 4) if ((dots[i] ?? 255) < 90) dark += 1
      return dark
    }
    const { width, height } = image
    return { width, height, inTitle: darkAbove(60), dark: darkAbove(height) }
  }, png.toString('base64'))

test('what is drawn is saved as a picture and as a page of paper, dark on white on a dark screen too', async () => {
  const { page, close } = await openPage(browser, site, {
    path: `/#/trace/${JOB}`,
    viewport: { width: 1280, height: 800 },
    prepare: (one) => one.emulateMedia({ colorScheme: 'dark' }),
  })
  await page.waitForSelector('.trace-box svg')
  const saved = async (form: string) => {
    const file = page.waitForEvent('download')
    await page.click(`[data-act=${form}]`)
    const download = await file
    expect(download.suggestedFilename()).toBe(`flashbell-${JOB}-timeline.${form}`)
    return readFileSync(await download.path())
  }
  const png = await saved('png')
  const { inTitle, dark, width, height } = await darkIn(page, png)
  const drawn = await page.locator('.trace-box svg').boundingBox()
  expect(width).toBeGreaterThan(2 * (drawn?.width ?? 0))
  // Words, bars and hatching, on white: neither a blank page nor a dark one.
  expect(inTitle).toBeGreaterThan(500)
  expect(dark).toBeGreaterThan(2_000 + inTitle)
  expect(dark).toBeLessThan((width * height) / 4)
  const [paper, ...more] = await pdfPages(await saved('pdf'), 100)
  expect(more).toEqual([])
  const inked = paper?.grey.data.filter((grey) => grey < 90).length ?? 0
  expect(inked).toBeGreaterThan(500)
  await close()
})

test('a person decides about a deviation and says what a cause was, and both are there after a reload', async () => {
  const { page, close } = await openPage(browser, site, {
    path: `/#/trace/${JOB}`,
    hasTouch: true,
    viewport: { width: 1280, height: 800 },
  })
  const deviation = page.locator('[data-deviation=flashNotOver]').first()
  const row = page.locator('li', { has: deviation })
  const settle = row.locator('[data-fold=settle]')
  await settle.locator('summary').tap()
  // Nothing is saved without what and why.
  await expect.poll(() => settle.locator('[data-act=SettleDeviation]').isDisabled()).toBe(true)
  await settle.locator('[data-pick=disposition] [data-value=rework]').tap()
  await settle.locator('[data-pick=settleReason] [data-value=WAITED_FOR_BOOTH]').tap()
  await settle.locator('[data-act=SettleDeviation]').tap()
  await expect.poll(() => deviation.textContent()).toContain('reworked')

  const askAbout = async () => {
    await page.tap(`[data-pick=panel] [data-value=${DOOR}]`)
    await page.tap('[data-pick=defect] [data-value=solventPop]')
    await page.waitForSelector('[data-cause=flashShort]')
  }
  const cause = page.locator('[data-cause=flashShort]')
  const review = async (verdict: string, reason: string, instead?: string) => {
    const fold = cause.locator('[data-fold=review]')
    if ((await fold.getAttribute('open')) === null) await fold.locator('summary').tap()
    await fold.locator(`[data-pick=review] [data-value=${verdict}]`).tap()
    if (instead) await fold.locator(`[data-pick=instead] [data-value=${instead}]`).tap()
    await fold.locator('[name=reviewReason]').fill(reason)
    await fold.locator('[data-act=ReviewCause]').tap()
    await expect.poll(() => cause.locator('[data-reviewed]').textContent()).toContain(reason)
  }
  const said = () => cause.locator('[data-reviewed]').textContent()
  await askAbout()
  await review('accept', 'The pits are hollow')
  await expect.poll(() => said()).toContain('it was this')
  await review('reject', 'A speck in each pit')
  await expect.poll(() => said()).toContain('it was not this')
  await review('edit', 'The gauge says 80 µm', 'filmHeavy')
  await expect.poll(() => said()).toContain('it was something else: coat too heavy')

  await page.reload()
  await expect.poll(() => deviation.textContent()).toContain('reworked')
  await askAbout()
  await expect.poll(said).toContain('coat too heavy. The gauge says 80 µm')
  await cause.scrollIntoViewIfNeeded()
  await shot(page, 'trace-wall-reviewed')
  await close()
})

test('reviews that cannot be counted now are said to be with the server', async () => {
  const { page, close } = await openPage(browser, site, {
    ...{ path: `/#/trace/${JOB}`, hasTouch: true, serviceWorkers: 'block' as const },
    expected: /net::ERR_FAILED/,
    prepare: async (one) => {
      await one.route('**/api/reviews*', (route) => route.abort())
    },
  })
  await page.tap(`[data-pick=panel] [data-value=${DOOR}]`)
  await page.tap('[data-pick=defect] [data-value=solventPop]')
  const away = page.getByText('reviews of this defect are counted there')
  for (const [width, height] of [
    [1280, 800],
    [390, 844],
  ] as const) {
    await page.setViewportSize({ width, height })
    await away.scrollIntoViewIfNeeded()
    await shot(page, `trace-${width}-reviews-away`)
  }
  await page.unroute('**/api/reviews*')
  await page.tap('[data-pick=defect] [data-value=runs]')
  await page.waitForSelector('[data-priors]')
  await close()
})

test('a job that nobody knows says so', async () => {
  const { page, close } = await openPage(browser, site, {
    path: '/#/trace/NNNN2222',
    expected: /404/,
  })
  await page.waitForSelector('text=No such job is known.')
  await close()
})
