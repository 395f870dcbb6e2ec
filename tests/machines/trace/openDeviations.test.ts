import { describe, expect, test } from 'vitest'
import {
  CLEAR_CUP,
  CLEAR_ONLY,
  coat,
  DOOR,
  JOB,
  outsideOf,
  queued,
  refusalOf,
  said,
  stateOf,
  vanWith,
} from '../../support/given.ts'
import type { Shop } from '../../support/shop.ts'

/** What nobody has decided about blocks the close of a job, unless a reason is given. */

const override = { reason: 'UNKNOWN' }

/** Two coats of clear; the second was pressed on a kiosk without a server, after 1 of its 10 min. */
function tooSoon(): { shop: Shop; start: string; finish: string } {
  const shop = coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 3).at(20)
  const keep = (min: number, type: string, data: object): string =>
    queued(shop, min, type, data)[0]?.id ?? ''
  const start = keep(4, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
  const finish = keep(6, 'FinishCoat', { panels: [DOOR] })
  shop.at(40).do('PassPanel', { panel: DOOR })
  return { shop, start, finish }
}
const close = (shop: Shop, more: object = {}) => shop.send('CloseJob', { job: JOB, ...more })

describe('closing a job with a limit that was broken', () => {
  test('is refused, and names the panel and where to look', () => {
    const { shop } = tooSoon()
    const refusal = refusalOf(close(shop))
    expect(refusal.code).toBe('deviationsOpen')
    expect(refusal.message).toBe(
      'Nobody has decided about a broken limit: Rear door. History, TRACE A DEFECT shows what they are.',
    )
  })

  test.each(['accept', 'rework', 'discard', 'watch'])(
    'is done once somebody has said: %s',
    (disposition) => {
      const { shop, start } = tooSoon()
      shop.do('SettleDeviation', {
        ...{ job: JOB, entry: start, code: 'flashNotOver', disposition, reason: 'BREAK' },
      })
      expect(said(close(shop))).toBe('done')
      expect(stateOf(shop, 'job', JOB)).toBe('closed')
    },
  )

  test('a word on another limit of it decides nothing', () => {
    const { shop, start } = tooSoon()
    shop.do('SettleDeviation', {
      ...{ job: JOB, entry: start, code: 'windowShut', disposition: 'accept', reason: 'BREAK' },
    })
    expect(said(close(shop))).toBe('deviationsOpen')
  })

  test('a decision that was taken back decides nothing any more', () => {
    const { shop, start } = tooSoon()
    const [settled] = shop.do('SettleDeviation', {
      ...{ job: JOB, entry: start, code: 'flashNotOver', disposition: 'accept', reason: 'BREAK' },
    })
    shop.do('VoidEntry', { entry: settled?.id, reason: 'MISTAP' })
    expect(said(close(shop))).toBe('deviationsOpen')
  })

  test('is done with a reason, which the close keeps', () => {
    const { shop } = tooSoon()
    const answer = close(shop, { override })
    expect('drafts' in answer && answer.drafts[0]?.override).toMatchObject({
      ...{ reason: 'UNKNOWN', codes: ['deviationsOpen'] },
    })
  })

  test('is done once the coat was taken back: nothing was broken', () => {
    const { shop, start, finish } = tooSoon()
    const passed = shop.entries.findLast(({ type }) => type === 'PanelPassed')
    for (const entry of [passed?.id, finish, start])
      shop.do('VoidEntry', { entry, reason: 'WRONG_PART' })
    shop.do('PassPanel', { panel: DOOR, override })
    expect(said(close(shop))).toBe('done')
  })

  test('an override gave its reason when it was pressed: it is not asked for again', () => {
    const shop = coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 3)
    coat(shop, CLEAR_CUP, 4, 6, { override: { reason: 'hurry' } })
    shop.at(40).do('PassPanel', { panel: DOOR })
    expect(said(close(shop))).toBe('done')
  })

  test('of a panel that was removed nothing is asked', () => {
    const { shop } = tooSoon()
    shop.do('RemovePanel', { panel: DOOR })
    expect(said(close(shop))).toBe('done')
  })

  test('a close that was pressed offline is kept, with what nobody had decided', () => {
    const { shop } = tooSoon()
    const [closed] = queued(shop.at(60), 45, 'CloseJob', { job: JOB })
    expect(outsideOf(closed)).toEqual(['deviationsOpen'])
  })
})
