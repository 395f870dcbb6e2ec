import { expect } from 'vitest'
import type { Routes } from '../../server/http.ts'
import { command } from './serverCommands.ts'
import { MINUTE, openTestShop, type TestShop } from './serverShop.ts'
import { BASE, CLEAR } from './sheets.ts'

/** A job on a server, two coats of base and clear each, to be traced, exported and followed. */

export const [JOB, DOOR, SILL, BASE_CUP, CLEAR_CUP] = [
  'VANJAB22',
  'DRDR2222',
  'SKSK2222',
  'BSBS2222',
  'CRCR2222',
]
export const PANELS = [DOOR, SILL]
let count = 0

export async function must(shop: TestShop, type: string, data: object, extra: object = {}) {
  count += 1
  const answer = await shop.shops.ownWriter.handle(command(`tr-${count}`, type, data, extra))
  expect([type, answer.status, JSON.stringify(answer.body)]).toEqual([
    ...[type, 200, JSON.stringify(answer.body)],
  ])
}

/** A van with two panels; the second clear of the door went on after 4 of its 10 min. */
export async function sprayed(more: readonly Routes[]) {
  const shop = await openTestShop({ more })
  const { clock } = shop
  const pass = async (type: string, min: number, data: object) => {
    clock.advance(min * MINUTE)
    await must(shop, type, data)
  }
  for (const sheet of [BASE, CLEAR]) await must(shop, 'SaveSheet', { sheet })
  await must(shop, 'SaveZone', { zone: 'booth', name: 'Booth' })
  await must(shop, 'OpenJob', { job: JOB, title: 'Delivery van' })
  for (const panel of PANELS)
    await must(shop, 'AddPanel', {
      ...{ job: JOB, panel, name: panel, operation: 'repair', areaM2: 1, zone: 'booth' },
      route: [
        { stage: 'base', sheet: BASE.sheet },
        { stage: 'clear', sheet: CLEAR.sheet },
      ],
    })
  const air = () => must(shop, 'ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  await must(shop, 'MixCup', { cup: BASE_CUP, sheet: BASE.sheet, totalMl: 600, zone: 'booth' })
  for (const wait of [1, 9]) {
    await air()
    await pass('StartCoat', wait, { panels: PANELS, cup: BASE_CUP })
    await pass('FinishCoat', 2, { panels: PANELS, ordered: true })
  }
  clock.advance(14 * MINUTE)
  await air()
  await must(shop, 'MixCup', { cup: CLEAR_CUP, sheet: CLEAR.sheet, totalMl: 600, zone: 'booth' })
  await pass('StartCoat', 2, { panels: PANELS, cup: CLEAR_CUP })
  await pass('FinishCoat', 2, { panels: PANELS, ordered: true })
  await pass('StartCoat', 4, { panels: [DOOR], cup: CLEAR_CUP, override: { reason: 'in a hurry' } })
  await pass('FinishCoat', 2, { panels: [DOOR] })
  return shop
}
