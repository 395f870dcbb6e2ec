import { afterAll, beforeAll, expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'

/** Jobs that were recorded badly, looked at: what is missing is said, and a long job is drawn at once. */

const START = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const [JOB, DOOR, BASE_CUP] = ['VANJAB22', 'DRDR2222', 'BSBS2222']
const NOTES = 5_000

const browser = browserForTests()
let site: ShopSite

/** Base twice on one panel that was never cleared; nobody read the air, the clock was set, a coat told late. */
beforeAll(async () => {
  site = await serveShop(START)
  const { send, clock } = site
  for (const sheet of [BASE, CLEAR]) await send('SaveSheet', { sheet })
  await send('OpenJob', { job: JOB, title: 'Delivery van, rear right corner' })
  await send('AddPanel', {
    ...{ job: JOB, panel: DOOR, name: 'Rear door, right', operation: 'repair', areaM2: 1 },
    route: [
      { stage: 'base', sheet: BASE.sheet },
      { stage: 'clear', sheet: CLEAR.sheet },
    ],
  })
  await send('MixCup', { cup: BASE_CUP, sheet: BASE.sheet, totalMl: 600, job: JOB })
  clock.move(MINUTE)
  await send('StartCoat', { panels: [DOOR], cup: BASE_CUP })
  clock.move(4 * MINUTE)
  await send('FinishCoat', { panels: [DOOR] })
  const at = clock.now() + 12 * MINUTE
  clock.move(40 * MINUTE)
  await send('ReportClockJump', { fromMs: clock.now(), toMs: clock.now() + 20 * MINUTE })
  await send('AddNote', { job: JOB, text: 'The clock was set' })
  const late = { at, enteredAt: at }
  await send('StartCoat', { panels: [DOOR], cup: BASE_CUP }, late)
  await send('FinishCoat', { panels: [DOOR] }, { at: at + MINUTE, enteredAt: at + MINUTE })
  // Pressed as it happened: the timeline reaches to it, whether a bell has rung by then or not.
  await send('InspectCoat', { panel: DOOR, result: 'good' })
})
afterAll(() => site.stop())

const open = (width = 390, height = 844) =>
  openPage(browser, site, {
    path: `/#/trace/${JOB}`,
    hasTouch: true,
    viewport: { width, height },
  })

test('no readings, a clock that was set, a coat told late and a panel never cleared: each is said', async () => {
  const { page, close } = await open()
  await page.waitForSelector('.trace-box svg')
  const said = async (is: string) => page.locator(`[data-notice=${is}]`).textContent()
  await expect.poll(() => said('noAir')).toContain('not recorded')
  await expect.poll(() => said('clockSet')).toContain('forward by 20 min')
  await expect.poll(() => said('toldLate')).toContain('2 entries were told late')
  await expect.poll(() => said('neverCleared')).toContain('Rear door, right')
  await shot(page, 'trace-phone-notices')
  // What came late stands apart at a moment at which it was not known.
  const from = Number(await page.getAttribute('.trace-moment', 'min'))
  await page.locator('.trace-moment').evaluate(
    (input, at) => {
      ;(input as HTMLInputElement).value = String(at)
      input.dispatchEvent(new Event('input', { bubbles: true }))
    },
    from + 20 * MINUTE,
  )
  await expect.poll(() => page.locator('[data-mark=later]').count()).toBe(2)
  await expect.poll(() => page.locator('[data-moment]').textContent()).toContain('drawn apart')
  await expect
    .poll(() => page.locator('[data-later=CoatStarted]').textContent())
    .toContain('entered 09:45')
  await page.locator('[data-row=later]').scrollIntoViewIfNeeded()
  await shot(page, 'trace-phone-later')
  await close()
})

test('5,000 entries on one job are one page that can be read and moved', async () => {
  const writer = site.shops.ownWriter
  const looks = Array.from({ length: NOTES }, (_, i) =>
    writer.handle({
      ...{ id: `look-${i}`, type: 'InspectCoat', data: { panel: DOOR, result: 'good' } },
    }),
  )
  const answers = await Promise.all(looks)
  expect(answers.filter(({ status }) => status !== 200)).toEqual([])
  const { page, close } = await open(1280, 800)
  await page.waitForSelector('.trace-box svg')
  // Of thousands in one place one is drawn, and the table has them all.
  await expect.poll(() => page.locator('.trace-box svg [data-mark=work]').count()).toBeLessThan(600)
  await page.tap('[data-fold=table] summary')
  await page.tap('[data-act=allRows]')
  await expect.poll(() => page.locator('[data-fold=table] tbody tr').count()).toBeGreaterThan(NOTES)
  await page.tap('[data-act=zoomIn]')
  await expect.poll(() => page.locator('.trace-box svg [data-mark]').count()).toBeGreaterThan(0)
  await close()
})
