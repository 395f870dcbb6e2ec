import type { Page } from 'playwright-core'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { madeContext } from '../support/things.ts'

/** A shop at whose bench a van's clear is mixed. */

export const START = Date.UTC(2026, 10, 25, 8)
export const MINUTE = 60_000
export const JOB = 'VANREAR2'
export const CUP = 'K7QDM2XV'
export const OTHER = 'M3TDM2XV'
export const TOUCH = { hasTouch: true } as const

export async function openShop(settings: object = {}): Promise<ShopSite> {
  const shop = await serveShop(START)
  const route = [
    { stage: 'base', sheet: BASE.sheet, colour: 'silver' },
    { stage: 'clear', sheet: CLEAR.sheet },
    { stage: 'cure', sheet: CLEAR.sheet },
  ]
  await shop.send('ChangeSettings', settings)
  await shop.send('SaveSheet', { sheet: CLEAR })
  await shop.send('SaveSheet', { sheet: BASE })
  await shop.send('SaveGun', { gun: 'gun-1', name: 'Clear gun', needleMm: 1.3, inletKpa: 200 })
  await shop.send('ReadClimate', { zone: 'bench', airC: 20, rh: 0.5 })
  await shop.send('OpenJob', {
    job: JOB,
    title: 'Delivery van, rear right corner',
    colours: [{ key: 'silver', code: 'S-1 silver' }],
  })
  const panel = { job: JOB, operation: 'repair', route }
  await shop.send('AddPanel', { ...panel, panel: 'REARQTR2', name: 'Rear quarter', areaM2: 1.2 })
  await shop.send('AddPanel', { ...panel, panel: 'SDEDR222', name: 'Sliding door', areaM2: 2 })
  for (const cup of [CUP, OTHER]) {
    await shop.send('MixCup', { cup, sheet: CLEAR.sheet, totalMl: 300, activator: 'standard' })
    await shop.send('PrintLabel', { cup })
    shop.clock.move(5 * MINUTE)
  }
  return shop
}

/** What the log will hold: it comes when it comes. */
export const SOON = { timeout: 60_000 }
export const stateOf = (site: ShopSite) => site.shops.ownWriter.state()
export const cupIn = (site: ShopSite, id: string) => madeContext(stateOf(site), 'cup', id)
export const pick = (page: Page, name: string, value: string) =>
  page.tap(`[data-pick="${name}"] [data-value="${value}"]`)

/** The id of the cup whose label is shown. */
export const shownCup = async (page: Page) => {
  await page.waitForSelector('.cup-label')
  return (await page.getAttribute('.cup-label', 'data-cup')) ?? ''
}
