import { expect, test } from 'vitest'
import { foundLater } from '../../../machines/trace/foundLater.ts'
import { traced } from '../../../machines/trace/trace.ts'
import {
  BASE_CLEAR,
  BASE_CUP,
  CLEAR_CUP,
  coat,
  DOOR,
  queued,
  vanWith,
} from '../../support/given.ts'
import { MINUTE, minute } from '../../support/shop.ts'

test('a coat that was told late lay in between: the next one had not waited for it', () => {
  const shop = coat(vanWith(BASE_CLEAR), BASE_CUP, 0, 2)
  coat(shop, BASE_CUP, 20, 22)
  expect(foundLater(traced(shop.entries))).toEqual([])
  // At 60 the other kiosk sends what it had kept: a coat from 14 to 16.
  shop.at(60)
  queued(shop, 14, 'StartCoat', { panels: [DOOR], cup: BASE_CUP }, { device: 'other' })
  queued(shop, 16, 'FinishCoat', { panels: [DOOR] }, { device: 'other' })
  const found = foundLater(traced(shop.entries))
  // 8 min at 20 °C from minute 16: the coat of minute 20 was 4 min early.
  expect(found).toMatchObject([
    {
      ...{ kind: 'foundLater', code: 'flashNotOver', limit: minute(24), value: minute(20) },
      ...{ excess: { amount: 4 * MINUTE, unit: 'ms', share: 0.5 }, isVoided: false },
      where: { panel: DOOR, stage: 'base', coat: 3 },
      disposition: { is: 'watch' },
    },
  ])
  expect(shop.entries.find(({ id }) => id === found[0]?.entry)?.outside).toBeUndefined()
})

test('what its entry says already is not found again', () => {
  const shop = coat(coat(vanWith(BASE_CLEAR), BASE_CUP, 0, 2), BASE_CUP, 12, 14)
  shop.at(20).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP, override: { reason: 'hurry' } })
  shop.at(22).do('FinishCoat', { panels: [DOOR] })
  expect(foundLater(traced(shop.entries))).toEqual([])
})
