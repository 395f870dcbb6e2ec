import { describe, expect, test } from 'vitest'
import { decide } from '../../../machines/decide.ts'
import {
  CLEAR_CUP,
  CLEAR_ONLY,
  coat,
  DOOR,
  outsideOf,
  panelOf,
  said,
  vanWith,
} from '../../support/given.ts'
import { MINUTE, type Shop } from '../../support/shop.ts'

const SECOND = 1_000
const DAY = 1_440 * MINUTE
/** A van at minute 100, with nothing against a look at its door. */
function shopAt100(): Shop {
  return coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 5).at(100)
}
type When = { at?: number; enteredAt?: number; reason?: string }
/** The answer to a look that happened and was entered a number of ms before it arrived. */
function look(beforeMs: { at?: number; enteredAt?: number; reason?: string }): string {
  const shop = shopAt100()
  return said(shop.send('InspectCoat', { panel: DOOR, result: 'good' }, back(shop.now, beforeMs)))
}
const back = (now: number, { at, enteredAt, reason }: When): When => ({
  ...(at === undefined ? {} : { at: now - at }),
  ...(enteredAt === undefined ? {} : { enteredAt: now - enteredAt }),
  ...(reason === undefined ? {} : { reason }),
})

describe('a command is live', () => {
  /** A second coat a minute too early, sent a number of ms after it began. */
  const early = (agoMs: number) => {
    const shop = coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 5).at(14)
    shop.now += agoMs
    return shop.send('StartCoat', { panels: [DOOR], cup: CLEAR_CUP }, { at: shop.now - agoMs })
  }
  test('and may be refused if it happened within ten seconds of its arrival', () => {
    expect(said(early(10 * SECOND))).toBe('flashNotOver')
  })

  test('is a late fact one millisecond later, and is kept', () => {
    const answer = early(10 * SECOND + 1)
    expect('drafts' in answer && outsideOf(answer.drafts[0])).toEqual(['flashNotOver'])
  })

  test('is judged at the moment at which it happened', () => {
    const shop = coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 5).at(15)
    shop.now += 5 * SECOND
    const at = shop.now - 5 * SECOND - 1
    expect(said(shop.send('StartCoat', { panels: [DOOR], cup: CLEAR_CUP }, { at }))).toBe(
      'flashNotOver',
    )
  })
})

describe('a time ahead', () => {
  test.each([
    ['at', { at: -5 * SECOND }, 'done'],
    ['at', { at: -5 * SECOND - 1 }, 'at'],
    ['enteredAt', { enteredAt: -5 * SECOND }, 'done'],
    ['enteredAt', { enteredAt: -5 * SECOND - 1 }, 'enteredAt'],
  ])('of up to five seconds is a slip of a clock, further is wrong: %s', (_, when, want) => {
    expect(look(when)).toBe(want)
  })

  test('becomes now', () => {
    const shop = shopAt100()
    const [draft] = shop.do(
      'InspectCoat',
      { panel: DOOR, result: 'good' },
      { at: shop.now + 4 * SECOND, enteredAt: shop.now + 3 * SECOND },
    )
    expect([draft?.at, draft?.enteredAt]).toEqual([shop.now, shop.now])
  })

  test('nothing happened after it was entered', () => {
    const entered = 60 * MINUTE
    expect(look({ enteredAt: entered, at: entered - 5 * SECOND })).toBe('done')
    expect(look({ enteredAt: entered, at: entered - 5 * SECOND - 1 })).toBe('at')
  })
})

describe('a time typed back', () => {
  test.each([
    ['ten minutes need no reason', { at: 10 * MINUTE }, 'done'],
    ['further needs one', { at: 10 * MINUTE + 1 }, 'reason'],
    ['further with one', { at: 10 * MINUTE + 1, reason: 'Forgot' }, 'done'],
    ['days with one, while the shop has no people', { at: 3 * DAY, reason: 'Forgot' }, 'done'],
  ])('%s', (_, when, want) => {
    expect(look(when)).toBe(want)
  })

  test('the sentence says how far back it was', () => {
    const shop = shopAt100()
    const answer = shop.send(
      'InspectCoat',
      { panel: DOOR, result: 'good' },
      { at: shop.now - 25 * MINUTE },
    )
    expect('error' in answer && answer.error.message).toBe(
      'reason is missing. Use a reason: it happened 25 min before it was entered.',
    )
  })

  test('a command that has a reason of its own needs no second one', () => {
    const shop = vanWith([{ stage: 'prep' }, ...CLEAR_ONLY]).at(100)
    const data = { panel: DOOR, step: 0, reason: 'Sound finish' }
    expect(said(shop.send('SkipStep', data, { at: shop.now - 30 * MINUTE }))).toBe('done')
  })

  test('the reason is in the entry', () => {
    const shop = shopAt100()
    const [draft] = shop.do(
      'InspectCoat',
      { panel: DOOR, result: 'good' },
      { at: shop.now - 30 * MINUTE, reason: 'Forgot' },
    )
    expect(draft?.reason).toBe('Forgot')
  })
})

describe('a command that was queued', () => {
  test('may have waited without limit', () => {
    expect(look({ enteredAt: 95 * MINUTE })).toBe('done')
    expect(look({ enteredAt: 90 * DAY, at: 90 * DAY })).toBe('done')
  })

  test('happened when it was pressed, unless it says otherwise', () => {
    const shop = shopAt100()
    const enteredAt = shop.now - 50 * MINUTE
    const [draft] = shop.do('InspectCoat', { panel: DOOR, result: 'good' }, { enteredAt })
    expect([draft?.at, draft?.enteredAt]).toEqual([enteredAt, enteredAt])
  })

  test('is typed back from when it was pressed, not from when it arrived', () => {
    const entered = 60 * MINUTE
    expect(look({ enteredAt: entered, at: entered + 10 * MINUTE })).toBe('done')
    expect(look({ enteredAt: entered, at: entered + 10 * MINUTE + 1 })).toBe('reason')
  })

  test('keeps who pressed it, where, and how the clock was corrected', () => {
    const shop = shopAt100()
    const parsed = shop.parse('InspectCoat', { panel: DOOR, result: 'good' }, { device: 'k1' })
    const envelope = { by: 'ana', seq: 7, source: 'scan', clockOffsetMs: -1_500 }
    expect(decide(shop.state, { ...parsed, ...envelope }, shop.now)).toMatchObject({
      drafts: [{ ...envelope, device: 'k1', command: parsed.id, id: `${parsed.id}.0` }],
    })
  })

  test('without a device the sequence number does not count: the place in the log is used', () => {
    const shop = shopAt100()
    const [draft] = shop.do('InspectCoat', { panel: DOOR, result: 'good' }, { seq: 3 })
    expect([draft?.device, draft?.seq]).toEqual([null, null])
    expect(shop.entries.at(-1)?.seq).toBe(shop.entries.length)
  })
})

describe('what happened in the same millisecond', () => {
  type Move = { zone: string; device?: string; seq?: number; id?: string }
  /** The zone in which the door ends, whichever of two moves arrives first. */
  function zones(a: Move, b: Move): (string | undefined)[] {
    return [
      [a, b],
      [b, a],
    ].map((moves) => {
      const shop = shopAt100()
      const at = shop.now
      for (const { zone, ...more } of moves)
        shop.do('MovePanel', { panel: DOOR, zone }, { at, ...more })
      return panelOf(shop).stays.at(-1)?.zone
    })
  }
  test.each<[string, Move, Move]>([
    ['by device', { zone: 'x', device: 'a', seq: 9 }, { zone: 'last', device: 'b', seq: 1 }],
    ['no device before any', { zone: 'x' }, { zone: 'last', device: 'a', seq: 1 }],
    [
      "by the device's own count",
      { zone: 'x', device: 'a', seq: 1, id: 'z' },
      { zone: 'last', device: 'a', seq: 2, id: 'a' },
    ],
    [
      'by command, where even that is the same',
      { zone: 'x', device: 'a', seq: 1, id: 'a' },
      { zone: 'last', device: 'a', seq: 1, id: 'b' },
    ],
  ])('is put in order %s, whichever arrives first', (_, a, b) => {
    expect(zones(a, b)).toEqual(['last', 'last'])
  })
})
