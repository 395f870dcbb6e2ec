import { expect, test } from 'vitest'
import { readingsOf } from '../../machines/climate/fold.ts'
import { emptyState } from '../../machines/state.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { type Reader, readerOf } from '../../server/reading.ts'
import { withSpan } from '../../server/reload.ts'
import { entriesAfter } from '../support/logEntries.ts'
import { MINUTE } from '../support/serverShop.ts'

/** A stretch of a zone's air comes back from the log some hours at a time: a sensor says a thousand things a day. */

const SHOP = 'SHAPSHAP'
const START = Date.UTC(2026, 0, 5)
const DAY = 24 * 60 * MINUTE

/** @param everyMin how often the sensor spoke, through five days */
async function heard(everyMin: number) {
  const store = memoryStore()
  const said = Array.from({ length: (5 * DAY) / (everyMin * MINUTE) }, (_, n) => {
    const at = START + n * everyMin * MINUTE
    const data = { airC: 18 + (n % 5), rh: 0.5 }
    return { type: 'ClimateRead', zone: 'booth', data, at, enteredAt: at, recordedAt: at }
  })
  await store.append(SHOP, 0, entriesAfter(SHOP, await store.head(SHOP), said))
  const pieces: number[] = []
  const reader = readerOf(store, SHOP)
  const counting: Reader = {
    ...reader,
    byThing: async (...asked) => {
      const found = await reader.byThing(...asked)
      pieces.push(found.length)
      return found
    },
  }
  return { said, pieces, reader: counting, state: emptyState(SHOP, '') }
}

test('three days of a busy sensor are read in pieces, with the reading that held when they began', async () => {
  const { said, pieces, reader, state } = await heard(2)
  const span = { zone: 'booth', fromMs: START + DAY + MINUTE, toMs: START + 4 * DAY }
  const whole = await withSpan(state, span, reader)
  const wanted = said.filter(({ at }) => at >= START + DAY && at <= span.toMs)
  expect(readingsOf(whole, 'booth').map(({ at }) => at)).toEqual(wanted.map(({ at }) => at))
  expect(pieces.reduce((a, b) => a + b)).toBe(wanted.length)
  expect(Math.max(...pieces) / wanted.length).toBeLessThan(0.1)
})

test('a silent week before it is not looked through piece by piece', async () => {
  const { said, pieces, reader, state } = await heard(2)
  const last = said.at(-1)?.at ?? 0
  const span = { zone: 'booth', fromMs: last + 300 * DAY, toMs: last + 300 * DAY + 60 * MINUTE }
  const whole = await withSpan(state, span, reader)
  expect(readingsOf(whole, 'booth').map(({ at }) => at)).toEqual([last])
  expect(pieces.length).toBeLessThanOrEqual(2)
})
