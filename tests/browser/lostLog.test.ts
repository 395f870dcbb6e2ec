import { copyFileSync, readFileSync, rmSync } from 'node:fs'
import type { Locator } from 'playwright-core'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { logFileIn, markFileIn } from '../../server/data.ts'
import { kioskFiles } from '../../server/kioskFiles.ts'
import { listen } from '../../server/listen.ts'
import { kioskRoutes } from '../../server/routes/kiosk.ts'
import { type Running, startServer } from '../../server/serve.ts'
import { timekeeper } from '../../server/time/timekeeper.ts'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { lookHere, TestComputer } from '../support/clockedServer.ts'
import { command, JOB, vanInWork } from '../support/serverCommands.ts'
import { dataFolder, KIOSK_CACHE } from '../support/serverProcess.ts'
import { entriesKnown } from './onScreen.ts'

/** A kiosk whose server lost entries, or does not know the time: said on every screen. */

/** How far two keys stand apart, px. */
async function apartPx(keys: Locator): Promise<number> {
  const [a, b] = await Promise.all([keys.nth(0).boundingBox(), keys.nth(1).boundingBox()])
  if (!a || !b) return Number.NaN
  return Math.max(b.x - (a.x + a.width), b.y - (a.y + a.height))
}

const browser = browserForTests()
let place: ReturnType<typeof dataFolder>
let running: Running | null = null
let computer: TestComputer
let port = 0
beforeEach(() => {
  place = dataFolder()
  port = 0
  computer = new TestComputer(Date.now())
})
afterEach(async () => {
  await stop()
  place.remove()
})

async function serve(): Promise<string> {
  const kiosk = await kioskFiles(KIOSK_CACHE)
  running = await startServer(
    { port, data: place.folder },
    {
      clock: (lastMs) => timekeeper(computer, lastMs),
      listen,
      build: kiosk.build,
      timeZone: () => 'Europe/Madrid',
      look: lookHere,
      report: () => {},
      more: [kioskRoutes(kiosk)],
    },
  )
  port = Number(new URL(running.url).port)
  return running.url
}

async function stop(): Promise<void> {
  await running?.stop()
  running = null
}

async function send(...commands: readonly object[]): Promise<void> {
  for (const one of commands)
    expect(await running?.shops.ownWriter.handle(one)).toMatchObject({ status: 200 })
}

const note = (id: string) => command(id, 'AddNote', { job: JOB, text: id })
const logFile = () => logFileIn(place.folder)
const copyOf = () => `${place.folder}/older.sqlite`

function restoreOlder(): void {
  for (const beside of ['-wal', '-shm']) rmSync(`${logFile()}${beside}`, { force: true })
  copyFileSync(copyOf(), logFile())
}

const open = (url: string) =>
  openPage(browser, { url }, { expected: /Failed to load resource|ERR_|EventSource/ })

test.each(['shorter', 'as long, with other entries'])(
  'a log that is replaced by an older copy (%s) is said, through a reload, and what is gone can be saved',
  async (how) => {
    await serve()
    await send(...vanInWork)
    await stop()
    copyFileSync(logFile(), copyOf())
    const url = await serve()
    const kiosk = await open(url)
    await kiosk.page.waitForSelector('nav')
    await send(note('one'), note('two'))
    // Known here, and kept on this device.
    await expect.poll(() => entriesKnown(kiosk.page)).toBe(10)
    await stop()
    restoreOlder()
    // Also without the mark: the kiosk knows by itself.
    rmSync(markFileIn(place.folder))
    await serve()
    if (how !== 'shorter') await send(note('three'), note('four'))
    const gone = kiosk.page.locator('[data-gone="2"]')
    await gone.waitFor()
    await expect
      .poll(() => gone.textContent())
      .toContain('lacks entries that this kiosk knows: 2 entries from')
    // A coat may be among them: nothing else on the screen says that the zone may not be clear.
    await expect
      .poll(() => gone.textContent())
      .toContain('keep the mask on until the zone is clear')
    await kiosk.page.reload()
    await gone.waitFor()
    await shot(kiosk.page, `lostLog-${how.slice(0, 7)}`)
    // One touch too far throws them away.
    expect(await apartPx(gone.getByRole('button'))).toBeGreaterThan(15 * 3.77)
    const [download] = await Promise.all([
      kiosk.page.waitForEvent('download'),
      gone.getByRole('button', { name: 'SAVE THEM' }).press('Enter'),
    ])
    const lines = readFileSync(await download.path(), 'utf8')
      .trim()
      .split('\n')
    expect(lines.map((line) => JSON.parse(line).data.text)).toEqual(['one', 'two'])
    await gone.getByRole('button', { name: 'DISMISS' }).press('Enter')
    await gone.waitFor({ state: 'detached' })
    await kiosk.page.reload()
    await kiosk.page.waitForSelector('nav')
    expect(await gone.count()).toBe(0)
    await kiosk.close()
  },
)

test('a mark ahead of the log is said on every kiosk until one dismisses it', async () => {
  await serve()
  await send(...vanInWork)
  await stop()
  copyFileSync(logFile(), copyOf())
  await serve()
  await send(note('one'), note('two'), note('three'))
  await stop()
  restoreOlder()
  const kiosk = await open(await serve())
  const loss = kiosk.page.locator('[data-loss=short]')
  await loss.waitFor()
  await expect.poll(() => loss.textContent()).toContain('3 entries are missing')
  await loss.getByRole('button', { name: 'DISMISS' }).press('Enter')
  // With every beat the server says what it lacks, from when it has the press on without.
  const left = () => {
    computer.pass(5_000)
    return loss.count()
  }
  await expect.poll(left).toBe(0)
  await kiosk.close()
})

test('a clock that jumped is not followed until a person confirms it, with the keyboard', async () => {
  const kiosk = await open(await serve())
  await kiosk.page.waitForSelector('nav')
  computer.step(3_600_000)
  computer.pass(1_000)
  const doubt = kiosk.page.locator('[data-doubt=jumped]')
  await doubt.waitFor()
  await shot(kiosk.page, 'clockJumped')
  await kiosk.page.setViewportSize({ width: 390, height: 844 })
  await shot(kiosk.page, 'clockJumped-narrow')
  const keys = doubt.getByRole('button', { name: 'IT IS' })
  await expect.poll(() => keys.count()).toBe(2)
  await keys.nth(1).press('Enter')
  await doubt.waitFor({ state: 'detached' })
  await expect
    .poll(() => running?.shops.ownWriter.state().things.devices.shop?.context.clock)
    .toMatchObject([{ kind: 'jumped' }, { kind: 'confirmed' }])
  await kiosk.close()
})
