import fc from 'fast-check'
import { expect, test } from 'vitest'
import { BELLS, type BellKind, nextPlayInMs } from '../../machines/bell/kinds.ts'
import { kinds, MIN, ring, S } from './ring.ts'

// When a bell repeats while nobody acknowledges it: our own decision, no published source.
const first10min: [BellKind, string, number[]][] = [
  ['coatReady', 'A', [0, 20, 40, 60, 120, 300]],
  ['look', 'A', [0, 20, 40, 60, 120, 300]],
  ['cureOver', 'D', [0, 30, 60, 300]],
  ['potNear', 'B1', [0, 12, 24, 36, 48, 60, 120, 180, 240, 300, 360, 420, 480, 540, 600]],
  ['gunDue', 'B1', [0, 12, 24, 36, 48, 60, 120, 180, 240, 300, 360, 420, 480, 540, 600]],
  ['windowClosing', 'C1', [0, 10, 20, 30, 40, 50, 110, 170, 230, 290, 350, 410, 470, 530, 590]],
  ['windowShut', 'C2', [0, 30, 60, 90, 120]],
]
test.each(first10min)('%s plays %s at its own times until it is answered', (kind, sound, at) => {
  const r = ring(kind)
  r.due()
  r.wait(10 * MIN)
  expect(r.plays()).toEqual(at)
  expect(new Set(r.said.flatMap((e) => (e.type === 'play' ? [e.sound] : [])))).toEqual(
    new Set([sound]),
  )
})

test('a cup past its pot life sounds every 5 s for a minute, then every 10 s until acknowledged', () => {
  const r = ring('potOver')
  r.due()
  r.wait(90 * S)
  expect(r.plays()).toEqual([...Array.from({ length: 13 }, (_, n) => n * 5), ...[70, 80, 90]])
  r.wait(2 * 60 * MIN)
  expect(r.state()).toBe('sounding')
  r.send({ type: 'ACKNOWLEDGE' })
  const plays = r.plays().length
  r.wait(10 * MIN)
  expect(r.plays()).toHaveLength(plays)
})

test('only a cup past its pot life uses the high-urgency sound', () => {
  expect(kinds.filter((k) => BELLS[k].sound === 'B2')).toEqual(['potOver'])
  expect(kinds.filter((k) => BELLS[k].class === 'high')).toEqual(['potOver'])
})

test('a bell waits for its turn, and counts its repeats from when it was raised', () => {
  const r = ring('coatReady', { turns: false })
  r.due()
  r.wait(3 * S)
  expect(r.state()).toBe('due')
  expect(r.plays()).toEqual([])
  r.send({ type: 'TURN', atMs: r.now() })
  expect(r.state()).toBe('sounding')
  expect(r.plays()).toEqual([3])
  r.wait(17 * S)
  expect(r.bell.getSnapshot().hasTag('wantsTurn')).toBe(true)
})

test('a sound that had to wait long is not followed at once by the next', () => {
  fc.assert(
    fc.property(
      fc.constantFrom('A', 'B1', 'B2', 'C1', 'C2', 'D' as const),
      fc.nat(20 * MIN),
      (sound, elapsedMs) => {
        const wait = nextPlayInMs(sound, elapsedMs)
        return wait === null || wait >= 2_500
      },
    ),
  )
})

// Whom a bell reaches at each step: our own decision, no published source.
const reaches: [BellKind, (string | number)[][]][] = [
  ['coatReady', []],
  ['cureOver', []],
  [
    'potNear',
    [
      [60, 'zone'],
      [180, 'lead'],
    ],
  ],
  [
    'windowClosing',
    [
      [60, 'zone'],
      [180, 'lead'],
    ],
  ],
  [
    'potOver',
    [
      [60, 'lead'],
      [180, 'shop'],
    ],
  ],
  [
    'windowShut',
    [
      [60, 'lead'],
      [180, 'shop'],
    ],
  ],
]
test.each(reaches)('%s reaches further until it is answered', (kind, steps) => {
  const r = ring(kind)
  r.due()
  r.wait(20 * MIN)
  expect(r.reached()).toEqual(steps)
})

test('escalation stops at once on acknowledge', () => {
  const r = ring('potNear')
  r.due()
  r.wait(59 * S)
  r.send({ type: 'ACKNOWLEDGE' })
  r.wait(10 * MIN)
  expect(r.reached()).toEqual([])
})

test('what reaches the whole zone at once is what must not be sprayed or recoated', () => {
  const reach = (kind: BellKind) => ring(kind).bell.getSnapshot().context.reach
  expect(kinds.filter((k) => reach(k) === 'zone')).toEqual(['potOver', 'windowShut'])
})
