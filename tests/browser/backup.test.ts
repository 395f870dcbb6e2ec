import { renameSync } from 'node:fs'
import { expect, test } from 'vitest'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { backedUp, filled, note } from '../support/copies.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { post, ran, serverProcess } from '../support/serverProcess.ts'
import { entriesKnown } from './onScreen.ts'

/** Backups as a kiosk shows them, on servers in processes of their own. */

const browser = browserForTests()
const place = folderForTests()
const stick = folderForTests()

const open = (url: string, path = '/') =>
  openPage(browser, { url }, { path, expected: /Failed to load resource|ERR_|EventSource/ })

test('are set, made at once and turned off in Setup, with the keyboard; a lost drive is said', async () => {
  const server = await serverProcess(place.folder)
  await filled(server, [40])
  const kiosk = await open(server.url, '/#/setup/backup')
  const { page } = kiosk
  await page.getByText('No backups are set').waitFor()
  await shot(page, 'backup-notSet')
  await page.locator('input[name=folder]').fill('backups')
  await page.getByRole('button', { name: 'SAVE' }).press('Enter')
  await page.getByText('"backups" won\'t work').waitFor()
  await page.locator('input[name=folder]').fill(`${stick.folder}/backups`)
  await page.getByRole('button', { name: 'SAVE' }).press('Enter')
  await page.getByText('No backup has been made yet.').waitFor()
  await page.locator('[data-act=backUpNow]').press('Enter')
  await page.locator('[data-last=done]').waitFor({ timeout: 90_000 })
  await expect.poll(() => page.locator('[data-last=done]').textContent()).toContain('9 entries')
  await shot(page, 'backup-done')
  await page.setViewportSize({ width: 390, height: 844 })
  await shot(page, 'backup-done-narrow')
  renameSync(stick.folder, `${stick.folder}-away`)
  await page.locator('[data-act=backUpNow]').click()
  await page.locator('[data-failed=folderMissing]').waitFor({ timeout: 90_000 })
  await shot(page, 'backup-failed')
  renameSync(`${stick.folder}-away`, stick.folder)
  await post(`${server.url}/api/commands`, {
    id: 'lang',
    type: 'ChangeSettings',
    data: { language: 'es' },
  })
  await page.getByText('Conecte su unidad').waitFor()
  await page.getByRole('button', { name: 'QUITAR RESPALDOS' }).press('Enter')
  await page.getByRole('button', { name: '¿SEGURO?' }).press('Enter')
  await page.locator('[data-backup=notSet]').waitFor()
  await kiosk.close()
})

test('the drill: a kiosk that knew later entries says so after a restore', async () => {
  const server = await serverProcess(place.folder)
  const port = Number(new URL(server.url).port)
  await filled(server)
  await backedUp(place.folder, stick.folder)
  const kiosk = await open(server.url)
  await kiosk.page.waitForSelector('nav')
  await post(`${server.url}/api/commands`, [note('after-1'), note('after-2')])
  await expect.poll(() => entriesKnown(kiosk.page)).toBe(10)
  await server.stop('SIGKILL')
  const { code, err } = await ran([
    ...['restore', stick.folder, '--data', place.folder, '--replace'],
  ])
  expect([code, err]).toEqual([0, expect.stringContaining('2 more entries')])
  const again = await serverProcess(place.folder, {}, port)
  expect(again.url).toBe(server.url)
  const gone = kiosk.page.locator('[data-gone="2"]')
  await gone.waitFor({ timeout: 60_000 })
  await expect
    .poll(() => gone.textContent())
    .toContain('lacks entries that this kiosk knows: 2 entries')
  await shot(kiosk.page, 'restored')
  await kiosk.close()
})
