import { describe, expect, test } from 'vitest'
import {
  confirmed,
  EARLIEST_MS,
  looked,
  type ShopTime,
  startTime,
} from '../../../server/time/shopTime.ts'

const MINUTE = 60_000
const HOUR = 60 * MINUTE
const DAY = 24 * HOUR
const NOON = Date.UTC(2026, 0, 5, 12)

/** A shop's time on clocks that a test moves; it is looked at each second, as the server does. */
class Clocks {
  mono = 1_000
  wall: number
  time: ShopTime
  jumps: { fromMs: number; toMs: number }[] = []

  constructor(wall: number, last: number | null) {
    this.wall = wall
    this.time = startTime({ monotonicMs: this.mono, wallMs: wall }, last)
  }

  get now(): number {
    return Math.round(this.time.nowMs)
  }

  look(): void {
    const { time, jump } = looked(this.time, { monotonicMs: this.mono, wallMs: this.wall })
    this.time = time
    if (jump) this.jumps.push(jump)
  }

  pass(ms: number): void {
    for (let left = ms; left > 0; left -= 1_000) {
      const step = Math.min(left, 1_000)
      this.mono += step
      this.wall += step
      this.look()
    }
  }

  step(ms: number): void {
    this.wall += ms
    this.look()
  }
}

const open = () => new Clocks(NOON, NOON - HOUR)

describe('the shop’s time while the server runs', () => {
  test('is the wall clock’s, to the millisecond, while that does not step', () => {
    const clocks = open()
    clocks.pass(10 * MINUTE)
    expect(clocks.now).toBe(NOON + 10 * MINUTE)
    expect(clocks.time.doubt).toBeNull()
    expect(clocks.jumps).toEqual([])
  })

  test('follows a step forward of up to five minutes at once, and reports it', () => {
    const clocks = open()
    clocks.step(5 * MINUTE)
    expect(clocks.now).toBe(NOON + 5 * MINUTE)
    expect(clocks.jumps).toEqual([{ fromMs: NOON, toMs: NOON + 5 * MINUTE }])
    expect(clocks.time.doubt).toBeNull()
  })

  test('follows a step back by running at half speed, and never runs back', () => {
    const clocks = open()
    clocks.step(-2 * MINUTE)
    expect(clocks.now).toBe(NOON)
    let before = clocks.now
    for (let i = 0; i < 4 * 60; i += 1) {
      clocks.pass(1_000)
      expect(clocks.now - before).toBeGreaterThanOrEqual(500)
      expect(clocks.now - before).toBeLessThanOrEqual(1_000)
      before = clocks.now
    }
    // Four minutes passed: two by the shop's time, which then agrees with the wall clock.
    expect(clocks.now).toBe(NOON + 2 * MINUTE)
    expect(clocks.now).toBe(clocks.wall)
    expect(clocks.time.isSlow).toBe(false)
    expect(clocks.jumps).toEqual([{ fromMs: NOON, toMs: NOON - 2 * MINUTE }])
  })

  test('takes a step of two seconds silently', () => {
    const clocks = open()
    clocks.step(2_000)
    clocks.step(-2_000)
    expect(clocks.jumps).toEqual([])
    clocks.pass(4_000)
    expect(clocks.now).toBe(clocks.wall)
  })

  test('does not follow a larger step, either way, until it is confirmed or voided', () => {
    for (const ms of [5 * MINUTE + 1, -(5 * MINUTE) - 1, HOUR, -8 * DAY]) {
      const clocks = open()
      clocks.step(ms)
      clocks.pass(MINUTE)
      expect(clocks.now).toBe(NOON + MINUTE)
      expect(clocks.time.doubt).toBe('jumped')
      clocks.step(-ms)
      expect(clocks.time.doubt).toBeNull()
      expect(clocks.now).toBe(clocks.wall)
      expect(clocks.jumps).toHaveLength(2)
    }
  })

  test('is moved by a person, forwards and back, and then follows the wall clock again', () => {
    for (const ms of [HOUR, -HOUR]) {
      const clocks = open()
      clocks.step(ms)
      clocks.time = confirmed(clocks.time, clocks.wall + 20_000)
      // Typed to the minute: the computer's clock is what was meant.
      expect(clocks.now).toBe(clocks.wall)
      clocks.pass(MINUTE)
      expect(clocks.now).toBe(NOON + ms + MINUTE)
      expect(clocks.time.doubt).toBeNull()
    }
  })

  test('stays where a person says that the computer is wrong, and follows when that is put right', () => {
    const clocks = open()
    clocks.step(HOUR)
    clocks.time = confirmed(clocks.time, NOON)
    clocks.pass(MINUTE)
    expect(clocks.now).toBe(NOON + MINUTE)
    // A small step of a clock that is known to be off is a small step.
    clocks.step(10_000)
    expect(clocks.now).toBe(NOON + MINUTE + 10_000)
    expect(clocks.time.doubt).toBeNull()
    clocks.step(-HOUR - 10_000)
    clocks.pass(30_000)
    expect(clocks.now).toBe(clocks.wall)
    expect(clocks.time.wallOffMs).toBe(0)
  })
})

describe('the shop’s time at the start', () => {
  test('is the wall clock’s after a night or a weekend, without a confirmation', () => {
    for (const last of [NOON - 14 * HOUR, NOON - 3 * DAY, NOON - 14 * DAY, NOON, null]) {
      const clocks = new Clocks(NOON, last)
      expect([clocks.now, clocks.time.doubt]).toEqual([NOON, null])
    }
  })

  test('is the log’s on a board that wakes in 1970, until its clock is set', () => {
    const clocks = new Clocks(0, NOON)
    expect([clocks.now, clocks.time.doubt]).toEqual([NOON, 'behindLog'])
    clocks.pass(MINUTE)
    expect(clocks.now).toBe(NOON + MINUTE)
    clocks.step(NOON + 10 * HOUR)
    expect([clocks.now, clocks.time.doubt]).toEqual([clocks.wall, null])
  })

  test('waits for a step that reaches the log, and asks where it goes weeks beyond', () => {
    const clocks = new Clocks(0, NOON)
    clocks.step(NOON - DAY)
    expect([clocks.now, clocks.time.doubt]).toEqual([NOON, 'behindLog'])
    clocks.step(DAY + 14 * DAY + 1)
    expect([clocks.now, clocks.time.doubt]).toEqual([NOON, 'jumped'])
    clocks.time = confirmed(clocks.time, clocks.wall)
    expect([clocks.now, clocks.time.doubt]).toEqual([NOON + 14 * DAY + 1, null])
  })

  test('is no earlier than 2020 in a new shop, and takes the first setting whatever it is', () => {
    const clocks = new Clocks(0, null)
    expect([clocks.now, clocks.time.doubt]).toEqual([EARLIEST_MS, 'unset'])
    clocks.step(NOON)
    expect([clocks.now, clocks.time.doubt]).toEqual([NOON, null])
  })

  test('is the wall clock’s after more than 14 days, but asked about', () => {
    const clocks = new Clocks(NOON, NOON - 14 * DAY - 1)
    expect([clocks.now, clocks.time.doubt]).toEqual([NOON, 'longSince'])
    clocks.step(MINUTE)
    expect([clocks.now, clocks.time.doubt]).toEqual([NOON + MINUTE, 'longSince'])
    clocks.time = confirmed(clocks.time, clocks.wall)
    expect(clocks.time.doubt).toBeNull()
  })

  test('says nothing of the two seconds that a clock may be steered by', () => {
    const clocks = new Clocks(NOON, NOON + 2_000)
    expect([clocks.now, clocks.time.doubt]).toEqual([NOON + 2_000, null])
    clocks.pass(4_000)
    expect(clocks.now).toBe(clocks.wall)
  })
})
