import { expect, test } from 'vitest'
import { getShortestPaths } from 'xstate/graph'
import type { BellKind } from '../../machines/bell/kinds.ts'
import { type BellEvent, bellMachine } from '../../machines/bell/machine.ts'
import { kinds, MIN, ring, S } from './ring.ts'

test('acknowledging silences the bell and leaves it shown until its deadline is gone', () => {
  const r = ring('windowClosing')
  r.due()
  r.wait(5 * S)
  r.send({ type: 'ACKNOWLEDGE' })
  expect(r.said.at(-1)).toMatchObject({ type: 'hush', key: 'k' })
  expect(r.state()).toBe('acknowledged')
  r.wait(60 * MIN)
  expect(r.state()).toBe('acknowledged')
  r.send({ type: 'CLEAR' })
  expect(r.state()).toBe('cleared')
})

test('a second person who acknowledges changes nothing and gets no error', () => {
  const r = ring('potOver')
  r.due()
  r.send({ type: 'ACKNOWLEDGE' })
  const before = r.bell.getSnapshot()
  r.send({ type: 'ACKNOWLEDGE' })
  expect(r.bell.getSnapshot().value).toEqual(before.value)
  expect(r.bell.getSnapshot().status).toBe('active')
})

test.each([
  ['coatReady', 10],
  ['potNear', 5],
  ['windowShut', 5],
] as [BellKind, number][])('%s may be put off for at most %i minutes, twice', (kind, most) => {
  const r = ring(kind)
  r.due()
  r.snooze(most * MIN + 1)
  expect(r.state()).toBe('sounding')
  r.snooze(most * MIN)
  expect(r.state()).toBe('snoozed')
  r.wait(most * MIN - S)
  expect(r.state()).toBe('snoozed')
  const before = r.plays().length
  r.wait(S)
  expect(r.state()).toBe('sounding')
  expect(r.plays()).toHaveLength(before + 1)
  r.snooze(MIN)
  expect(r.state()).toBe('snoozed')
  r.wait(MIN)
  r.snooze(MIN)
  expect(r.state()).toBe('sounding')
})

test('a cup past its pot life cannot be snoozed', () => {
  const r = ring('potOver')
  r.due()
  r.snooze(1)
  expect(r.state()).toBe('sounding')
})

test('a snoozed bell neither sounds nor reaches further, and starts over when it is back', () => {
  const r = ring('potNear')
  r.due()
  r.wait(S)
  r.snooze(5 * MIN)
  r.wait(5 * MIN - S)
  expect(r.plays()).toEqual([0])
  expect(r.reached()).toEqual([])
  r.wait(62 * S)
  expect(r.plays().slice(1, 3)).toEqual([301, 313])
  expect(r.reached()).toEqual([[361, 'zone']])
})

test('silence is a minute of quiet without acknowledging, then an alarm goes on at once', () => {
  const r = ring('potOver')
  r.due()
  r.wait(7 * S)
  r.silence()
  expect(r.said.at(-1)?.type).toBe('hush')
  expect(r.bell.getSnapshot().context.silencedUntilMs).toBe(67 * S)
  r.wait(59 * S)
  expect(r.plays()).toEqual([0, 5])
  expect(r.state()).toBe('sounding')
  r.wait(5 * S)
  expect(r.plays()).toEqual([0, 5, 67])
  expect(r.reached()).toEqual([[60, 'lead']])
})

test('a new alert breaks the silence of an alarm', () => {
  const r = ring('potOver')
  r.due()
  r.wait(S)
  r.silence()
  r.wait(10 * S)
  r.send({ type: 'UNSILENCE', atMs: r.now() })
  expect(r.plays()).toEqual([0, 11])
})

test('after a silence a prompt goes on with the reminders that are left', () => {
  const r = ring('coatReady')
  r.due()
  r.wait(S)
  r.silence()
  r.wait(10 * MIN)
  expect(r.plays()).toEqual([0, 120, 300])
})

test('a prompt that was silenced before it was heard still sounds', () => {
  const r = ring('coatReady', { turns: false })
  r.due()
  r.silence()
  r.wait(MIN)
  expect(r.bell.getSnapshot().hasTag('wantsTurn')).toBe(true)
})

test('a prompt that cleared itself is gone; an alarm leaves a badge until it is seen', () => {
  const prompt = ring('coatReady')
  prompt.due()
  prompt.send({ type: 'CLEAR' })
  expect(prompt.state()).toBe('cleared')
  const alarm = ring('windowClosing')
  alarm.due()
  alarm.send({ type: 'CLEAR' })
  expect(alarm.state()).toBe('missed')
  alarm.send({ type: 'VIEW' })
  expect(alarm.state()).toBe('cleared')
})

test('a latched alarm ends with its disposition and needs no badge', () => {
  for (const kind of ['potOver', 'windowShut'] as const) {
    const r = ring(kind)
    r.due()
    r.send({ type: 'CLEAR' })
    expect(r.state()).toBe('cleared')
  }
})

test('a deadline that moved on is quiet and rings again when it comes', () => {
  const r = ring('coatReady')
  r.due()
  r.wait(S)
  r.send({ type: 'NOT_DUE' })
  expect(r.state()).toBe('waiting')
  r.wait(5 * MIN)
  r.due()
  r.wait(S)
  expect(r.plays()).toEqual([0, 301])
})

test('after a restart a bell is where the log left it', () => {
  const acknowledged = ring('potOver')
  acknowledged.send({ type: 'DUE', atMs: 0, known: { isAcknowledged: true } })
  expect(acknowledged.state()).toBe('acknowledged')

  const snoozed = ring('potNear')
  snoozed.send({ type: 'DUE', atMs: 0, known: { snoozes: 2, snoozedUntilMs: 90 * S } })
  expect(snoozed.state()).toBe('snoozed')
  snoozed.wait(90 * S)
  expect(snoozed.plays()).toEqual([90])
  snoozed.snooze(MIN)
  expect(snoozed.state()).toBe('sounding')

  const over = ring('potNear')
  over.send({ type: 'DUE', atMs: 0, known: { snoozes: 1, snoozedUntilMs: -1 } })
  expect(over.plays()).toEqual([0])
})

test('every state of a bell can be reached', () => {
  const events: BellEvent[] = [
    { type: 'DUE', atMs: 0 },
    { type: 'TURN', atMs: 0 },
    { type: 'TURN', atMs: 10 * MIN },
    { type: 'ACKNOWLEDGE' },
    { type: 'SNOOZE', atMs: 0, forMs: MIN },
    { type: 'SILENCE', atMs: 0 },
    { type: 'UNSILENCE', atMs: 0 },
    { type: 'CLEAR' },
    { type: 'VIEW' },
  ]
  const reachedBy = (kind: BellKind) =>
    getShortestPaths(bellMachine, {
      input: { key: 'k', kind },
      events,
      serializeState: (s) => JSON.stringify(s.value),
      limit: 2_000,
    }).map((path) => JSON.stringify(path.state.value))
  const all = new Set(kinds.flatMap(reachedBy))
  expect(all).toEqual(
    new Set(
      [
        'waiting',
        { ringing: 'due' },
        { ringing: { sounding: 'resting' } },
        { ringing: { sounding: 'wanting' } },
        { ringing: { sounding: 'silenced' } },
        { ringing: { sounding: 'shown' } },
        'snoozed',
        'acknowledged',
        'missed',
        'cleared',
      ].map((value) => JSON.stringify(value)),
    ),
  )
})
