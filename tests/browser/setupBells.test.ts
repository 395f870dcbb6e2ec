import { afterEach, expect, test } from 'vitest'
import { memoryStore } from '../../server/log/memory.ts'
import { openPage, type PageOptions, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { CLEAR } from '../support/sheets.ts'
import { MINUTE, START, setUp } from './busyShop.ts'
import { overflowPx } from './onScreen.ts'

/** How the bells did, as Setup shows it. */

const browser = browserForTests()
let site: ShopSite
afterEach(() => site.stop())

const CUPS = ['CCCC2222', 'CCCC3333', 'CCCC4444']

/**
 * Three cups near their end ring together; two are answered, after one and five minutes. One is
 * used on and rings once more when it is over, answered after a minute.
 */
async function morning(): Promise<void> {
  const [used, ...emptied] = CUPS
  for (const cup of CUPS)
    await site.send('MixCup', { cup, sheet: CLEAR.sheet, totalMl: 300, activator: 'standard' })
  site.clock.move(48 * MINUTE)
  for (const cup of CUPS) await site.send('RingBell', { key: `potNear:${cup}`, wasHeard: true })
  site.clock.move(MINUTE)
  for (const cup of emptied) await site.send('EscalateBell', { key: `potNear:${cup}`, to: 'zone' })
  await site.send('AcknowledgeBell', { key: `potNear:${used}` })
  site.clock.move(4 * MINUTE)
  await site.send('AcknowledgeBell', { key: `potNear:${emptied[0]}` })
  for (const cup of emptied) await site.send('EmptyCup', { cup, how: 'used' })
  site.clock.move(7 * MINUTE)
  await site.send('RingBell', { key: `potOver:${used}`, wasHeard: true })
  site.clock.move(MINUTE)
  await site.send('AcknowledgeBell', { key: `potOver:${used}` })
  await site.send('EmptyCup', { cup: used, how: 'discarded' })
}

async function open(options: PageOptions = {}) {
  const opened = await openPage(browser, site, { ...options, path: '/#/setup/bells' })
  await opened.page.waitForSelector('.bell-figures[aria-busy=false]')
  const text = (name: string) => opened.page.locator(`[data-figure=${name}]`).textContent()
  return { ...opened, text }
}

async function serve(settings: object = {}): Promise<void> {
  site = await serveShop(START)
  await setUp(site, settings)
}

test('a shop in which nothing has rung yet says so', async () => {
  await serve()
  const { page, close } = await open()
  await page.waitForSelector('[data-figure=none] >> text=Nothing rang in this time')
  await close()
})

test('the figures of a morning are large, each with what is normal, and the urgent share is flagged', async () => {
  await serve({ hours: { opensAt: '09:00', closesAt: '17:00' }, timeZone: 'UTC' })
  await morning()
  const { page, close, text } = await open()
  // 4 in 30 days of 48 periods each, and in one before the shop opened: 0.003.
  await expect.poll(() => text('rate')).toMatch(/^< 0\.1 bells in ten minutes/)
  await expect.poll(() => text('rate')).toContain('Acceptable')
  await expect.poll(() => text('rate')).toContain('ISA-18.2, EEMUA 191')
  await expect.poll(() => text('peak')).toMatch(/^3 bells in the busiest ten minutes/)
  await expect.poll(() => text('floods')).toMatch(/^0\.0 % of all ten-minute periods/)
  await expect.poll(() => text('median')).toMatch(/^60 s until half .*95 of 100 .* within 5 min/s)
  await expect
    .poll(() => text('never'))
    .toMatch(/^1 of 4 bells were never acknowledged.*2 called more people/)
  await expect.poll(() => text('shares')).toMatch(/0 % prompts.*75 % alarms.*25 % urgent/s)
  await expect
    .poll(() => page.locator('[data-figure=shares] [data-good=false]').textContent())
    .toMatch(/More than 10 % were urgent/)
  await expect.poll(() => text('sources')).toMatch(/1 ×.*cup CCCC/s)
  await page.click('[data-days="1"]')
  await page.waitForSelector('[data-days="1"][aria-current=page]')
  await page.waitForSelector('.bell-figures[aria-busy=false]')
  // 4 in the 48 periods of the open hours, and in one before them: 0.08.
  await expect.poll(() => text('rate')).toMatch(/^< 0\.1 bells/)
  await close()
})

test('with the server away the page says why it has no figures, and has them when it is back', async () => {
  await serve()
  await morning()
  const { page, close } = await open({ expected: /Failed to load|ERR_/ })
  await site.away()
  await page.waitForSelector('.bell-figures [role=alert] >> text=Server away')
  await site.back()
  site.clock.move(MINUTE)
  await page.waitForSelector('[data-figure=never]')
  await close()
})

test('an unreadable log is reported in the shop’s language, and so is the reason under it', async () => {
  const store = memoryStore()
  const reports: unknown[] = []
  site = await serveShop(START, store, (error) => reports.push(error))
  await setUp(site, { language: 'es' })
  const { page, close } = await open({ expected: /status of 503/ })
  await page.waitForSelector('[data-figure=none]')
  await store.close()
  await page.click('[data-days="7"]')
  await page.waitForSelector('[role=alert] >> text=no pudo leer su registro')
  await page.waitForSelector('[role=alert] >> text=/El registro está cerrado/')
  await shot(page, 'setup-bells-unread-wall-es')
  expect(reports.length).toBeGreaterThan(0)
  await close()
})

test.each([
  ['wall', 'light', 'en'],
  ['wall', 'dark', 'es'],
  ['phone', 'light', 'es'],
  ['phone', 'dark', 'en'],
] as const)(
  'on a %s in the %s theme, in %s, nothing is wider than the screen',
  async (size, colorScheme, language) => {
    await serve({ language })
    await morning()
    const { page, close } = await open({ size, colorScheme })
    expect(await overflowPx(page)).toBeLessThanOrEqual(0)
    await shot(page, `setup-bells-${size}-${colorScheme}-${language}`)
    await page.locator('[data-figure=sources]').scrollIntoViewIfNeeded()
    await shot(page, `setup-bells-more-${size}-${colorScheme}-${language}`)
    await close()
  },
)
