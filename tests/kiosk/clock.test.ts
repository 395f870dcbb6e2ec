import fc from 'fast-check'
import { expect, test } from 'vitest'
import { kioskClock, nowFor } from '../../kiosk/device/clock.ts'

const S = 1_000
const MIN = 60_000
const HOUR = 3_600_000
const server0 = Date.UTC(2026, 0, 5, 8)

/** A kiosk beside a server: true time, what a sleep hides, and how wrong the device's clock is. */
function kiosk({ deviceWrongMs = 0, rememberedOffsetMs = 0 } = {}) {
  let trueMs = 0
  let sleptMs = 0
  let wrongMs = deviceWrongMs
  const server = { aheadMs: 0 }
  const sample = () => ({
    monotonicMs: 5_000 + trueMs - sleptMs,
    deviceMs: server0 + trueMs + wrongMs,
  })
  const clock = kioskClock(sample, rememberedOffsetMs)
  const serverNow = () => server0 + trueMs + server.aheadMs
  return {
    clock,
    server,
    serverNow,
    read: () => clock.read(),
    /** A heartbeat that was `lateMs` on its way. */
    beat: (lateMs = 0) => clock.heard(serverNow() - lateMs),
    wait: (ms: number) => {
      for (let left = ms; left > 0; left -= S) {
        trueMs += Math.min(S, left)
        clock.read()
      }
    },
    sleep: (ms: number) => {
      trueMs += ms
      sleptMs += ms
    },
    setDevice: (ms: number) => {
      wrongMs = ms
    },
  }
}

test('before the first heartbeat the kiosk shows the device clock and says it is not synchronized', () => {
  const k = kiosk({ deviceWrongMs: 7 * S })
  expect(k.read()).toMatchObject({ nowMs: server0 + 7 * S, sync: 'notSynchronised' })
})

test('a page that was reloaded without its server remembers how wrong the device clock is', () => {
  const k = kiosk({ deviceWrongMs: HOUR, rememberedOffsetMs: -HOUR })
  expect(k.read()).toMatchObject({ nowMs: server0, sync: 'notSynchronised', deviceOffsetMs: -HOUR })
})

test('after a heartbeat the time is the server’s, carried for hours without it', () => {
  const k = kiosk({ deviceWrongMs: 3 * HOUR })
  k.beat()
  k.wait(30 * S)
  expect(k.read()).toMatchObject({ nowMs: k.serverNow(), sync: 'synchronised' })
  k.wait(8 * HOUR)
  expect(k.read()).toMatchObject({ nowMs: k.serverNow(), sync: 'carried' })
})

test('a heartbeat that was long on its way does not set the clock back', () => {
  const k = kiosk()
  k.beat()
  k.wait(5 * S)
  k.beat(1_500)
  expect(k.read()).toMatchObject({ nowMs: k.serverNow(), sync: 'synchronised', warns: false })
})

test('the kiosk never shows a later time than the server, however long messages take', () => {
  fc.assert(
    fc.property(fc.array(fc.nat(9 * S), { minLength: 1, maxLength: 20 }), (delays) => {
      const k = kiosk()
      for (const late of delays) {
        k.wait(5 * S)
        k.beat(late)
        expect(k.read().latestMs).toBeLessThanOrEqual(k.serverNow())
        expect(k.serverNow() - k.read().nowMs).toBeLessThanOrEqual(late)
      }
    }),
  )
})

test('a heartbeat more than 2 s off warns, the offset being measured each time', () => {
  const k = kiosk()
  k.beat()
  k.wait(5 * S)
  k.server.aheadMs = 3 * S
  k.beat()
  expect(k.read()).toMatchObject({ differenceMs: 3 * S, warns: true, nowMs: k.serverNow() })
})

test('a device clock more than 2 s wrong warns and changes no bell', () => {
  const k = kiosk({ deviceWrongMs: 2_001 })
  k.beat()
  expect(k.read()).toMatchObject({
    warns: true,
    deviceOffsetMs: -2_001,
    sync: 'synchronised',
    nowMs: k.serverNow(),
  })
  const near = kiosk({ deviceWrongMs: 2_000 })
  near.beat()
  expect(near.read().warns).toBe(false)
})

test('a server clock that moved on is followed at its first heartbeat', () => {
  const k = kiosk()
  k.beat()
  k.wait(5 * S)
  k.server.aheadMs = 40 * MIN
  k.beat()
  const now = k.read()
  expect(now).toMatchObject({ nowMs: k.serverNow(), sync: 'synchronised' })
  expect(nowFor(now, 'notBefore')).toBe(k.serverNow())
})

test('a server more than 10 s behind is doubted until older heartbeats have made way', () => {
  const k = kiosk()
  for (let n = 0; n < 4; n++) {
    k.beat()
    k.wait(5 * S)
  }
  const before = k.serverNow()
  k.server.aheadMs = -11 * S
  k.beat()
  const doubted = k.read()
  expect(doubted.sync).toBe('notSynchronised')
  expect(nowFor(doubted, 'notBefore')).toBe(before - 11 * S)
  expect(nowFor(doubted, 'notAfter')).toBe(before)
  for (let n = 0; n < 3; n++) {
    k.wait(5 * S)
    k.beat()
  }
  expect(k.read()).toMatchObject({ nowMs: k.serverNow(), sync: 'synchronised' })
})

test('after a sleep without the server, waits end at the earliest time and limits at the latest', () => {
  const k = kiosk()
  k.beat()
  k.wait(MIN)
  const asleepAt = k.serverNow()
  k.sleep(20 * MIN)
  const now = k.read()
  expect(now.sync).toBe('notSynchronised')
  expect(nowFor(now, 'notBefore')).toBe(asleepAt)
  expect(nowFor(now, 'notAfter')).toBe(k.serverNow())
  k.wait(10 * S)
  expect(nowFor(k.read(), 'notAfter')).toBe(k.serverNow())
})

test('two sleeps add up', () => {
  const k = kiosk()
  k.beat()
  k.sleep(5 * MIN)
  k.wait(S)
  k.sleep(7 * MIN)
  expect(nowFor(k.read(), 'notAfter')).toBe(k.serverNow())
  expect(nowFor(k.read(), 'notBefore')).toBe(k.serverNow() - 12 * MIN)
})

test('a device clock set forward looks like a sleep, one set back like no time lost', () => {
  const forward = kiosk()
  forward.beat()
  forward.setDevice(HOUR)
  expect(forward.read()).toMatchObject({
    sync: 'notSynchronised',
    earliestMs: forward.serverNow(),
    latestMs: forward.serverNow() + HOUR,
  })
  const back = kiosk()
  back.beat()
  back.setDevice(-HOUR)
  expect(back.read()).toMatchObject({
    sync: 'notSynchronised',
    earliestMs: back.serverNow(),
    latestMs: back.serverNow(),
  })
})

test('a device clock that is steered slowly is not a jump', () => {
  const k = kiosk()
  k.beat()
  for (let minute = 1; minute <= 8 * 60; minute++) {
    k.wait(MIN)
    k.setDevice(minute * MIN * 0.0004)
  }
  expect(k.read()).toMatchObject({ sync: 'carried', nowMs: k.serverNow() })
})

test('a heartbeat that lay in a buffer through the sleep does not end the doubt; a fresh one does', () => {
  const k = kiosk()
  k.beat()
  k.wait(S)
  k.sleep(30 * MIN)
  k.beat(30 * MIN)
  expect(k.read().sync).toBe('notSynchronised')
  expect(nowFor(k.read(), 'notAfter')).toBe(k.serverNow())
  k.wait(100)
  k.beat()
  expect(k.read()).toMatchObject({ sync: 'synchronised', nowMs: k.serverNow() })
})

test('a jump of the device clock alone is settled by the next heartbeat a second later', () => {
  const k = kiosk()
  k.beat()
  k.setDevice(HOUR)
  k.read()
  k.wait(5 * S)
  k.beat()
  expect(k.read()).toMatchObject({ sync: 'synchronised', nowMs: k.serverNow(), warns: true })
})
