import { expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { command } from '../support/serverCommands.ts'
import { post, serverProcess } from '../support/serverProcess.ts'
import { CLEAR } from '../support/sheets.ts'
import { MINUTE } from './busyShop.ts'

/** After a power cut every bell is where the log left it. Real processes, killed. */

const browser = browserForTests(SOUND)
const place = folderForTests()

const OVER = 'AAAA2222'
const PUT_OFF = 'BBBB2222'
const WHILE_OFF = 'CCCC2222'

/** A cup of clear, which is near its end 48 minutes after it was mixed and over after 60. */
function mixed(cup: string, minutesAgo: number) {
  const at = Date.now() - minutesAgo * MINUTE
  const data = { cup, sheet: CLEAR.sheet, totalMl: 300, job: 'VANREAR2' }
  return { ...command(`mix-${cup}`, 'MixCup', data), at, reason: 'LATE_ENTRY' }
}

test('bells that fell due while everything was off are raised with when and how long ago; answered and snoozed ones stay so', async () => {
  const first = await serverProcess(place.folder)
  const late = mixed(WHILE_OFF, 52)
  const { body } = await post(`${first.url}/api/commands`, [
    command('zone', 'ChangeSettings', { timeZone: 'UTC', clock: '24h' }),
    command('sheet', 'SaveSheet', { sheet: CLEAR }),
    command('job', 'OpenJob', { job: 'VANREAR2', title: 'Delivery van, rear corner' }),
    mixed(OVER, 75),
    mixed(PUT_OFF, 50),
    late,
    command('ring-over', 'RingBell', { key: `potOver:${OVER}` }),
    command('answer', 'AcknowledgeBell', { key: `potOver:${OVER}` }),
    command('ring-near', 'RingBell', { key: `potNear:${PUT_OFF}` }),
    command('put-off', 'SnoozeBell', { key: `potNear:${PUT_OFF}`, minutes: 5 }),
  ])
  expect(body.map(({ status }: { status: number }) => status)).toEqual(body.map(() => 200))
  await first.stop('SIGKILL')

  const again = await serverProcess(place.folder)
  const site = { url: again.url, stop: async () => void (await again.stop('SIGKILL')) }
  const { page, close } = await openPage(browser, site)
  const due = new Date(late.at + 48 * MINUTE).toISOString().slice(11, 16)
  await page.waitForSelector(`[data-bell=potNear] >> text=/due ${due}, \\d+ min ago/`)
  await page.waitForSelector('[data-put-off=potNear] >> text=/[34]:\\d\\d/')
  // The cup that was over is still seen to be; nobody is called to it again.
  await page.waitForSelector(`[data-cup=${OVER}] .left.bell[data-sound=B2]`)
  expect(await page.locator('.takeover').count()).toBe(0)
  await expect.poll(() => page.locator('[data-bell]').count()).toBe(1)
  await shot(page, 'bells-restart')
  await close()
  await site.stop()
})
