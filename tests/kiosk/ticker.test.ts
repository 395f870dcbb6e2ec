import { expect, test } from 'vitest'
import { tickClock } from '../../kiosk/bells/ticker.ts'
import { hashOf, parseRoute } from '../../kiosk/ui/route.ts'

test('a tick runs what is due, in the order of time, and nothing else', () => {
  let nowMs = 0
  const clock = tickClock(() => nowMs)
  const ran: string[] = []
  clock.setTimeout(() => ran.push('late'), 300)
  clock.setTimeout(() => ran.push('early'), 100)
  const cancelled = clock.setTimeout(() => ran.push('cancelled'), 100)
  clock.clearTimeout(cancelled)
  nowMs = 99
  clock.look()
  expect(ran).toEqual([])
  nowMs = 1_000
  clock.look()
  clock.look()
  expect(ran).toEqual(['early', 'late'])
})

test('what runs at a tick may cancel what is due at the same one', () => {
  let nowMs = 0
  const clock = tickClock(() => nowMs)
  const ran: string[] = []
  clock.setTimeout(() => {
    ran.push('first')
    clock.clearTimeout(second)
  }, 10)
  const second = clock.setTimeout(() => ran.push('second'), 20)
  nowMs = 50
  clock.look()
  expect(ran).toEqual(['first'])
})

test('a screen’s address holds its name and what it is about', () => {
  expect(parseRoute(hashOf('scan', 'K7QD-2M/1'))).toEqual({ screen: 'scan', rest: ['K7QD-2M/1'] })
  expect(parseRoute('')).toEqual({ screen: '', rest: [] })
  expect(parseRoute('#/jobs/100%')).toEqual({ screen: 'jobs', rest: ['100%'] })
})
