import { expect, test } from 'vitest'
import { bell, bellKiosk, MIN, S, start } from './bellKiosk.ts'

/** A bell that rings again and again is held: seen, but quiet. Deadlines are moved to and fro here. */

/** A kiosk whose log takes every ring. */
const kiosk = (more: { isLoud?: boolean } = {}) => bellKiosk({ takesRing: () => true, ...more })
type Kiosk = ReturnType<typeof bellKiosk>
const held = (k: Kiosk) => k.said.flatMap((s) => (s.type === 'held' ? [(s.atMs - start) / S] : []))
const until = (k: Kiosk) => ((k.ringer.bells.value.cards[0]?.heldUntilMs ?? 0) - start) / S
const near = bell('potNear', 'CUP1', 0)
const over = bell('potOver', 'CUP1', 0)
/** Its figures change so that it lies an hour ahead. */
const later = (b: typeof near) => ({ ...b, dueAt: b.dueAt + 60 * MIN })

/** Due for some seconds, then not, as many times as given. */
function flicker(k: Kiosk, b: typeof near, times: number, dueS = 5, restS = 5): void {
  for (let n = 0; n < times; n += 1) {
    k.set(b)
    k.wait(dueS * S)
    k.set(later(b))
    k.wait(restS * S)
  }
}

test('a bell raised for the third time within a minute is quiet for a minute, seen, and recorded', () => {
  const k = kiosk()
  flicker(k, near, 2)
  expect(k.atS()).toEqual([0, 10])
  k.set(near)
  expect(until(k)).toBe(80)
  k.wait(59 * S)
  expect(k.atS()).toEqual([0, 10])
  expect(k.cards()).toEqual([['potNear-CUP1', 'due', 1]])
  expect(held(k)).toEqual([20])
  k.wait(2 * S)
  expect(k.atS()).toEqual([0, 10, 80])
  expect(until(k)).toBe(-start / S)
})

test('it stays in sight while its deadline moves to and fro, each time for a minute more', () => {
  const k = kiosk()
  flicker(k, near, 6)
  expect(k.plays).toHaveLength(2)
  expect(k.cards()).toEqual([['potNear-CUP1', 'due', 1]])
  expect(until(k)).toBe(110)
  expect(held(k)).toEqual([20])
  k.wait(45 * S)
  expect(k.cards()).toEqual([['potNear-CUP1', 'due', 1]])
  k.wait(10 * S)
  // It lies an hour ahead, and the minute is over.
  expect(k.cards()).toEqual([])
})

test('three times in more than a minute are not too often', () => {
  const k = kiosk()
  flicker(k, near, 3, 5, 26)
  expect(k.plays).toHaveLength(3)
  expect(held(k)).toEqual([])
})

test('another cup is another source', () => {
  const k = kiosk()
  flicker(k, near, 2)
  k.set(near, bell('potNear', 'CUP2', 20, 'J2'))
  k.wait(2 * S)
  expect(k.plays).toHaveLength(3)
})

test('a cup past its pot life is heard at its first ring, however often its figures changed before', () => {
  const silent = kiosk({ isLoud: false })
  flicker(silent, over, 4)
  silent.soundReady.value = true
  silent.set(over)
  silent.wait(S)
  expect(silent.plays.map(({ sound }) => sound)).toEqual(['B2'])
  silent.wait(30 * S)
  // Heard once, it is held like any other.
  expect(silent.plays).toHaveLength(1)
  expect(held(silent)).toHaveLength(1)
})

test('what is held may be acknowledged, and what is gone is gone', () => {
  const k = kiosk()
  flicker(k, near, 2)
  k.set(near)
  k.ringer.acknowledge('potNear-CUP1')
  expect(k.cards()).toEqual([['potNear-CUP1', 'acknowledged', 1]])
  k.set()
  expect(k.cards()).toEqual([])
})

test('a ring refused as already over is sent again, and the hold once the ring is logged', () => {
  let tellings = 0
  const k = bellKiosk({
    takesRing: () => {
      tellings += 1
      return tellings > 3
    },
  })
  flicker(k, near, 3)
  expect(k.rang()).toHaveLength(3)
  expect(held(k)).toEqual([])
  k.set(near)
  k.wait(S)
  expect(k.rang()).toHaveLength(4)
  expect(held(k)).toEqual([30])
  k.wait(5 * S)
  expect(k.rang()).toHaveLength(4)
  expect(k.said.flatMap((s) => (s.type === 'rang' ? [s.wasHeard] : []))).toEqual([
    true,
    true,
    true,
    true,
  ])
})
