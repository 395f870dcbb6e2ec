import { expect, test } from 'vitest'
import { type Notice, noticesOf } from '../../../machines/trace/notices.ts'
import { traced } from '../../../machines/trace/trace.ts'
import {
  air,
  BASE_CLEAR,
  BASE_CUP,
  CLEAR_CUP,
  coat,
  DOOR,
  queued,
  vanWith,
} from '../../support/given.ts'
import { MINUTE, minute, type Shop } from '../../support/shop.ts'

/** What a record lacks and what may be off in it is said before anything is read from it. */

const noticed = ({ entries }: Pick<Shop, 'entries'>): Notice[] =>
  noticesOf(traced(entries), entries)
const whole = (shop: Shop) =>
  coat(air(coat(coat(shop, BASE_CUP, 1, 3), BASE_CUP, 13, 15), 31, 20), CLEAR_CUP, 32, 34)

test('of a job that was recorded as it happened, with its air, nothing is said', () => {
  expect(noticed(whole(air(vanWith(BASE_CLEAR), 0, 20)))).toEqual([])
})

test('of one on which nothing was sprayed nothing either: that is another sentence', () => {
  expect(noticed(vanWith(BASE_CLEAR))).toEqual([])
})

test('air that was read for some coats, and for none', () => {
  expect(noticed(whole(vanWith(BASE_CLEAR)))).toEqual([{ is: 'someAir', coats: 2, of: 3 }])
  const none = coat(vanWith(BASE_CLEAR), BASE_CUP, 1, 3)
  expect(noticed(none).map(({ is }) => is)).toEqual(['noAir', 'neverCleared'])
})

test('what was told late, to the minute from which that counts', () => {
  const told = (min: number) => {
    const shop = air(vanWith(BASE_CLEAR), 0, 20)
    queued(shop.at(min), 1, 'StartCoat', { panels: [DOOR], cup: BASE_CUP })
    return noticed(shop).filter(({ is }) => is === 'toldLate')
  }
  expect(told(11)).toEqual([])
  expect(told(12)).toEqual([{ is: 'toldLate', entries: 1, mostMs: 11 * MINUTE }])
})

test('what was taken back counts no more as told late', () => {
  const shop = air(vanWith(BASE_CLEAR), 0, 20)
  const [start] = queued(shop.at(60), 1, 'StartCoat', { panels: [DOOR], cup: BASE_CUP })
  shop.do('VoidEntry', { entry: start?.id, reason: 'WRONG_PART' })
  expect(noticed(shop)).toEqual([{ is: 'takenBack', entries: 1 }])
})

test('a start that nobody said, a clock that was set and one that was off', () => {
  const shop = air(vanWith(BASE_CLEAR), 0, 20).at(9)
  queued(shop, 8, 'FinishCoat', { panels: [DOOR], cup: BASE_CUP })
  shop.do('ReportClockJump', { fromMs: minute(9), toMs: minute(49) })
  const entries = shop.entries.map((entry) =>
    entry.type === 'CoatFinished' ? { ...entry, clockOffsetMs: -20 * MINUTE } : entry,
  )
  expect(noticed({ entries })).toEqual(
    expect.arrayContaining([
      { is: 'clockSet', at: minute(9), byMs: 40 * MINUTE },
      { is: 'clockOff', entries: 1, mostMs: 20 * MINUTE },
      { is: 'estimated', coats: 1 },
    ]),
  )
})
