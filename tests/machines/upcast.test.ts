import { expect, test } from 'vitest'
import type { Entry } from '../../machines/envelope.ts'
import { defineUpcasts, isUnknown, type Lift } from '../../machines/upcast.ts'

/** Version 1 wrote minutes, 2 milliseconds, 3 says who counted. */
const toMs: Lift = ({ minutes, ...rest }) => ({ ...rest, durationMs: Number(minutes) * 60_000 })
const toCounted: Lift = (data) => ({ ...data, counted: 'byHand' })
const current = { CureEnded: 3, NoteAdded: 1 }
const upcasts = defineUpcasts(current, { CureEnded: [toMs, toCounted] })

const stored = (type: string, version: number, data: Entry['data']): Entry => ({
  shop: 'S1',
  position: 4,
  id: 'c4.0',
  type,
  version,
  at: 1_780_000_000_000,
  enteredAt: 1_780_000_000_000,
  recordedAt: 1_780_000_000_000,
  device: null,
  by: null,
  command: 'c4',
  commandDigest: 'd'.repeat(64),
  seq: 4,
  panel: 'PNL22222',
  data,
  hash: 'a'.repeat(64),
})

test('an entry of each older version reads as if it had been written today', () => {
  const today = stored('CureEnded', 3, { durationMs: 1_800_000, counted: 'byHand', mode: 'bake' })
  expect(upcasts.lift(stored('CureEnded', 1, { minutes: 30, mode: 'bake' }))).toEqual(today)
  expect(upcasts.lift(stored('CureEnded', 2, { durationMs: 1_800_000, mode: 'bake' }))).toEqual(
    today,
  )
  expect(upcasts.lift(today)).toEqual(today)
})

test('what was stored stays as it is: the hash goes along, the old entry is untouched', () => {
  const old = stored('CureEnded', 1, { minutes: 30 })
  const before = structuredClone(old)
  expect(upcasts.lift(old)).toMatchObject({ hash: old.hash, position: 4, id: 'c4.0' })
  expect(old).toEqual(before)
})

test('an entry of an unknown type is kept and marked, not folded and not dropped', () => {
  const entry = stored('RobotArmMoved', 1, { axis: 2 })
  expect(upcasts.lift(entry)).toEqual({ unknown: true, why: 'type', entry })
})

test('a type named like a part of the language is still an unknown type', () => {
  const entry = stored('constructor', 1, {})
  expect(upcasts.lift(entry)).toEqual({ unknown: true, why: 'type', entry })
})

test.each([4, 0, 1.5, Number.NaN])(
  'an entry of version %s, which this program never wrote, is kept and marked',
  (version) => {
    const entry = stored('CureEnded', version, {})
    expect(upcasts.lift(entry)).toEqual({ unknown: true, why: 'version', entry })
  },
)

test('a marked entry can be distinguished from one to fold', () => {
  expect(isUnknown(upcasts.lift(stored('RobotArmMoved', 1, {})))).toBe(true)
  expect(isUnknown(upcasts.lift(stored('NoteAdded', 1, { text: 'dry' })))).toBe(false)
})

test('a complete table passes at start', () => {
  expect(() => upcasts.check()).not.toThrow()
})

test('start fails on a gap, naming the type and the version that nothing lifts', () => {
  const gap = defineUpcasts(current, { CureEnded: [toMs] })
  expect(() => gap.check()).toThrow('CureEnded is of version 3 and has no lift from version 2')
  expect(() => defineUpcasts(current, {}).check()).toThrow('no lift from version 1')
})

test('start fails on a lift too many: the version was not raised', () => {
  const surplus = defineUpcasts(current, { CureEnded: [toMs, toCounted], NoteAdded: [toCounted] })
  expect(() => surplus.check()).toThrow('NoteAdded is of version 1 and has a lift too many')
})

test('start fails on lifts of a type that is no longer written, and on a version that is not a positive number', () => {
  const lost = defineUpcasts({ NoteAdded: 1 }, { CureEnded: [toMs] })
  expect(() => lost.check()).toThrow('CureEnded has lifts, but no current version')
  expect(() => defineUpcasts({ NoteAdded: 0 }, {}).check()).toThrow('NoteAdded is of version 0')
})

test('a lift that fails names the entry', () => {
  const broken = defineUpcasts(current, {
    CureEnded: [
      () => {
        throw new Error('no minutes')
      },
      toCounted,
    ],
  })
  expect(() => broken.lift(stored('CureEnded', 1, {}))).toThrow(
    'Entry c4.0 (CureEnded, version 1) cannot be lifted.',
  )
})

test('a code that was renamed is read by its present name, what was stored stays', () => {
  const broken = { code: 'zoneBaking', limit: null, value: 'booth' }
  const old = { ...stored('NoteAdded', 1, {}), outside: [broken, { ...broken, code: 'dewPoint' }] }
  const before = structuredClone(old)
  expect(upcasts.lift(old)).toEqual({
    ...old,
    outside: [
      { ...broken, code: 'heatInZone' },
      { ...broken, code: 'dewPoint' },
    ],
  })
  expect(old).toEqual(before)
})
