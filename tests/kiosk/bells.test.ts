import { expect, test } from 'vitest'
import {
  type Bell,
  byUrgency,
  type Card,
  type Grouping,
  independent,
  isDue,
  isFlood,
  nextSound,
  type Ringing,
  regroup,
  soundsAt,
} from '../../kiosk/bells/cards.ts'
import { kioskClock } from '../../kiosk/device/clock.ts'
import { BELLS, type BellKind, type SoundName } from '../../machines/bell/kinds.ts'

const S = 1_000
const MIN = 60_000
const bell = (kind: BellKind, thing: string, dueAt = 0, job?: string): Bell => ({
  key: `${kind}-${thing}`,
  kind,
  dueAt,
  thing,
  ...(job === undefined ? {} : { job }),
})
const none = { emptied: new Set<string>(), baking: new Set<string>() }
const kindsOf = (bells: readonly Bell[]) => bells.map((b) => `${b.kind} ${b.thing}`)

test('while the kiosk is not synchronized a wait ends late and a limit ends early', () => {
  let monotonicMs = 0
  let deviceMs = 1_000_000
  const clock = kioskClock(() => ({ monotonicMs, deviceMs }))
  clock.heard(1_000_000)
  deviceMs += 10 * MIN
  const asleep = clock.read()
  expect(isDue({ kind: 'coatReady', dueAt: 1_000_000 + MIN }, asleep)).toBe(false)
  expect(isDue({ kind: 'potOver', dueAt: 1_000_000 + MIN }, asleep)).toBe(true)
  monotonicMs += 5 * S
  deviceMs += 5 * S
  clock.heard(1_605_000)
  expect(isDue({ kind: 'coatReady', dueAt: 1_000_000 + MIN }, clock.read())).toBe(true)
})

// Bells that depend on another one, by example; the last column is what may still ring.
const dependents: [string, Bell[], Partial<typeof none>, string[]][] = [
  [
    'a cup over replaces its own near',
    [bell('potNear', 'CUP1'), bell('potOver', 'CUP1'), bell('potNear', 'CUP2')],
    {},
    ['potOver CUP1', 'potNear CUP2'],
  ],
  [
    'an emptied cup rings no more, the gun still does',
    [
      bell('potNear', 'CUP1'),
      bell('potOver', 'CUP1'),
      bell('keepUntil', 'CUP1'),
      bell('gunDue', 'gun-2'),
    ],
    { emptied: new Set(['CUP1']) },
    ['gunDue gun-2'],
  ],
  [
    'a window shut replaces its own closing',
    [bell('windowClosing', 'P1'), bell('windowShut', 'P1'), bell('windowClosing', 'P2')],
    {},
    ['windowShut P1', 'windowClosing P2'],
  ],
  [
    'a window shut replaces the prompt of before it, not one of after it',
    [
      bell('coatReady', 'P1', 1),
      bell('windowShut', 'P1', 2),
      bell('windowShut', 'P2', 1),
      bell('coatReady', 'P2', 2),
    ],
    {},
    ['windowShut P1', 'windowShut P2', 'coatReady P2'],
  ],
  [
    'what is in a bake has no window',
    [
      bell('windowClosing', 'P1'),
      bell('windowShut', 'P2', 0, 'J1'),
      bell('cureOver', 'P1'),
      bell('windowShut', 'P3'),
    ],
    { baking: new Set(['P1', 'J1']) },
    ['cureOver P1', 'windowShut P3'],
  ],
]
test.each(dependents)('%s', (_, bells, facts, left) => {
  expect(kindsOf(independent(bells, { ...none, ...facts }))).toEqual(left)
})

/** The same as a truth table: which kinds each condition silences, of a bell of thing T and job J. */
const SILENCES: [string, readonly BellKind[]][] = [
  ['its cup is emptied', ['potNear', 'potOver', 'keepUntil']],
  ['its panel is in a bake', ['windowClosing', 'windowShut']],
  ['its job is in a bake', ['windowClosing', 'windowShut']],
  ['the same is past its limit', ['potNear', 'windowClosing', 'coatReady', 'look']],
  ['another is past its limit', []],
]
const KINDS = Object.keys(BELLS) as BellKind[]
const rows = Array.from({ length: 2 ** SILENCES.length }, (_, n) =>
  SILENCES.map((__, i) => Math.floor(n / 2 ** i) % 2 === 1),
)

test.each(rows)(
  'dependent bells: emptied %s, panel baking %s, job baking %s, past its limit %s, another past its limit %s',
  (isEmptied, isBaking, isJobBaking, isPast, isOtherPast) => {
    const baking = new Set([...(isBaking ? ['T'] : []), ...(isJobBaking ? ['J'] : [])])
    const facts = { emptied: new Set(isEmptied ? ['T'] : []), baking }
    const past = (thing: string) => [bell('potOver', thing), bell('windowShut', thing)]
    const others = [...(isPast ? past('T') : []), ...(isOtherPast ? past('OTHER') : [])]
    const holds = [isEmptied, isBaking, isJobBaking, isPast, isOtherPast]
    for (const kind of KINDS) {
      const left = kindsOf(independent([bell(kind, 'T', 0, 'J'), ...others], facts))
      const isSilenced = SILENCES.some(([, kinds], i) => holds[i] && kinds.includes(kind))
      // One that rings beside its double without a job is not what is asked about.
      const isDouble = isPast && (kind === 'potOver' || kind === 'windowShut')
      if (!isDouble) expect(left.includes(`${kind} T`), kind).toBe(!isSilenced)
    }
  },
)

const open: Grouping = { isOpen: () => true, isFresh: () => true }
const counts = (cards: readonly Card[]) => cards.map((c) => [c.key, c.bells.length])

test('three panels of a job that come ready within a minute are one card', () => {
  const bells = [
    bell('coatReady', 'P2', 30 * S, 'J1'),
    bell('coatReady', 'P1', 0, 'J1'),
    bell('coatReady', 'P3', 60 * S, 'J1'),
  ]
  expect(counts(regroup([], bells, open))).toEqual([['coatReady-P1', 3]])
})

test('another kind, another job, no job, or more than a minute later is another card', () => {
  const bells = [
    bell('coatReady', 'P1', 0, 'J1'),
    bell('look', 'P2', 0, 'J1'),
    bell('coatReady', 'P3', 0, 'J2'),
    bell('coatReady', 'P4', 60 * S + 1, 'J1'),
    bell('potNear', 'CUP1', 0),
    bell('potNear', 'CUP2', 0),
  ]
  expect(regroup([], bells, open)).toHaveLength(6)
})

test('a card keeps its name when the bell that opened it is gone, and goes with its last', () => {
  const first = bell('coatReady', 'P1', 0, 'J1')
  const second = bell('coatReady', 'P2', 10 * S, 'J1')
  const both = regroup([], [first, second], open)
  const one = regroup(both, [second], open)
  expect(counts(one)).toEqual([['coatReady-P1', 1]])
  expect(regroup(one, [], open)).toEqual([])
})

test('a panel that comes ready after the card was answered opens a card of its own', () => {
  const first = regroup([], [bell('coatReady', 'P1', 0, 'J1')], open)
  const bells = [bell('coatReady', 'P1', 0, 'J1'), bell('coatReady', 'P2', 10 * S, 'J1')]
  expect(counts(regroup(first, bells, { ...open, isOpen: () => false }))).toEqual([
    ['coatReady-P1', 1],
    ['coatReady-P2', 1],
  ])
})

test('a bell that the log knows as answered does not join the others', () => {
  const bells = [bell('coatReady', 'P1', 0, 'J1'), bell('coatReady', 'P2', 0, 'J1')]
  const cards = regroup([], bells, { ...open, isFresh: (b) => b.thing !== 'P2' })
  expect(cards).toHaveLength(2)
})

const ringing = (kind: BellKind, more: Partial<Ringing> = {}): Ringing => ({
  key: kind,
  kind,
  dueAt: 0,
  raisedAtMs: 0,
  wantsTurn: true,
  isAudible: true,
  ...more,
})

test('the order is class, then deadline, then age', () => {
  const rows = [
    ringing('coatReady', { dueAt: 1 }),
    ringing('potNear', { key: 'younger', dueAt: 5, raisedAtMs: 9 }),
    ringing('potNear', { key: 'older', dueAt: 5, raisedAtMs: 7 }),
    ringing('windowShut', { dueAt: 4 }),
    ringing('potOver', { dueAt: 9 }),
  ]
  expect(rows.sort(byUrgency).map((r) => r.key)).toEqual([
    'potOver',
    'windowShut',
    'older',
    'younger',
    'coatReady',
  ])
})

test('a second of silence comes before the next sound', () => {
  const last = { sound: 'A', endedAtMs: 10 * S } as const
  const rows = [ringing('potNear')]
  expect(nextSound(rows, last, 11 * S - 1, false)).toBe(null)
  expect(nextSound(rows, last, 11 * S, false)).toBe('potNear')
})

test('the two most urgent kinds sound by turns, the third waits', () => {
  const rows = [ringing('coatReady'), ringing('potNear', { dueAt: 1 }), ringing('windowShut')]
  const heard: (string | null)[] = []
  let last: { sound: SoundName; endedAtMs: number } | null = null
  for (let nowMs = 0; nowMs < 8 * S; nowMs += 2 * S) {
    const key = nextSound(rows, last, nowMs, false)
    heard.push(key)
    if (key !== null) last = { sound: BELLS[key as BellKind].sound, endedAtMs: nowMs + S }
  }
  expect(heard).toEqual(['windowShut', 'potNear', 'windowShut', 'potNear'])
})

test('a third kind sounds once one of the two has nothing left to say', () => {
  const rows = [
    ringing('coatReady'),
    ringing('potNear', { isAudible: false, wantsTurn: false }),
    ringing('windowShut', { wantsTurn: false }),
  ]
  expect(nextSound(rows, null, 0, false)).toBe('coatReady')
})

test('in a flood only the most urgent kind sounds', () => {
  const rows = [ringing('potOver', { wantsTurn: false }), ringing('potNear'), ringing('coatReady')]
  expect(nextSound(rows, null, 0, false)).toBe('potNear')
  expect(nextSound(rows, null, 0, true)).toBe(null)
})

test('four kinds at once are a flood, and so are eleven bells in ten minutes', () => {
  const three = [ringing('coatReady'), ringing('look'), ringing('potNear'), ringing('potOver')]
  expect(isFlood(three, [], 0)).toBe(false)
  expect(isFlood([...three, ringing('windowShut')], [], 0)).toBe(true)
  const eleven = Array.from({ length: 11 }, (_, n) => n * S)
  expect(isFlood([], eleven, 10 * S)).toBe(true)
  expect(isFlood([], eleven.slice(1), 10 * S)).toBe(false)
  expect(isFlood([], eleven, 10 * MIN - 1)).toBe(true)
  expect(isFlood([], eleven, 10 * MIN)).toBe(false)
})

test('a bell sounds at its work position first, and everywhere when it reaches further', () => {
  const here = { bells: [{ ...bell('coatReady', 'P1', 0), zone: 'booth' }] }
  expect(soundsAt('booth', 'position', here)).toBe(true)
  expect(soundsAt('bench', 'position', here)).toBe(false)
  expect(soundsAt('bench', 'zone', here)).toBe(true)
  expect(soundsAt('bench', 'shop', here)).toBe(true)
  // A kiosk that is bound to no place, and a thing that is in none.
  expect(soundsAt('', 'position', here)).toBe(true)
  expect(soundsAt('bench', 'position', { bells: [bell('gunDue', 'G1', 0)] })).toBe(true)
})

test('two cups of one job past their pot life are two cards: each is answered by itself', () => {
  const alone: Grouping = { isOpen: () => true, isFresh: () => true }
  const cups = [bell('potOver', 'CUP1', 0, 'JOB1'), bell('potOver', 'CUP2', 20 * S, 'JOB1')]
  expect(regroup([], cups, alone).map((card) => card.bells.length)).toEqual([1, 1])
})
