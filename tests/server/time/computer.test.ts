import { expect, test } from 'vitest'
import { sampling } from '../../../server/time/computer.ts'

/** A computer whose monotonic clock stops while it sleeps. */
function computer() {
  const is = { run: 500, wall: Date.UTC(2026, 0, 5, 8), up: 90_000 }
  const sample = sampling({
    runMs: () => is.run,
    wallMs: () => is.wall,
    upMs: () => Math.round(is.up / 1_000) * 1_000,
  })
  return {
    sample,
    pass(ms: number) {
      is.run += ms
      is.wall += ms
      is.up += ms
    },
    sleep(ms: number) {
      is.wall += ms
      is.up += ms
    },
    step(ms: number) {
      is.wall += ms
    },
  }
}

/** How far the wall clock has run ahead of the monotonic one since then. */
const ahead = (
  one: ReturnType<typeof computer>,
  first: { monotonicMs: number; wallMs: number },
) => {
  const now = one.sample()
  return now.wallMs - first.wallMs - (now.monotonicMs - first.monotonicMs)
}

test('a night’s sleep of the computer is not a step of its clock, to the whole second', () => {
  const one = computer()
  const first = one.sample()
  one.pass(3_000)
  one.sleep(9 * 3_600_000 + 400)
  one.pass(20)
  expect(Math.abs(ahead(one, first))).toBeLessThanOrEqual(1_000)
  one.sleep(3_600_000)
  expect(Math.abs(ahead(one, first))).toBeLessThanOrEqual(2_000)
})

test('a step of the wall clock stays one, also one after a sleep', () => {
  const one = computer()
  const first = one.sample()
  one.step(3_600_000)
  expect(ahead(one, first)).toBe(3_600_000)
  one.step(-3_600_000)
  expect(ahead(one, first)).toBe(0)
  one.sleep(7_200_000)
  one.sample()
  one.step(600_000)
  expect(ahead(one, first)).toBe(600_000)
})
