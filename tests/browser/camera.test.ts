import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { cupLabelOf, labelStyleOf } from '../../labels/fromState.ts'
import { layoutCupLabel, STOCKS } from '../../labels/layout.ts'
import { labelBitmap } from '../../labels/render.ts'
import { NAMED, openBrowser, openPage, serveKiosk, shot } from '../support/browser.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { filmOf } from '../support/cameraFilm.ts'
import { CLEAR } from '../support/sheets.ts'

/** The camera of a device, before which the label of a cup is held. */

const CUP = 'K7QDM2XV'
const CAMERA = ['--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream']

let site: ShopSite
let folder: string
let seeing: Browser
let blind: Browser

beforeAll(async () => {
  site = await serveShop(Date.UTC(2026, 10, 25, 8))
  await site.send('SaveSheet', { sheet: CLEAR })
  await site.send('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 600, activator: 'standard' })
  await site.send('PrintLabel', { cup: CUP })
  const state = site.shops.ownWriter.state()
  const label = cupLabelOf(state, CUP)
  if (label === null) throw new Error('The cup has no label.')
  const layout = layoutCupLabel(label, { stock: STOCKS['57x32'], dpi: 203 }, labelStyleOf(state))
  folder = mkdtempSync(join(tmpdir(), 'flashbell-film-'))
  const film = join(folder, 'label.y4m')
  writeFileSync(film, filmOf(labelBitmap(layout)))
  ;[seeing, blind] = await Promise.all([
    openBrowser([...CAMERA, `--use-file-for-fake-video-capture=${film}`]),
    openBrowser(),
  ])
})
afterAll(async () => {
  await Promise.all([seeing.close(), blind.close(), site.stop()])
  rmSync(folder, { recursive: true, force: true })
})

test('the camera reads the label of a cup, with nothing from elsewhere, and stops', async () => {
  const { page, close } = await openPage(seeing, site, { path: '/#/scan', size: 'phone' })
  await page.click('[data-act="camera"]')
  await page.waitForSelector('.scan-cup')
  await expect.poll(() => page.textContent('.scan-cup h2')).toContain(CUP.slice(0, 4))
  expect(await page.locator('video').count()).toBe(0)
  await shot(page, 'camera-read-phone')
  await close()
})

test('a device without a camera says so in a sentence', async () => {
  const { page, close } = await openPage(blind, site, { path: '/#/scan' })
  await page.click('[data-act="camera"]')
  await page.waitForSelector('.camera [role=alert] >> text=no camera')
  await close()
})

test('a page that is not secure says why there is no camera', async () => {
  const kiosk = await serveKiosk()
  const port = new URL(kiosk.url).port
  const named = await openBrowser([`--host-resolver-rules=MAP ${NAMED} 127.0.0.1`])
  const page = await named.newPage()
  await page.goto(`http://${NAMED}:${port}/#/scan`)
  expect(await page.evaluate(() => isSecureContext)).toBe(false)
  await page.click('[data-act="camera"]')
  await page.waitForSelector('.camera [role=alert] >> text=page is not secure')
  await named.close()
  await kiosk.stop()
})
