import { expect, test } from 'vitest'
import { foundSince } from '../../../machines/trace/foundSince.ts'
import { CLEAR_CUP, coat, DOOR, JOB, queued, vanWith } from '../../support/given.ts'
import type { Shop } from '../../support/shop.ts'

/** Limits that were found to be broken when nobody could be asked about them any more. CLEAR flashes 10 min at 20 °C. */

const ONE_OR_MORE = [
  { stage: 'clear', sheet: 'clear-2k', coats: { least: 1, planned: 1, most: 3 } },
]
const found = ({ entries }: Shop) => {
  const { isClosed, deviations } = foundSince(entries, JOB)
  return [isClosed, ...deviations.map(({ kind, code }) => `${kind} ${code}`)]
}
const late = (shop: Shop, from: number, to: number) => [
  ...queued(shop, from, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP }, { device: 'other' }),
  ...queued(shop, to, 'FinishCoat', { panels: [DOOR] }, { device: 'other' }),
]
const settled = (shop: Shop, entry: string | undefined) =>
  shop.do('SettleDeviation', {
    ...{ job: JOB, entry, code: 'flashNotOver', disposition: 'accept', reason: 'BREAK' },
  })

/** One coat of clear, or two of which the second began after 17 min; passed and closed. */
function closed(coats: 1 | 2): Shop {
  const shop = coat(vanWith(ONE_OR_MORE), CLEAR_CUP, 1, 3)
  if (coats === 2) coat(shop, CLEAR_CUP, 20, 22)
  shop.at(60).do('PassPanel', { panel: DOOR })
  shop.at(61).do('CloseJob', { job: JOB })
  return shop
}

test('a coat that broke a limit and was told after the close is found, until somebody decides', () => {
  const shop = closed(1)
  expect(found(shop)).toEqual([true])
  const [start] = late(shop.at(3_000), 4, 6)
  expect(found(shop)).toEqual([true, 'outside flashNotOver'])
  settled(shop, start?.id)
  expect(found(shop)).toEqual([true])
})

test('a coat told late shows that the next had not waited for it: also of a job that is open', () => {
  const shop = closed(2)
  late(shop.at(3_000), 14, 16)
  expect(found(shop)).toContain('foundLater flashNotOver')
  const { deviations } = foundSince(shop.entries, JOB)
  const second = deviations.find(({ kind }) => kind === 'foundLater')
  shop.at(3_001).do('ReopenJob', { job: JOB })
  expect(found(shop)).toEqual([false, 'foundLater flashNotOver'])
  settled(shop, second?.entry)
  expect(found(shop)).toEqual([false])
})

test('what the close was pressed over is not asked about again', () => {
  const shop = coat(vanWith(ONE_OR_MORE), CLEAR_CUP, 1, 3).at(20)
  late(shop, 4, 6)
  shop.at(60).do('PassPanel', { panel: DOOR })
  shop.at(61).do('CloseJob', { job: JOB, override: { reason: 'UNKNOWN' } })
  expect(found(shop)).toEqual([true])
})
