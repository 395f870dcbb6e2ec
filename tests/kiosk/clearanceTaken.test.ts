import { beforeEach, describe, expect, test } from 'vitest'
import { breathingZones } from '../../kiosk/frame/breathing.ts'
import { evict } from '../../machines/evict.ts'
import { CLEAR } from '../support/sheets.ts'
import { type Answer, minute, Shop } from '../support/shop.ts'

/** A clearance time that is set for a while, changed and taken off again: whoever evicted meanwhile says the same. */

const HOUR = 60
const DAY = 24 * HOUR
/** How often a server evicts, in minutes. */
const OFTEN = [1, 50, 7 * HOUR, 10 * DAY] as const

type Act = readonly [min: number, act: (shop: Shop) => unknown]

const zone =
  (spec: object) =>
  (shop: Shop): unknown =>
    shop.do('SaveZone', { zone: 'booth', ...spec })

/** A part of a job of its own that is sprayed and collected. */
const sprayed =
  (job: string, panel: string) =>
  (shop: Shop): void => {
    const route = [{ stage: CLEAR.stage, sheet: CLEAR.sheet }]
    shop.do('OpenJob', { job, title: 'Small car' })
    shop.do('AddPanel', { job, panel, name: 'Roof', operation: 'repair', route })
    shop.do('FinishCoat', { panels: [panel], cup: 'K7QDM2XV' })
    shop.do('CloseJob', { job, override: { reason: 'Collected' } })
  }
const FIRST = sprayed('VANREAR2', 'SDEDR222')
const SECOND = sprayed('KKKK2222', 'RRRR2222')

/** A shop in which all of that happens, and that evicts every so many minutes meanwhile. */
function played(acts: readonly Act[], everyMin: number): Shop {
  const shop = new Shop()
  shop.do('SaveSheet', { sheet: CLEAR })
  shop.do('MixCup', { cup: 'K7QDM2XV', sheet: CLEAR.sheet, totalMl: 500 })
  let evictedMin = 0
  for (const [min, act] of acts) {
    for (let next = evictedMin + everyMin; next <= min; next += everyMin) {
      evictedMin = next
      shop.state = evict(shop.state, minute(next))
    }
    act(shop.at(min))
  }
  return shop
}

const linesAt = ({ state }: Shop, min: number) =>
  breathingZones(state, minute(min)).map((one) => [one.zone, one.untilMs])

/** Where a mask stays on after all of that, and for days: the same whenever it was evicted, as are the panels that are held. */
function lineAfter(...acts: readonly Act[]) {
  const [end] = acts.at(-1) ?? [0]
  const shops = OFTEN.map((every) => played(acts, every))
  const lines = shops.map((shop) => linesAt(shop, end))
  expect(lines).toEqual(lines.map(() => lines[0]))
  for (const hours of [0, 1, 13, 9 * 24, 40 * 24]) {
    const min = end + hours * HOUR
    const found = shops.map((shop) => {
      shop.state = evict(shop.state, minute(min))
      return [Object.keys(shop.state.things.panel), linesAt(shop, min)]
    })
    expect(found).toEqual(found.map(() => found[0]))
  }
  return lines[0]
}

describe('a clearance time that is taken off a zone again', () => {
  const stands = [['booth', null]]
  const set = zone({ clearanceMin: 20 })
  const off = zone({})

  test('leaves clear what it had let go of', () => {
    expect(lineAfter([0, off], [2, FIRST], [10, set], [10 + 13 * HOUR, off])).toEqual([])
    expect(lineAfter([0, set], [DAY, FIRST], [DAY + 4 * HOUR, off])).toEqual([])
  })

  test('leaves clear what it had let go of where it was changed before', () => {
    const longer = zone({ clearanceMin: 240 })
    expect(lineAfter([0, set], [2, FIRST], [30, longer], [DAY, set], [2 * DAY, off])).toEqual([])
  })

  test('leaves the line where it stood for less time than it may be taken back', () => {
    expect(lineAfter([0, off], [2, FIRST], [10, set], [10 + 12 * HOUR - 1, off])).toEqual(stands)
    expect(
      lineAfter([0, off], [2, FIRST], [10, set], [20, off], [DAY, set], [DAY + 60, off]),
    ).toEqual(stands)
  })

  test('leaves the line of a coat of the last hours, which the longest one would not have cleared', () => {
    expect(lineAfter([0, set], [DAY, FIRST], [DAY + 4 * HOUR - 1, off])).toEqual(stands)
  })

  test('says nothing of what is sprayed afterwards, nor takes back what a person found clear', () => {
    const cleared = (shop: Shop) => shop.do('ClearZone', { zone: 'booth', how: 'gauge' })
    const past: Act[] = [
      [0, set],
      [2, FIRST],
      [2 * DAY, off],
      [3 * DAY, zone({ name: 'Booth 1' })],
      [4 * DAY, SECOND],
      [5 * DAY, zone({ name: 'Booth 2' })],
    ]
    expect(lineAfter(...past)).toEqual(stands)
    expect(lineAfter(...past, [6 * DAY, cleared])).toEqual([])
    const again: Act[] = [
      [6 * DAY, set],
      [7 * DAY, off],
    ]
    expect(lineAfter(...past, ...again)).toEqual([])
  })
})

describe('a clearance time that was taken off in time, which is told much later', () => {
  const stands = [['booth', null]]
  const [set, off] = [zone({ clearanceMin: 20 }), zone({})]
  /** Pressed at a minute on a kiosk that had no network then. */
  const queued =
    (min: number, spec: object) =>
    (shop: Shop): unknown =>
      shop.do(
        'SaveZone',
        { zone: 'booth', ...spec },
        { enteredAt: minute(min), device: 'k-2', seq: min },
      )
  const past: Act[] = [
    [0, off],
    [2, FIRST],
    [10, set],
  ]
  const offInTime = queued(11 * HOUR, {})

  test('leaves clear what was let go of until it was told', () => {
    expect(lineAfter(...past, [30 * HOUR, offInTime])).toEqual([])
    // Also where it was set once more since, or taken off.
    expect(lineAfter(...past, [20 * HOUR, set], [30 * HOUR, offInTime])).toEqual([])
    expect(lineAfter(...past, [25 * HOUR, off], [30 * HOUR, offInTime])).toEqual([])
    expect(lineAfter(...past, [20 * HOUR, set], [25 * HOUR, off], [30 * HOUR, offInTime])).toEqual(
      [],
    )
  })

  test('leaves that clear also where more of it is told behind', () => {
    const told = 30 * HOUR
    const more: Act[] = [
      [told, offInTime],
      [told, queued(12 * HOUR, { clearanceMin: 20 })],
      [told, queued(25 * HOUR, {})],
    ]
    expect(lineAfter(...past, [23 * HOUR, SECOND], ...more)).toEqual([])
  })

  test('leaves the line of a coat of the last hours, and of all where it is told in time', () => {
    expect(lineAfter(...past, [29 * HOUR, SECOND], [30 * HOUR, offInTime])).toEqual(stands)
    expect(lineAfter(...past, [12 * HOUR, offInTime])).toEqual(stands)
  })

  test('says nothing in the entry of a zone that is saved late with a time', () => {
    const shop = played(past, DAY)
    queued(9 * HOUR, { clearanceMin: 30 })(shop.at(30 * HOUR))
    expect(shop.entries.at(-1)?.data).toEqual({ clearanceMin: 30 })
    offInTime(shop)
    expect(shop.entries.at(-1)?.data).toEqual({ airedUntil: minute(26 * HOUR) })
  })
})

describe('what let go of coats and is taken back as a mistake', () => {
  const stands = [['booth', null]]
  const [set, off] = [zone({ clearanceMin: 20 }), zone({})]
  const cleared = (shop: Shop) => shop.do('ClearZone', { zone: 'booth', how: 'gauge' })
  const uncleared: Act[] = [
    [0, off],
    [2, FIRST],
  ]
  const sprayedAndCleared: Act[] = [...uncleared, [10, cleared]]
  const timed: Act[] = [...uncleared, [10, set]]
  /** Takes back the entry of a kind that was recorded so many before the last one of it. */
  const takenBack =
    (type: string, before = 0) =>
    (shop: Shop): void => {
      const of = shop.entries.filter((e) => e.type === type)
      const { id: entry } = of.at(-1 - before) ?? { id: '' }
      answers.push(shop.send('VoidEntry', { entry, reason: 'Wrong zone' }))
    }
  let answers: Answer[] = []
  beforeEach(() => {
    answers = []
  })
  const refusals = () =>
    answers.map((answer) => ('refusal' in answer ? answer.refusal.params : null))
  const LET_GO = expect.objectContaining({ limit: { why: 'letGo' } })
  const REFUSED = OFTEN.map(() => LET_GO)
  const TAKEN = OFTEN.map(() => null)

  test.each([
    ['a clearing', sprayedAndCleared, 'ZoneCleared'],
    ['a clearance time', timed, 'ZoneSaved'],
  ] as const)(
    'brings the line back for twelve hours and is refused afterwards: %s',
    (_, past, type) => {
      const inTime = 10 + 12 * HOUR - 1
      expect(lineAfter(...past, [inTime, takenBack(type)])).toEqual(stands)
      expect(refusals()).toEqual(TAKEN)
      answers = []
      expect(lineAfter(...past, [inTime + 1, takenBack(type)])).toEqual([])
      expect(refusals()).toEqual(REFUSED)
    },
  )

  test('is refused also of a first clearing behind which there is a second', () => {
    const twice: Act[] = [...sprayedAndCleared, [DAY, cleared]]
    const both: Act[] = [
      [DAY + 1, takenBack('ZoneCleared', 1)],
      [DAY + 2, takenBack('ZoneCleared')],
    ]
    expect(lineAfter(...twice, ...both)).toEqual([])
    expect(refusals()).toEqual(OFTEN.flatMap(() => [LET_GO, null]))
  })

  test('is refused of a clearance time also where it was taken off, or changed, since', () => {
    expect(lineAfter(...timed, [DAY, off], [DAY + 1, takenBack('ZoneSaved', 1)])).toEqual([])
    expect(lineAfter(...timed, [DAY, set], [DAY + 1, takenBack('ZoneSaved', 1)])).toEqual([])
    expect(refusals()).toEqual([...REFUSED, ...REFUSED])
  })

  test('is judged by when it arrives, of a whole command too, and by what is put in its place', () => {
    const taken =
      (more: object, extra = {}) =>
      (shop: Shop): void => {
        const last = shop.entries.findLast((e) => e.type === 'ZoneCleared')
        const data = 'replace' in more ? { entry: last?.id, ...more } : { command: last?.command }
        answers.push(shop.send('VoidEntry', { ...data, reason: 'Wrong zone' }, extra))
      }
    const pressedInTime = { enteredAt: minute(11 * HOUR), device: 'k-2', seq: 1 }
    expect(lineAfter(...sprayedAndCleared, [DAY, taken({}, pressedInTime)])).toEqual([])
    expect(lineAfter(...sprayedAndCleared, [DAY, taken({})])).toEqual([])
    const other = { replace: { type: 'ReadClimate', data: { zone: 'booth', airC: 21, rh: 0.5 } } }
    expect(lineAfter(...sprayedAndCleared, [DAY, taken(other)])).toEqual([])
    expect(refusals()).toEqual([...REFUSED, ...REFUSED, ...REFUSED])
    answers = []
    // How it was found clear may be put right at any time.
    const how = { replace: { type: 'ClearZone', data: { zone: 'booth', how: 'smokeTest' } } }
    expect(lineAfter(...sprayedAndCleared, [DAY, taken(how)])).toEqual([])
    expect(refusals()).toEqual(TAKEN)
  })

  test('is no obstacle to what lets go of nothing more', () => {
    // A time that was changed goes back to the one before; one that was taken off is there again.
    expect(lineAfter(...timed, [DAY, set], [3 * DAY, takenBack('ZoneSaved')])).toEqual([])
    expect(lineAfter(...timed, [DAY, off], [3 * DAY, takenBack('ZoneSaved')])).toEqual([])
    expect(refusals()).toEqual([...TAKEN, ...TAKEN])
  })
})

test('a clearance time that is made longer says nothing more of a coat that it had let go of', () => {
  const longer = zone({ clearanceMin: 240 })
  expect(lineAfter([0, zone({ clearanceMin: 5 })], [DAY, FIRST], [DAY + 4 * HOUR, longer])).toEqual(
    [],
  )
})
