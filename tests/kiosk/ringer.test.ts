import { expect, test } from 'vitest'
import { BELLS } from '../../machines/bell/kinds.ts'
import { USUAL_RULES } from '../../machines/bell/rules.ts'
import { bell, bellKiosk, MIN, type Play, S, start, TICK } from './bellKiosk.ts'

test('a bell sounds when its deadline comes and is logged once', () => {
  const k = bellKiosk()
  k.set(bell('coatReady', 'P1', 10))
  k.wait(9.8 * S)
  expect(k.plays).toEqual([])
  k.wait(25 * S)
  expect(k.atS()).toEqual([10, 30])
  expect(k.said.filter((s) => s.type === 'rang')).toMatchObject([
    { bell: { key: 'coatReady-P1' }, atMs: start + 10 * S, wasHeard: true },
  ])
})

test('five bells at once never sound together, with a second of silence between different kinds', () => {
  const k = bellKiosk()
  k.set(
    bell('coatReady', 'P1', 0),
    bell('potNear', 'CUP1', 0),
    bell('potOver', 'CUP2', 0),
    bell('windowClosing', 'P2', 0),
    bell('cureOver', 'P3', 0),
  )
  k.wait(2 * MIN)
  expect(k.ringer.bells.value.inFlood).toBe(true)
  expect(new Set(k.plays.map((p) => p.sound))).toEqual(new Set(['B2']))
  k.ringer.acknowledge('potOver-CUP2')
  k.ringer.acknowledge('windowClosing-P2')
  k.wait(4 * MIN)
  expect(k.ringer.bells.value.inFlood).toBe(false)
  expect(new Set(k.plays.map((p) => p.sound))).toEqual(new Set(['B2', 'B1', 'A', 'D']))
  for (const [n, next] of k.plays.slice(1).entries()) {
    const before = k.plays[n] as Play
    expect(next.fromMs - before.toMs).toBeGreaterThanOrEqual(S)
  }
  expect(k.said.flatMap((s) => (s.type === 'flood' ? [s.isOn] : []))).toEqual([true, false])
})

test('three panels of a job within a minute are one card, one rhythm, and three rings in the log', () => {
  const k = bellKiosk()
  k.set(bell('coatReady', 'P1', 0), bell('coatReady', 'P2', 5), bell('coatReady', 'P3', 30))
  k.wait(5 * MIN + S)
  expect(k.cards()).toEqual([['coatReady-P1', 'sounding', 3]])
  expect(k.atS()).toEqual([0, 20, 40, 60, 120, 300])
  expect(k.rang()).toEqual(['coatReady-P1', 'coatReady-P2', 'coatReady-P3'])
})

test('acknowledging silences the sound at once and leaves the card until the coat is started', () => {
  const k = bellKiosk()
  k.set(bell('potOver', 'CUP1', 1))
  k.wait(1.4 * S)
  k.ringer.acknowledge('potOver-CUP1')
  expect(k.plays).toMatchObject([{ fromMs: S, toMs: 1.4 * S }])
  k.wait(5 * MIN)
  expect(k.plays).toHaveLength(1)
  expect(k.cards()).toEqual([['potOver-CUP1', 'acknowledged', 1]])
  k.set()
  expect(k.cards()).toEqual([])
})

test('what was acknowledged on another kiosk falls silent here', () => {
  const k = bellKiosk()
  k.set(bell('potOver', 'CUP1', 1))
  k.wait(3 * S)
  k.known.set('potOver-CUP1', { isAcknowledged: true })
  k.wait(5 * MIN)
  expect(k.plays).toHaveLength(1)
  expect(k.cards()).toEqual([['potOver-CUP1', 'acknowledged', 1]])
})

test('what was snoozed on another kiosk is quiet here until then, and may be woken by hand', () => {
  const k = bellKiosk()
  k.set(bell('potNear', 'CUP1', 1))
  k.wait(2 * S)
  k.known.set('potNear-CUP1', { snoozes: 1, snoozedUntilMs: start + 2 * MIN })
  k.wait(30 * S)
  expect(k.cards()).toEqual([['potNear-CUP1', 'snoozed', 1]])
  k.ringer.unsnooze('potNear-CUP1')
  k.wait(S)
  expect(k.cards()).toEqual([['potNear-CUP1', 'sounding', 1]])
  expect(k.plays).toHaveLength(2)
})

test('a deadline recomputed half a minute later goes on ringing, one two minutes later is quiet', () => {
  const k = bellKiosk()
  k.set(bell('coatReady', 'P1', 1))
  k.wait(2 * S)
  k.set(bell('coatReady', 'P1', 31))
  k.wait(S)
  expect(k.cards()).toEqual([['coatReady-P1', 'sounding', 1]])
  k.set(bell('coatReady', 'P1', 121))
  expect(k.cards()).toEqual([])
  k.wait(115 * S)
  expect(k.plays).toHaveLength(1)
  k.wait(5 * S)
  expect(k.plays).toHaveLength(2)
  expect(k.rang()).toEqual(['coatReady-P1', 'coatReady-P1'])
})

test('silence quiets everything for a minute, and a new bell ends it', () => {
  const k = bellKiosk()
  k.set(bell('potOver', 'CUP1', 1), bell('coatReady', 'P1', 30))
  k.wait(2 * S)
  k.ringer.silence()
  expect(k.ringer.bells.value.silencedUntilMs).toBe(start + 62 * S)
  k.wait(27 * S)
  expect(k.atS()).toEqual([1])
  k.wait(3 * S)
  expect(k.ringer.bells.value.silencedUntilMs).toBe(0)
  expect(k.atS()[1]).toBe(30)
})

test('silence acknowledges nothing: nothing is logged, and another kiosk goes on ringing', () => {
  const [here, there] = [bellKiosk(), bellKiosk()]
  for (const k of [here, there]) {
    k.set(bell('potOver', 'CUP1', 1))
    k.wait(2 * S)
  }
  here.ringer.silence()
  for (const k of [here, there]) k.wait(30 * S)
  expect([here.plays.length, there.plays.length > 1]).toEqual([1, true])
  expect(here.said.map((s) => s.type)).toEqual(['rang'])
  expect(here.cards()).toEqual([['potOver-CUP1', 'sounding', 1]])
})

test('a prompt whose coat has started by itself is gone without a sound or a badge', () => {
  const k = bellKiosk()
  k.set(bell('coatReady', 'P1', 1))
  k.wait(2 * S)
  k.set()
  k.wait(5 * MIN)
  expect([k.cards(), k.plays.length]).toEqual([[], 1])
})

test('a silence that nothing ends is over after a minute', () => {
  const k = bellKiosk()
  k.set(bell('potOver', 'CUP1', 1))
  k.wait(2 * S)
  k.ringer.silence()
  k.wait(62 * S)
  expect(k.atS()).toEqual([1, 62])
  expect(k.ringer.bells.value.silencedUntilMs).toBe(0)
})

test('a window alarm that ended unanswered is shown as missed until it is seen', () => {
  const k = bellKiosk()
  k.set(bell('windowClosing', 'P1', 1))
  k.wait(2 * S)
  k.set()
  expect(k.cards()).toEqual([['windowClosing-P1', 'missed', 1]])
  k.ringer.view('windowClosing-P1')
  expect(k.cards()).toEqual([])
})

test('a cup over silences its own near without calling it missed', () => {
  const k = bellKiosk()
  k.set(bell('potNear', 'CUP1', 1), bell('potOver', 'CUP1', 20))
  k.wait(21 * S)
  expect(k.cards()).toEqual([['potOver-CUP1', 'sounding', 1]])
  expect(k.plays.map((p) => p.sound)).toEqual(['B1', 'B1', 'B2'])
})

test('a kiosk elsewhere in the zone shows a bell at once and sounds it when it reaches further, louder', () => {
  const k = bellKiosk({ soundsHere: (reach) => reach !== 'position' })
  k.set(bell('potNear', 'CUP1', 1))
  k.wait(30 * S)
  expect(k.cards()).toEqual([['potNear-CUP1', 'due', 1]])
  expect(k.plays).toEqual([])
  k.wait(32 * S)
  expect(k.plays).toMatchObject([{ sound: 'B1', fromMs: 61 * S, riseDb: 5 }])
  // Nothing is said of a bell before its ring.
  expect(k.said).toMatchObject([{ type: 'rang' }, { type: 'escalated', to: 'zone' }])
})

test('without sound a bell is shown and logged as not heard, and sounds as soon as the sound is on', () => {
  const k = bellKiosk({ isLoud: false })
  k.set(bell('coatReady', 'P1', 1))
  k.wait(10 * MIN)
  expect(k.cards()).toEqual([['coatReady-P1', 'due', 1]])
  expect(k.said).toMatchObject([{ type: 'rang', wasHeard: false }])
  expect(k.plays).toEqual([])
  k.soundReady.value = true
  k.wait(TICK)
  expect(k.plays).toHaveLength(1)
  expect(k.rang()).toHaveLength(1)
})

test('a bell that fell due while the kiosk was off is raised at its start', () => {
  const k = bellKiosk()
  k.set(bell('potOver', 'CUP1', -600))
  k.wait(TICK)
  expect(k.plays).toHaveLength(1)
  expect(BELLS[k.ringer.bells.value.cards[0]?.kind ?? 'look'].sound).toBe('B2')
})

test('while nothing rings its bells are looked through once, and again when one of them falls due', () => {
  const k = bellKiosk()
  let looks = 0
  const soon = bell('coatReady', 'P1', 60)
  const open = {
    get bells() {
      looks += 1
      return [soon, bell('potOver', 'CUP1', 600)]
    },
    facts: { emptied: new Set<string>(), baking: new Set<string>() },
    known: () => undefined,
    rules: USUAL_RULES,
    isFloodKnown: false,
  }
  k.ringer.look(open)
  const before = looks
  k.pass(59.9 * S, () => k.ringer.look(open))
  expect(looks).toBe(before)
  k.pass(TICK, () => k.ringer.look(open))
  expect(k.cards()).toEqual([['coatReady-P1', 'sounding', 1]])
  expect(k.atS()).toEqual([60.1])
})
