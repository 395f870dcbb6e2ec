import { expect, test } from 'vitest'
import { commandOf } from '../../kiosk/bells/reporter.ts'
import { bell, bellKiosk, MIN, S, start, TICK } from './bellKiosk.ts'

type Kiosk = ReturnType<typeof bellKiosk>
/** When a bell rose, s, whom it reached, and whether anybody was to notice. */
const rose = (k: Kiosk) =>
  k.said.flatMap((s) => (s.type === 'escalated' ? [[(s.atMs - start) / S, s.to, s.shown]] : []))
const reach = (k: Kiosk) => k.ringer.bells.value.cards[0]?.reach
const rises = (k: Kiosk) => [...new Set(k.plays.map((p) => p.riseDb))]

test('an unacknowledged bell reaches further after one and three minutes, and each step is logged', () => {
  const k = bellKiosk()
  k.set(bell('potOver', 'CUP1', 1))
  k.wait(4 * MIN)
  expect(rose(k)).toEqual([
    [61, 'lead', true],
    [181, 'shop', true],
  ])
  expect(k.said.map((s) => commandOf(s)[0])).toEqual(['RingBell', 'EscalateBell', 'EscalateBell'])
})

test('of a card with two bells each is logged as having reached further', () => {
  const k = bellKiosk()
  k.set(bell('windowShut', 'P1', 1), bell('windowShut', 'P2', 2))
  k.wait(2 * MIN)
  const keys = k.said.flatMap((s) => (s.type === 'escalated' ? [s.bell.key] : []))
  expect(keys).toEqual(['windowShut-P1', 'windowShut-P2'])
})

test('it does so when the shop has set it', () => {
  const k = bellKiosk({ rules: { escalateMs: [20_000, 50_000] } })
  k.set(bell('potNear', 'CUP1', 1))
  k.wait(2 * MIN)
  expect(rose(k)).toEqual([
    [21, 'zone', true],
    [51, 'lead', true],
  ])
})

test('it stops at once when it is acknowledged, here or elsewhere', () => {
  const k = bellKiosk()
  k.set(bell('potOver', 'CUP1', 1))
  k.wait(30 * S)
  k.ringer.acknowledge('potOver-CUP1')
  k.wait(10 * MIN)
  expect(rose(k)).toEqual([])
  const elsewhere = bellKiosk()
  elsewhere.set(bell('potOver', 'CUP1', 1))
  elsewhere.wait(62 * S)
  elsewhere.known.set('potOver-CUP1', { isAcknowledged: true })
  elsewhere.wait(10 * MIN)
  expect(rose(elsewhere)).toEqual([[61, 'lead', true]])
})

test('a prompt never reaches further', () => {
  const k = bellKiosk()
  k.set(bell('coatReady', 'P1', 1))
  k.wait(10 * MIN)
  expect([rose(k), rises(k)]).toEqual([[], [0]])
})

test('the level rises by 5 dB a step, and never above the headroom that there is', () => {
  const level = (rules: object) => {
    const k = bellKiosk({ rules })
    k.set(bell('potOver', 'CUP1', 1))
    k.wait(5 * MIN)
    return rises(k)
  }
  expect(level({})).toEqual([0, 5, 10])
  expect(level({ riseDb: 2 })).toEqual([0, 2, 4])
  expect(level({ riseDb: 0 })).toEqual([0])
  expect(level({ mostRiseDb: 7 })).toEqual([0, 5, 7])
  expect(level({ mostRiseDb: 0 })).toEqual([0])
})

test('in a closed shop a bell rings as usual, and rises in the log only', () => {
  const k = bellKiosk({ rules: { isOpen: () => false } })
  k.set(bell('potOver', 'CUP1', 1))
  k.wait(5 * MIN)
  expect(rose(k)).toEqual([
    [61, 'lead', false],
    [181, 'shop', false],
  ])
  expect([reach(k), rises(k)]).toEqual(['zone', [0]])
  expect(k.plays.length).toBeGreaterThan(20)
})

test('what escalated in a closed shop is shown when it opens, one step at a time', () => {
  const k = bellKiosk({ rules: { isOpen: (ms) => ms >= start + 10 * MIN } })
  k.set(bell('potOver', 'CUP1', 1))
  k.wait(10 * MIN - TICK)
  expect(reach(k)).toBe('zone')
  k.wait(TICK)
  expect(reach(k)).toBe('lead')
  k.wait(3 * MIN)
  expect(rose(k).slice(2)).toEqual([
    [600, 'lead', true],
    [660, 'shop', true],
  ])
  const levels = k.plays.map((p) => p.riseDb)
  for (const [n, db] of levels.slice(1).entries()) expect(db - (levels[n] ?? 0)).toBeLessThan(6)
})

test('what had risen by closing time stays so', () => {
  const k = bellKiosk({ rules: { isOpen: (ms) => ms < start + 2 * MIN } })
  k.set(bell('potOver', 'CUP1', 1))
  k.wait(5 * MIN)
  expect([reach(k), rises(k)]).toEqual(['lead', [0, 5]])
  expect(rose(k).at(-1)).toEqual([181, 'shop', false])
})

test('a snoozed bell starts from its first step', () => {
  const k = bellKiosk()
  k.set(bell('potNear', 'CUP1', 1))
  k.wait(62 * S)
  expect(reach(k)).toBe('zone')
  k.ringer.snooze('potNear-CUP1', MIN)
  k.wait(MIN + 10 * S)
  expect([reach(k), k.plays.at(-1)?.riseDb]).toEqual(['position', 0])
})

test('a bell whose turn to sound has not come logs nothing before its ring', () => {
  const k = bellKiosk()
  // A flood: only pot life past sounds.
  k.set(
    bell('potOver', 'CUP2', 0),
    bell('potNear', 'CUP1', 0),
    bell('windowClosing', 'P2', 0),
    bell('coatReady', 'P1', 0),
  )
  k.wait(2 * MIN)
  const told = () => k.said.flatMap((s) => ('bell' in s ? [`${s.type} ${s.bell.kind}`] : []))
  expect(told()).toEqual(['rang potOver', 'escalated potOver'])
  k.ringer.acknowledge('potOver-CUP2')
  k.wait(S * 10)
  expect(told().slice(2).toSorted()).toEqual(
    [
      'escalated potNear',
      'escalated windowClosing',
      'rang potNear',
      'rang windowClosing',
    ].toSorted(),
  )
})

const floods = (k: Kiosk) =>
  k.said.flatMap((s) => (s.type === 'flood' ? [[s.isOn, (s.atMs - start) / S]] : []))
const FOUR = [
  bell('potOver', 'CUP2', 0),
  bell('potNear', 'CUP1', 0),
  bell('windowClosing', 'P2', 0),
  bell('coatReady', 'P1', 0),
]

test('a flood is logged when it begins, and as ended once it has been calm for a minute', () => {
  const k = bellKiosk()
  k.set(...FOUR)
  k.wait(10 * S)
  k.set(...FOUR.slice(1))
  k.wait(30 * S)
  expect(floods(k)).toEqual([[true, 0]])
  k.set(...FOUR)
  k.wait(30 * S)
  k.set(...FOUR.slice(1))
  k.wait(59 * S)
  expect(floods(k)).toEqual([[true, 0]])
  k.wait(2 * S)
  expect(floods(k)).toEqual([
    [true, 0],
    [false, 70],
  ])
  const said = k.said.find((s) => s.type === 'flood')
  expect(said && commandOf(said)).toEqual(['ReportFlood', { isOn: true, count: 4 }, { at: start }])
})

test('a flood that the kiosk did not see the end of is ended by it after its restart', () => {
  const k = bellKiosk({ isFloodKnown: true })
  k.set()
  k.wait(2 * MIN)
  expect(floods(k)).toEqual([[false, 0]])
  const fresh = bellKiosk()
  fresh.set()
  fresh.wait(2 * MIN)
  expect(floods(fresh)).toEqual([])
})
