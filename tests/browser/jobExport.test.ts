import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openPage, SIZES, type Size, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'

/** A job saved by its key, opened as a file in a browser without a network, and changed. */

const [JOB, DOOR, CUP] = ['VANJAB22', 'DRDR2222', 'BSBS2222']
const MINUTE = 60_000
const browser = browserForTests()
const folder = mkdtempSync(join(tmpdir(), 'flashbell-job-'))
let site: ShopSite
let html: string

beforeAll(async () => {
  site = await serveShop(Date.UTC(2026, 10, 25, 8))
  const { send, clock } = site
  for (const sheet of [BASE, CLEAR]) await send('SaveSheet', { sheet })
  await send('OpenJob', { job: JOB, title: 'Delivery van, rear right corner' })
  await send('AddPanel', {
    ...{ job: JOB, panel: DOOR, name: 'Rear door', operation: 'repair', areaM2: 1, zone: 'booth' },
    route: [{ stage: 'base', sheet: BASE.sheet }, { stage: 'cure' }],
  })
  await send('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  await send('MixCup', { cup: CUP, sheet: BASE.sheet, totalMl: 600, zone: 'booth', job: JOB })
  for (const reason of ['first', 'in a hurry']) {
    clock.move(2 * MINUTE)
    await send('StartCoat', { panels: [DOOR], cup: CUP, override: { reason } })
    clock.move(3 * MINUTE)
    await send('FinishCoat', { panels: [DOOR], usedMl: 150 })
  }
})
afterAll(async () => {
  await site.stop()
  rmSync(folder, { recursive: true, force: true })
})

/** Opens a saved page as a file, without a network. What it says about itself. */
async function openedAs(name: string, text: string, size: Size = 'wall') {
  const file = join(folder, `${name}.html`)
  writeFileSync(file, text)
  const context = await browser.newContext({ viewport: SIZES[size], offline: true })
  const page = await context.newPage()
  const asked: string[] = []
  page.on('request', (request) => asked.push(request.url()))
  await page.goto(pathToFileURL(file).href)
  return { page, asked, close: () => context.close() }
}

test('the key on the page of a job saves it, and Spanish keeps its language', async () => {
  const { page, close } = await openPage(browser, site, { path: `/#/jobs/${JOB}`, size: 'phone' })
  const saved = page.waitForEvent('download')
  await page.locator('[data-act=saveJob]').scrollIntoViewIfNeeded()
  await shot(page, 'job-export-key')
  await page.click('[data-act=saveJob]')
  html = readFileSync(await (await saved).path(), 'utf8')
  expect((await saved).suggestedFilename()).toBe(`flashbell-${JOB}.html`)
  const lines = page.waitForEvent('download')
  await page.click('[data-act=saveLines]')
  expect((await lines).suggestedFilename()).toBe(`flashbell-${JOB}.jsonl`)
  await close()
})

test.each(['wall', 'large', 'phone'] as const)(
  'on a %s it opens with no network and is whole',
  async (size) => {
    const { page, asked, close } = await openedAs(`whole-${size}`, html, size)
    await page.waitForSelector('[data-check=whole]')
    await expect.poll(() => page.textContent('h1')).toBe('Delivery van, rear right corner')
    // The timeline, the deviations with their reason, and the entries themselves.
    await expect.poll(() => page.locator('.trace-box svg [data-mark=coat]').count()).toBe(2)
    await expect
      .poll(() => page.textContent('[data-deviation=flashNotOver]'))
      .toContain('in a hurry')
    expect(asked.filter((url) => !url.startsWith('file:') && !url.startsWith('data:'))).toEqual([])
    expect(asked).toHaveLength(1)
    await shot(page, `job-export-${size}`)
    await page.click('[data-fold=entries] summary')
    await expect.poll(() => page.locator('.trace-entry').count()).toBeGreaterThan(8)
    await close()
  },
)

test('a changed byte in it is told: in an entry, a digest, the seal, the program, the style', async () => {
  const carried = html.indexOf('"application/json"')
  const program = html.lastIndexOf('<script>')
  const places: [string, number][] = [
    ['entry', html.indexOf('in a hurry') + 5],
    ['hash', html.indexOf('\\"position\\"', carried) + 14],
    ['seal', html.indexOf('data-sha256="') + 20],
    ['head', html.indexOf('"madeAt":') + 12],
    ['broken', html.indexOf('"pieces":[') + 9],
    ['program', program + Math.floor((html.length - program) / 2)],
  ]
  for (const [name, at] of places) {
    const other = html[at] === '7' ? '8' : '7'
    const { page, close } = await openedAs(name, html.slice(0, at) + other + html.slice(at + 1))
    if (name === 'program')
      await expect.poll(() => page.textContent('body')).toContain('NOT CHECKED')
    else await page.waitForSelector('[data-check=changed]')
    expect([name, await page.locator('[data-check=whole]').count()]).toEqual([name, 0])
    if (name === 'entry') await shot(page, 'job-export-changed')
    await close()
  }
})

test('in Spanish it says so in Spanish', async () => {
  await site.send('ChangeSettings', { language: 'es' })
  const answer = await fetch(`${site.url}/api/jobs/${JOB}/export`)
  const { page, close } = await openedAs('spanish', await answer.text())
  await page.waitForSelector('[data-check=whole]')
  await expect.poll(() => page.textContent('[data-check=whole]')).toContain('SIN CAMBIOS')
  await close()
})
