import { createHash } from 'node:crypto'
import { encode } from 'fast-png'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { JobContext } from '../../machines/job/machine.ts'
import type { PanelContext } from '../../machines/panel/context.ts'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE, CLEAR, SEALER } from '../support/sheets.ts'
import { madeContext } from '../support/things.ts'
import { hold, openHash } from './onScreen.ts'

/** The van's job as it is set up and worked on by hand, by touch. */

const START = Date.UTC(2026, 10, 25, 8)
const SIDE = 'Right rear side panel'
const DOOR = 'Right rear door'

const browser = browserForTests(SOUND)
let site: ShopSite
let page: Page
let closePage: () => Promise<void>

beforeAll(async () => {
  site = await serveShop(START)
  for (const sheet of [BASE, CLEAR, SEALER]) await site.send('SaveSheet', { sheet })
  await site.send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  await site.send('ChangeSettings', { hours: { opensAt: '07:30', closesAt: '18:00' } })
  const opened = await openPage(browser, site, {
    path: '/#/jobs',
    hasTouch: true,
    expected: /status of 409/,
  })
  page = opened.page
  closePage = opened.close
})
afterAll(() => site.stop())

const state = () => site.shops.ownWriter.state()
const theJob = (): { id: string; job: JobContext } => {
  const [id = ''] = Object.keys(state().things.job)
  return { id, job: madeContext(state(), 'job', id) }
}
const panelNamed = (name: string): { id: string; panel: PanelContext } => {
  const all = Object.entries(state().things.panel)
  const [id = ''] = all.find(([, t]) => t.context.name === name) ?? []
  return { id, panel: madeContext(state(), 'panel', id) }
}
const stages = (name: string) => panelNamed(name).panel.route.map(({ stage }) => stage)
const openPanel = async (name: string) => {
  await openJob('panel', panelNamed(name).id)
  await page.waitForSelector(`.page-head >> text=${name}`)
}
const openJob = (...rest: string[]) => openHash(page, 'jobs', theJob().id, ...rest)

test('an empty list says what to do; a job is opened with two colors, and what was typed outlives a reload', async () => {
  await page.waitForSelector('.empty >> text=No job is open.')
  await page.tap('text=OPEN A JOB')
  await page.fill('[name=title]', 'Delivery van, rear right corner')
  await page.fill('[name=vehicle]', 'white, long')
  await page.fill('[name="colours.0.code"]', 'W-210')
  await page.tap('[data-add=colours]')
  await page.fill('[name="colours.1.key"]', 'stripe')
  await page.fill('[name="colours.1.code"]', 'B-77')
  await page.tap('[data-pick="colours.1.kind"] [data-value=metallic]')
  const keptId = () => page.evaluate(() => JSON.parse(sessionStorage['flashbell.form.job']).job)
  const id = await keptId()
  await page.reload()
  await page.waitForSelector('[name=title]')
  await expect.poll(() => keptId()).toBe(id)
  await expect.poll(() => page.inputValue('[name=title]')).toBe('Delivery van, rear right corner')
  await expect.poll(() => page.inputValue('[name="colours.1.code"]')).toBe('B-77')
  await shot(page, 'jobs-open-wall')
  await page.tap('[data-act=OpenJob]')
  await page.waitForSelector('.outline')
  // Pressed before the reload and after it, it would have been one job.
  expect(theJob().id).toBe(id)
  expect(theJob().job).toMatchObject({
    title: 'Delivery van, rear right corner',
    vehicle: 'Van, white, long',
    colours: [
      { key: 'body', code: 'W-210' },
      { key: 'stripe', code: 'B-77', kind: 'metallic' },
    ],
  })
})

type Box = { x: number; y: number; width: number; height: number }
/** How far two boxes are from each other, in the direction in which they are. */
const apart = (a: Box, b: Box): number =>
  Math.max(
    Math.max(a.x, b.x) - Math.min(a.x + a.width, b.x + b.width),
    Math.max(a.y, b.y) - Math.min(a.y + a.height, b.y + b.height),
  )

test('every field of the drawing is a target of 20 mm with a gap, on the wall and on a phone', async () => {
  const measured = () =>
    page.$$eval('.field-touch', (fields) =>
      fields.map((field) => {
        const { x, y, width, height } = field.getBoundingClientRect()
        return { x, y, width, height }
      }),
    )
  // 20 mm with 4 mm between them, at 96 px an inch; a phone counts its own pixels.
  for (const [size, least, gap] of [
    [{ width: 1280, height: 800 }, 75, 15],
    [{ width: 390, height: 844 }, 44, 7.5],
  ] as const) {
    await page.setViewportSize(size)
    for (const body of ['car', 'pick-up', 'van']) {
      await page.tap(`[data-value="${body}"]`)
      await page.waitForSelector(`[data-value="${body}"][aria-pressed=true]`)
      await page.waitForFunction((width) => innerWidth === width, size.width)
      const boxes = await measured()
      expect(boxes.length).toBeGreaterThan(15)
      for (const box of boxes) {
        expect(Math.min(box.width, box.height), body).toBeGreaterThanOrEqual(least)
        expect(box.x + box.width).toBeLessThanOrEqual(size.width + 0.5)
      }
      for (const [i, a] of boxes.entries())
        for (const b of boxes.slice(i + 1))
          expect(apart(a, b), `${body} at ${size.width}`).toBeGreaterThanOrEqual(gap)
    }
    await shot(page, size.width === 390 ? 'jobs-outline-phone' : 'jobs-outline-wall')
  }
  await page.setViewportSize({ width: 1280, height: 800 })
})

test('panels are chosen on the drawing and by the list, a neighbor is proposed for a blend, a route is changed', async () => {
  await page.tap('[data-panel-on="right-rear-side"]')
  await page.waitForSelector('[data-panel-on="right-rear-side"][aria-pressed=true] .tick')
  await page.waitForSelector('[data-list="right-rear-side"][aria-pressed=true]')
  await page.tap('[data-list="right-mirror"]')
  await page.waitForSelector('[data-panel-on="right-mirror"][aria-pressed=true]')
  await page.tap('[data-panel-on="right-mirror"]')
  await page.waitForSelector('[data-panel-on="right-mirror"][aria-pressed=false]')
  await page.tap('[data-blend="right-rear-door"]')
  const side = page.locator('[data-chosen="right-rear-side"]')
  await expect
    .poll(() => side.locator('[data-value=repair]').getAttribute('aria-pressed'))
    .toBe('true')
  const door = page.locator('[data-chosen="right-rear-door"]')
  await expect
    .poll(() => door.locator('[data-value=blend]').getAttribute('aria-pressed'))
    .toBe('true')
  await side.locator('[data-value=steel]').tap()
  await side.locator('input[name^=area]').fill('2.5')

  await side.locator('[data-act=changeRoute]').tap()
  await side.locator('[data-step="0"]').tap()
  await side.locator('[data-act=addStep]').tap()
  await side.locator('.choice [data-value=sealer]').last().tap()
  await side.locator('[data-step="2"]').tap()
  await side.locator('[data-nudge=planned] button >> nth=1').tap()
  await shot(page, 'jobs-route-wall')
  await page.tap('[data-act=AddPanel]')
  await page.waitForSelector('[data-panel]')

  await expect
    .poll(() => stages(SIDE))
    .toEqual(['prep', 'sealer', 'base', 'clear', 'cure', 'polish'])
  await expect
    .poll(() => panelNamed(SIDE).panel)
    .toMatchObject({
      operation: 'repair',
      substrate: 'steel',
      areaM2: 2.5,
    })
  await expect
    .poll(() => panelNamed(SIDE).panel.route[2])
    .toMatchObject({
      colour: 'body',
      coats: { least: 2, planned: 3, most: 4 },
    })
  await expect.poll(() => panelNamed(DOOR).panel.route[1]).toMatchObject({ face: 'spot' })
})

test('what is in the job is shown so and is not chosen again', async () => {
  await openJob('panels')
  await page.waitForSelector('[data-panel-on="right-rear-side"]:disabled')
  await page.waitForSelector('[data-list="right-rear-side"]:disabled >> text=in the job')
  expect(await page.locator('[data-chosen]').count()).toBe(0)
})

test('preparation of all panels is one touch, and one touch takes it back', async () => {
  await openJob()
  await page.waitForSelector('[data-act=prepDone] >> text=(2)')
  await page.tap('[data-act=prepDone]')
  await page.waitForSelector('[data-act=prepDone]', { state: 'detached' })
  await expect.poll(() => panelNamed(SIDE).panel.status[0]).toBe('done')
  await expect.poll(() => panelNamed(DOOR).panel.status[0]).toBe('done')
  await page.tap('.undo-bar [data-act=undo]')
  await page.waitForSelector('[data-act=prepDone] >> text=(2)')
  await expect.poll(() => panelNamed(SIDE).panel.status[0]).toBe('open')
  await page.tap('[data-act=prepDone]')
  await expect.poll(() => panelNamed(DOOR).panel.status[0]).toBe('done')
})

test('a panel moves to another zone, its route is changed again, and it is sent back with a coded reason', async () => {
  await openPanel(SIDE)
  await page.tap('[data-fold=move] summary')
  await page.tap('[data-fold=move] [data-value="+"]')
  await page.fill('[name^=zone]', 'bay-2')
  await page.keyboard.press('Enter')
  await page.waitForSelector('p >> text=bay-2')
  await page.tap('[data-fold=route] summary')
  // Prep is done: it stays, without keys to move it or take it out.
  await page.tap('[data-step="0"]')
  expect(await page.locator('.step-keys [data-act=dropStep]').count()).toBe(0)
  await page.tap('[data-step="1"]')
  await page.tap('.step-keys [data-act=dropStep]')
  await page.tap('[data-act=SetRoute]')
  await expect.poll(() => stages(SIDE)).toEqual(['prep', 'base', 'clear', 'cure', 'polish'])

  await page.tap('[data-fold=back] summary')
  await page.waitForSelector('[data-act=SendBackPanel]:disabled')
  await page.tap('[data-fold=back] [data-value="0"]')
  await page.tap('[data-fold=back] [data-value=CUSTOMER_CHANGE]')
  await shot(page, 'jobs-panel-wall')
  await page.tap('[data-act=SendBackPanel]')
  await page.waitForSelector('[data-act=prepDone]')
  const entry = state().things.panel[panelNamed(SIDE).id]?.entries.at(-1)
  expect(entry).toMatchObject({
    type: 'PanelSentBack',
    data: { toStep: 0, done: 0, reason: 'CUSTOMER_CHANGE' },
  })
})

test('an entry is voided from the history: held with a coded reason, and seen struck through', async () => {
  await openJob('history')
  await page.waitForSelector('[data-type=PanelSentBack]')
  const order = await page.$$eval('.line', (all) =>
    all.map((line) => line.getAttribute('data-type')),
  )
  expect(order[0]).toBe('JobOpened')
  // The undone preparation is there, struck through, with the reason that undoing gives.
  await page.waitForSelector('[data-type=PrepStepDone][data-voided] s')
  await page.waitForSelector('[data-type=PrepStepDone] >> text=pressed by mistake')

  await page.tap('[data-type=PanelSentBack]')
  await page.tap('.void-it [data-value=WRONG_PART]')
  const before = state().head
  await page.tap('.void-it .hold')
  expect(state().head).toBe(before)
  await hold(page, '.void-it .hold')
  await page.waitForSelector('[data-type=PanelSentBack][data-voided] >> text=wrong part')
  await page.mouse.up()
  await shot(page, 'jobs-history-wall')
  await expect.poll(() => panelNamed(SIDE).panel.status[0]).toBe('done')
  await page.waitForSelector('[data-type=EntryVoided] >> text=Sent back to')
})

test('a note and a photo are kept: the photo redrawn as JPEG of at most 2000 px, without what the camera wrote', async () => {
  await openJob()
  await page.fill('[name=note]', 'The sill is dented too')
  await page.tap('[data-act=AddNote]')
  await page.waitForSelector('.note-list >> text=The sill is dented too')

  // A picture with a text of its own beside the pixels, as cameras write it.
  const size = { width: 2400, height: 1200 }
  const grey = new Uint8Array(size.width * size.height).fill(128)
  const png = encode({
    ...size,
    channels: 1,
    depth: 8,
    data: grey,
    text: { Author: 'SECRET-PLACE' },
  })
  expect(Buffer.from(png).includes('SECRET-PLACE')).toBe(true)
  await page.setInputFiles('[name=photo]', {
    name: 'corner.png',
    mimeType: 'image/png',
    buffer: Buffer.from(png),
  })
  await page.waitForFunction(
    () => (document.querySelector('.photo img') as HTMLImageElement | null)?.naturalWidth === 2000,
  )
  const photoKept = () => theJob().job.notes.find((note) => note.photo !== null)?.photo ?? ''
  await expect.poll(photoKept).not.toBe('')
  const photo = photoKept()
  const kept = Buffer.from(await (await fetch(`${site.url}/api/photos/${photo}`)).arrayBuffer())
  expect(createHash('sha256').update(kept).digest('hex')).toBe(photo)
  expect([...kept.subarray(0, 3)]).toEqual([0xff, 0xd8, 0xff])
  expect(kept.includes('SECRET-PLACE')).toBe(false)
  expect(kept.includes('Exif')).toBe(false)
  await shot(page, 'jobs-job-wall')
  await page.setInputFiles('[name=photo]', {
    name: 'not-a-picture.jpg',
    mimeType: 'image/jpeg',
    buffer: Buffer.from('no picture at all'),
  })
  await page.waitForSelector('.photo-taker [role=alert]')
  expect(theJob().job.notes.filter((note) => note.photo !== null)).toHaveLength(1)
  await closePage()
})
