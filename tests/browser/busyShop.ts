import type { ShopSite } from '../support/browserShop.ts'
import { BASE, CLEAR, SEALER } from '../support/sheets.ts'

/** Invented shops for the browser tests: how much is running decides what a Wall has to hold. */

export const START = Date.UTC(2026, 10, 25, 8)
export const MINUTE = 60_000

/** Ids are eight characters without 0, O, 1, I, L and U. */
const PLACES = '23456789ABCDEFGHJK'
export const panelId = (n: number): string =>
  `PANE${PLACES[Math.floor(n / 18) % 18]}${PLACES[n % 18]}22`
export const CUP = 'K7QDM2XV'
export const BASE_CUP = 'M2XVK7QD'
export const JOB = 'VANREAR2'

const NAMES = [
  'Rear quarter, right',
  'Sliding door, right',
  'Tailgate',
  'Rear bumper cover',
  'Roof',
]

export const CLEAR_ROUTE = [
  { stage: 'clear', sheet: CLEAR.sheet },
  { stage: 'cure', sheet: CLEAR.sheet },
  { stage: 'polish' },
]
const FULL_ROUTE = [{ stage: 'base', sheet: BASE.sheet, colour: 'body' }, ...CLEAR_ROUTE]

/** Sheets, air, zones, a gun, a compressor. @param settings of the shop, such as its language */
export async function setUp(site: ShopSite, settings: object = {}): Promise<void> {
  for (const sheet of [CLEAR, BASE, SEALER]) await site.send('SaveSheet', { sheet })
  await site.send('SaveZone', { zone: 'booth', name: 'Booth', clearanceMin: 25 })
  await site.send('SaveGun', { gun: 'gun-2', name: 'Gun 2', airLpm: 400, inletKpa: 200 })
  await site.send('SaveAirSupply', {
    air: 'main',
    receiverL: 270,
    freeAirLpm: 350,
    cutOutKpa: 1000,
  })
  await site.send('ReadClimate', { zone: 'booth', airC: 23.4, rh: 0.48, surfaceC: 20.8 })
  await site.send('ReadClimate', { zone: 'bench', airC: 21, rh: 0.5 })
  if (Object.keys(settings).length > 0) await site.send('ChangeSettings', settings)
}

/** A job with a number of panels ready for their first coat. */
export async function openVan(site: ShopSite, panels: number, route: object[] = CLEAR_ROUTE) {
  await site.send('OpenJob', {
    job: JOB,
    title: 'Delivery van, rear right corner',
    colours: [{ key: 'body', code: 'OCHRE 3' }],
  })
  for (let n = 0; n < panels; n += 1) {
    const name = n < NAMES.length ? NAMES[n] : `${NAMES[n % NAMES.length]} ${Math.floor(n / 5)}`
    await site.send('AddPanel', {
      job: JOB,
      panel: panelId(n),
      name,
      operation: 'repair',
      areaM2: 0.5,
      route,
    })
  }
  await site.send('MixCup', {
    cup: CUP,
    sheet: CLEAR.sheet,
    totalMl: 600,
    job: JOB,
    activator: 'standard',
  })
}

/** Lanes at all kinds of moments: one coat after another within some minutes, until now. */
export async function sprayAway(site: ShopSite, panels: number, withinMin = 20): Promise<void> {
  for (let n = 0; n < panels; n += 1) {
    await site.send('FinishCoat', { panels: [panelId(n)], cup: CUP })
    site.clock.move((withinMin * MINUTE) / panels)
  }
}

/** A whole day at once: base, clear, a cure, two cups, a loaded gun. */
export async function busyVan(site: ShopSite): Promise<void> {
  await openVan(site, 5, FULL_ROUTE)
  await site.send('MixCup', {
    cup: BASE_CUP,
    sheet: BASE.sheet,
    totalMl: 300,
    job: JOB,
    colour: 'body',
  })
  await site.send('LoadGun', { gun: 'gun-2', cup: CUP })
  await site.send('PrintLabel', { cup: CUP })
}
