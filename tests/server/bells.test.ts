import { describe, expect, onTestFinished, test } from 'vitest'
import type { BellsAnswer } from '../../machines/contract.ts'
import { deadlines } from '../../machines/deadlines.ts'
import { sqliteStore } from '../../server/log/sqlite.ts'
import { logFolder } from '../support/logFiles.ts'
import { command, vanInWork } from '../support/serverCommands.ts'
import { MINUTE, openTestShop, TestClock } from '../support/serverShop.ts'
import { CLEAR } from '../support/sheets.ts'

/** GET /api/bells: how a shop's bells did. */

const DAY = 24 * 60 * MINUTE

async function vanShop(given: Parameters<typeof openTestShop>[0] = {}) {
  const shop = await openTestShop(given)
  const { handle, state } = shop.shops.ownWriter
  let count = 0
  const must = async (type: string, data: object, extra: object = {}) => {
    count += 1
    const answer = await handle(command(`bell-${count}`, type, data, extra))
    expect([type, JSON.stringify(answer.body), answer.status]).toEqual([
      type,
      JSON.stringify(answer.body),
      200,
    ])
    return `bell-${count}.0`
  }
  for (const one of vanInWork) expect((await handle(one)).status).toBe(200)
  await must('MixCup', { cup: 'CCCC3333', sheet: CLEAR.sheet, totalMl: 300, activator: 'standard' })
  /** Moves on to the moment of a bell, and rings it. */
  const ring = async (bell: string) => {
    const due = deadlines(state()).find((deadline) => deadline.bell === bell)
    if (!due) throw new Error(`no ${bell} stands`)
    shop.clock.advance(Math.max(0, due.dueAt - shop.clock.now()))
    return { key: due.key, entry: await must('RingBell', { key: due.key, wasHeard: true }) }
  }
  const figures = async (query = '') => {
    const { status, body } = await shop.get(`/api/bells${query}`)
    expect(status).toBe(200)
    return body as BellsAnswer
  }
  return { ...shop, must, ring, figures }
}

describe('the figures of a shop’s bells', () => {
  test('are read from the log: what rang, how soon it was answered, and no mistake', async () => {
    const { must, ring, figures, clock } = await vanShop()
    const near = await ring('potNear')
    clock.advance(3 * MINUTE)
    await must('AcknowledgeBell', { key: near.key })
    const over = await ring('potOver')
    expect((await figures()).figures).toMatchObject({
      rang: 2,
      acknowledged: 1,
      medianMs: 3 * MINUTE,
      p95Ms: 3 * MINUTE,
      neverAcknowledged: 1,
      shares: { prompt: 0, medium: 0.5, high: 0.5 },
      isHighTooOften: true,
    })
    await must('VoidEntry', { entry: over.entry, reason: 'MISTAP' })
    const { figures: after } = await figures()
    expect(after).toMatchObject({ rang: 1, neverAcknowledged: 0, isHighTooOften: false })
    expect(after.sources).toHaveLength(1)
    expect(after.sources[0]).toMatchObject({ bell: 'potNear', rang: 1 })
  })

  test('are of the days that were asked for, thirty if none were', async () => {
    const { ring, figures, clock } = await vanShop()
    await ring('potNear')
    clock.advance(2 * DAY)
    expect(await figures()).toMatchObject({ days: 30, figures: { rang: 1 } })
    expect(await figures('?days=7')).toMatchObject({ days: 7, figures: { rang: 1 } })
    const { figures: day } = await figures('?days=1')
    expect(day).toMatchObject({ rang: 0, periods: 144 })
    expect(day.to - day.from).toBe(DAY)
    expect(day.to).toBeGreaterThan(clock.now())
  })

  test('count the shop’s open hours only, once it has said them', async () => {
    const { must, figures } = await vanShop()
    expect(await figures('?days=1')).toMatchObject({ hasHours: false, figures: { periods: 144 } })
    await must('ChangeSettings', { hours: { opensAt: '08:00', closesAt: '17:00' } })
    // Nine hours of six periods.
    expect(await figures('?days=1')).toMatchObject({ hasHours: true, figures: { periods: 54 } })
    await must('ChangeSettings', { hours: { opensAt: '22:00', closesAt: '06:00' } })
    expect(await figures('?days=1')).toMatchObject({ figures: { periods: 48 } })
  })

  test('are the same from a file that was opened again', async () => {
    const place = logFolder()
    onTestFinished(place.remove)
    const clock = new TestClock()
    const first = await vanShop({ store: sqliteStore(place.file), clock })
    await first.ring('potNear')
    const told = await first.figures()
    expect(told.figures.rang).toBe(1)
    await first.shops.close()
    await first.store.close()
    const again = await openTestShop({ store: sqliteStore(place.file), clock })
    expect((await again.get('/api/bells')).body).toEqual(told)
    await again.shops.close()
    await again.store.close()
  })

  test.each(['0', '367', 'ten', '-1', '1.5', ''])(
    'of %j days are refused in a sentence',
    async (days) => {
      const { get } = await openTestShop()
      const error = {
        code: 'whole',
        field: 'days',
        params: { min: 1, max: 366, given: `"${days}"` },
        message: `days: "${days}" won't work. Use a whole number from 1 to 366.`,
      }
      expect(await get(`/api/bells?days=${days}`)).toEqual({
        status: 400,
        body: { error, errors: [error] },
      })
    },
  )

  test('are not to be had from a log that cannot be read, and that is said', async () => {
    const { store, get, reports } = await openTestShop()
    await store.close()
    expect(await get('/api/bells')).toMatchObject({
      status: 503,
      body: { error: { code: 'unreadable' } },
    })
    expect(reports).toHaveLength(1)
  })
})
