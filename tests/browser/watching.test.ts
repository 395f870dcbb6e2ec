import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { CUP, command, vanInWork } from '../support/serverCommands.ts'
import { post, serverProcess } from '../support/serverProcess.ts'

/** Setup says how log, disk, backup, clock, kiosks and labels stand, on a server in a process of its own. */

const browser = browserForTests()
const place = folderForTests()

const open = (url: string) =>
  openPage(
    browser,
    { url },
    {
      ...{ path: '/#/setup/watching', serviceWorkers: 'block' },
      expected: /Failed to load resource|ERR_|EventSource/,
    },
  )

/**
 * A loudspeaker that is switched on later: some of the browsers make a sound without a touch and some do not, so
 * what the kiosk says of its own on the way to the server is said for it.
 * @returns switches it on
 */
async function switchedOffSpeaker(page: Page): Promise<() => void> {
  let sounds = false
  await page.route('**/api/kiosks', async (route) => {
    const said = route.request().postDataJSON()
    await route.continue({ postData: JSON.stringify({ ...said, sounds }) }).catch(() => {})
  })
  return () => {
    sounds = true
  }
}

test('from the first day on: what is missing, where to go, and what changed, in both languages', async () => {
  const server = await serverProcess(place.folder)
  const kiosk = await open(server.url)
  const { page } = kiosk
  const switchOn = await switchedOffSpeaker(page)
  const part = (name: string) => page.locator(`[data-part=${name}]`)
  await page.locator('[data-part=kiosks][data-is=todo]').waitFor()
  await expect.poll(() => part('log').textContent()).toContain('1 entry.')
  await expect.poll(() => part('disk').textContent()).toContain('left.')
  await expect.poll(() => part('backup').textContent()).toContain('Never backed up.')
  await expect.poll(() => part('clock').textContent()).toContain('is that of the server')
  await expect.poll(() => part('kiosks').textContent()).toContain('(this kiosk): no sound since')
  await expect.poll(() => part('label').textContent()).toContain('No label has been printed')
  await shot(page, 'watching-firstDay')
  await page.setViewportSize({ width: 390, height: 844 })
  await shot(page, 'watching-firstDay-narrow')
  await page.setViewportSize({ width: 1280, height: 800 })

  expect((await post(`${server.url}/api/commands`, vanInWork)).status).toBe(200)
  await post(`${server.url}/api/commands`, [
    command('print', 'PrintLabel', { cup: CUP }),
    command('lang', 'ChangeSettings', { language: 'es' }),
  ])
  switchOn()
  await page.locator('[data-part=kiosks][data-is=good]').waitFor()
  await expect.poll(() => part('kiosks').textContent()).toContain('con sonido desde')
  await part('label').getByText(`Vaso ${CUP}`).waitFor()
  await shot(page, 'watching-es')
  await page.setViewportSize({ width: 390, height: 844 })
  await shot(page, 'watching-es-narrow')
  await part('backup').getByRole('link', { name: 'PROGRAMAR RESPALDOS' }).press('Enter')
  await page.locator('[data-backup=notSet]').waitFor()
  await server.stop('SIGKILL')
  await page.goBack()
  await page.getByText('El servidor no contesta.').waitFor()
  await kiosk.close()
})
