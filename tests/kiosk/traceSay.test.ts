import { describe, expect, test } from 'vitest'
import type { Mark } from '../../kiosk/trace/mark.ts'
import {
  deviationName,
  excessText,
  findingText,
  flagsText,
  lengthText,
  markName,
  markNumbers,
  type Say,
  whereText,
} from '../../kiosk/trace/say.ts'
import { formatOf } from '../../kiosk/units/format.ts'
import { es } from '../../kiosk/words/all.es.ts'
import { en } from '../../kiosk/words/all.ts'
import { type DeviationKind, deviationsIn } from '../../machines/trace/deviations.ts'
import type { Finding } from '../../machines/trace/signals.ts'
import { BASE_CLEAR, BASE_CUP, coat, vanWith } from '../support/given.ts'
import { MINUTE, minute } from '../support/shop.ts'

/** What Trace says of a mark, a figure and a deviation, in both languages and in the shop's units. */

const english: Say = { words: en, format: formatOf({ timeZone: 'UTC' }) }
const spanish: Say = {
  words: es,
  format: formatOf({ language: 'es', timeZone: 'UTC' }),
}
const mark = (more: Partial<Mark>): Mark => ({
  ...{ row: 'panel DDDD2222', kind: 'coat', from: minute(0), to: minute(2), entry: 'e' },
  ...{ what: 'clear', n: 2, flags: [] },
  ...more,
})

test('seconds count in a wait, and not in hours', () => {
  expect(lengthText(4 * MINUTE + 10_000)).toBe('4:10 min')
  expect(lengthText(190 * MINUTE)).toBe('3 h 10\u00a0min')
})

test('of what came late it is said when it was recorded, with the day where that was another', () => {
  const late = (min: number) => mark({ flags: ['estimated'], recordedAt: minute(min) })
  expect(flagsText(late(200), english)).toBe('estimated, recorded 11:20')
  expect(flagsText(late(200), spanish)).toMatch(/, registrado 11:20$/)
  expect(flagsText(late(1_640), english)).toBe('estimated, recorded 11:20 +1')
})

test('a gap says of what nothing is recorded', () => {
  const gap = (row: string) => markName(mark({ kind: 'gap', row, what: 'booth' }), english)
  expect([gap('air booth'), gap('dew booth')]).toEqual([
    'Air: not recorded',
    'Dew margin: not recorded',
  ])
})

describe('numbers on a mark', () => {
  // Actual of allowed, and the ratio where it is outside: 250 s of 420 s are ×0.60.
  test.each([
    [[250_000, 7 * MINUTE], [], '4:10 min of 7:00 min ×0.60'],
    [[8 * MINUTE, 7 * MINUTE], [], '8:00 min of 7:00 min'],
    [[90 * MINUTE, 7 * MINUTE, 60 * MINUTE], ['late'], '90 min of 60 min ×1.5'],
    [[8 * MINUTE, null], [], 'after 8:00 min; in that air it never dried'],
    [[8 * MINUTE, 0], [], ''],
    [[], [], ''],
  ] as const)('a coat that waited %j %j: %s', (numbers, flags, text) => {
    expect(markNumbers(mark({ numbers, flags }), english)).toBe(text)
  })

  test('air, margin, cure, cup and gun in the shop’s units', () => {
    const numbers = (kind: Mark['kind'], given: (number | null)[], say = english) =>
      markNumbers(mark({ kind, numbers: given }), say)
    expect(numbers('air', [20, 0.5, null])).toMatch(/^20(\.0)? °C 50 %$/)
    expect(numbers('air', [20, 0.5, 18])).toContain('△ 18')
    expect(numbers('dew', [1.9, 3])).toMatch(/1\.9.*at least 3/)
    expect(numbers('dew', [1.9, 3], spanish)).toMatch(/1[.,]9.*al menos 3/)
    expect(numbers('cure', [0.4])).toBe('40 %')
    expect(numbers('cure', [null])).toBe('not recorded')
    expect(numbers('cup', [minute(60)])).toContain('9:00')
    expect(numbers('use', [180, null])).toMatch(/180|1\.8|26/)
  })

  test('what was told or taken back later says when', () => {
    const later = mark({ kind: 'later', what: 'CoatStarted', numbers: [minute(30)] })
    expect(markNumbers(later, english)).toBe('entered 08:30')
    expect(markNumbers({ ...later, flags: ['voided'] }, spanish)).toMatch(/^anulado .*8:30/)
  })
})

test('every kind of mark and every flag has a name in both languages', () => {
  const kinds: readonly Mark['kind'][] = [
    ...(['air', 'dew', 'movers', 'gap', 'band', 'wait', 'coat', 'cure', 'use', 'past'] as const),
    ...(['bell', 'work', 'void', 'later'] as const),
  ]
  const whats: Partial<Record<Mark['kind'], string>> = {
    ...{ cure: 'bake', bell: 'coatReady', work: 'PanelAbraded', void: 'CoatStarted' },
    later: 'CoatFinished',
  }
  const flags: readonly Mark['flags'][number][] = [
    ...(['outside', 'override', 'estimated', 'notRecorded', 'voided', 'early', 'late'] as const),
    'under',
  ]
  for (const kind of kinds) {
    const one = mark({ kind, what: whats[kind] ?? 'clear' })
    const [a, b] = [markName(one, english), markName(one, spanish)]
    expect([kind, a, b, a === b]).toEqual([kind, a, b, false])
    expect(a).not.toMatch(/[a-z][A-Z]|undefined/)
  }
  for (const flag of flags) {
    const [a, b] = [english, spanish].map((say) => flagsText(mark({ flags: [flag] }), say))
    expect(a).not.toBe('')
    expect(a).not.toBe(b)
  }
})

describe('a figure with its limit', () => {
  const finding = (more: Partial<Finding>): Finding =>
    ({
      ...{
        signal: 'flashShort',
        panel: 'DDDD2222',
        stage: 'clear',
        coat: 2,
        over: null,
        cup: null,
      },
      ...{ value: 4 * MINUTE, limit: 10 * MINUTE, level: 'severe', entry: 'e', at: minute(0) },
      ...more,
    }) as Finding

  // The figure, and its limit beside it.
  test('reads as a sentence', () => {
    expect(findingText(finding({}), english)).toBe(
      'clear 2 · flash between coats too short · after 4:00 min, at least 10:00 min',
    )
    expect(findingText(finding({}), spanish)).not.toMatch(/after|at least|flash between/)
  })

  test('what speaks against says that it was not so', () => {
    expect(findingText(finding({ value: 12 * MINUTE, level: 'clearlyWithin' }), english)).toContain(
      'not: flash between coats too short',
    )
  })

  test('one without a limit never says so many of undefined', () => {
    for (const signal of ['humid', 'cold', 'windowOver', 'filmHeavy', 'pressureLow'] as const)
      for (const say of [english, spanish])
        expect(findingText(finding({ signal, limit: null, value: 0.5 }), say)).not.toMatch(
          /undefined|NaN|null/,
        )
  })
})

describe('a deviation', () => {
  const shop = coat(vanWith(BASE_CLEAR), BASE_CUP, 0, 2)
  coat(shop, BASE_CUP, 4, 6, { override: { reason: 'hurry' } })
  const all = deviationsIn(shop.entries)
  const found = all.find(({ kind }: { kind: DeviationKind }) => kind === 'override')

  test('says what, where and by how much, about conditions and not about a person', () => {
    if (!found) throw new Error('the second coat broke no limit')
    expect(whereText(found, english)).toMatch(/^Rear door · base 2/)
    expect(excessText(found, english)).toMatch(/^by \d+:\d\d min \(\d+ %\)$/)
    expect(deviationName(found, english)).not.toBe(found.code)
    expect(deviationName(found, spanish)).not.toBe(deviationName(found, english))
  })
})
