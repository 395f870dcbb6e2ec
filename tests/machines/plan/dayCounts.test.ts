import { expect, test } from 'vitest'
import { isEvent } from '../../../machines/catalog.ts'
import type { Draft } from '../../../machines/envelope.ts'
import { DAY_TYPES, dayCounts } from '../../../machines/plan/dayCounts.ts'

/** What a day's entries add up to. */

const entry = (n: number, type: string, data: Draft['data'], more: Partial<Draft> = {}): Draft => ({
  ...{ shop: 'S', id: `c${n}.0`, type, version: 1, at: n, enteredAt: n, device: null, by: null },
  ...{ command: `c${n}`, seq: null, data },
  ...more,
})

const coat = (n: number, stage: string | null) => entry(n, 'CoatFinished', { stage })
const cup = (n: number, totalMl: number, sheet = 'clear') =>
  entry(n, 'CupMixed', { totalMl, name: `The ${sheet}` }, { sheet })

test('every type that is counted is one that the log has', () => {
  expect(DAY_TYPES.filter((type) => !isEvent(type))).toEqual([])
})

test('coats are counted by stage and material by product, the most first', () => {
  const day = [
    coat(1, 'base'),
    coat(2, 'clear'),
    coat(3, 'clear'),
    coat(4, null),
    cup(5, 300),
    cup(6, 150),
  ]
  const { coats, material } = dayCounts([...day, cup(7, 60, 'base')], new Set())
  expect(coats).toEqual([
    { stage: 'clear', coats: 2 },
    { stage: '', coats: 1 },
    { stage: 'base', coats: 1 },
  ])
  expect(material).toEqual([
    { sheet: 'clear', name: 'The clear', cups: 2, totalMl: 450 },
    { sheet: 'base', name: 'The base', cups: 1, totalMl: 60 },
  ])
})

test('what was voided does not count, and rework and overrides are told apart', () => {
  const override = { reason: 'BREAK', codes: [], broken: [] }
  const day = [
    coat(1, 'base'),
    entry(2, 'CoatFinished', { stage: 'base' }, { override }),
    entry(3, 'PanelSentBack', {}),
    entry(4, 'PanelDenibbed', {}),
    entry(5, 'PanelAbraded', {}),
    entry(6, 'CoatBrokenOff', {}),
    entry(7, 'CupEmptied', { how: 'discarded' }),
    entry(8, 'CupEmptied', { how: 'used' }),
    entry(9, 'PanelPassed', {}),
  ]
  expect(dayCounts(day, new Set(['c1.0']))).toEqual({
    coats: [{ stage: 'base', coats: 1 }],
    material: [],
    ...{ discardedCups: 1, passed: 1, sentBack: 1, denibbed: 1, abraded: 1, brokenOff: 1 },
    overrides: 1,
  })
})

test('an empty day has nothing', () => {
  expect(dayCounts([], new Set())).toMatchObject({ coats: [], material: [], passed: 0 })
})
