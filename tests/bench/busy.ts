import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { deadlines } from '../../machines/deadlines.ts'
import { CLEAR_ROUTE, CUP, panelId, START, setUp } from '../browser/busyShop.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { CLEAR } from '../support/sheets.ts'

/** Shops for the bench, served by the real server in this process, its clock being movable. */

/** Put into every page that is measured: window.probe. */
export const PROBE = readFileSync(fileURLToPath(new URL('./probe.js', import.meta.url)), 'utf8')

const SHEET = 'clear-bench'
/** Deadlines are to fall at all moments between two ticks, not always at the same. */
const SPREAD_MS = 200
const SPREAD_STEP_MS = 123
/** Ids are eight characters long. */
const jobId = (n: number) => `JBB${panelId(n).slice(4, 6)}222`

/**
 * A shop with the given number of jobs of one panel each: their bells do not share a card.
 * @param sheet replaces figures of the clear's sheet
 */
export async function openJobs(count: number, sheet: object = {}): Promise<ShopSite> {
  const site = await serveShop(START)
  await setUp(site)
  const route = [{ ...CLEAR_ROUTE[0], sheet: SHEET }]
  await site.send('SaveSheet', { sheet: { ...CLEAR, sheet: SHEET, ...sheet } })
  for (let n = 0; n < count; n += 1) {
    await site.send('OpenJob', { job: jobId(n), title: `Delivery van ${n + 1}` })
    await site.send('AddPanel', {
      job: jobId(n),
      panel: panelId(n),
      name: `Rear quarter ${n + 1}`,
      operation: 'repair',
      areaM2: 0.2,
      route,
    })
  }
  await site.send('MixCup', {
    cup: CUP,
    sheet: SHEET,
    totalMl: 3000,
    activator: 'standard',
  })
  return site
}

/** When each coat-ready bell is due, by the clock of this machine, in order. */
export function readyAtMs(site: ShopSite): readonly number[] {
  const aheadMs = site.clock.now() - Date.now()
  return deadlines(site.shops.ownWriter.state())
    .filter(({ bell }) => bell === 'coatReady')
    .map(({ dueAt }) => dueAt - aheadMs)
    .sort((a, b) => a - b)
}

export type Apart = {
  readonly alerts: number
  readonly everyMs: number
  /** From now to the first bell. */
  readonly leadMs: number
}

/** One coat after another on each panel: their flashes end one after another, the first soon. */
export async function finishCoats(site: ShopSite, { alerts, everyMs, leadMs }: Apart) {
  for (let n = 0; n < alerts; n += 1) {
    await site.send('FinishCoat', { panels: [panelId(n)], cup: CUP })
    site.clock.move(everyMs + ((n * SPREAD_STEP_MS) % SPREAD_MS))
  }
  site.clock.move((readyAtMs(site)[0] ?? 0) - Date.now() - leadMs)
}
