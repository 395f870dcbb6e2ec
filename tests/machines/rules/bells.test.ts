import { describe, expect, test } from 'vitest'
import { bellOf } from '../../../machines/bell/fold.ts'
import { BELLS } from '../../../machines/bell/kinds.ts'
import { deadlines, dueBells } from '../../../machines/deadlines.ts'
import {
  addPanel,
  air,
  BASE_CUP,
  bells,
  CLEAR_CUP,
  CLEAR_CURE,
  CLEAR_ONLY,
  coat,
  DOOR,
  JOB,
  keyOf,
  mix,
  refusalOf,
  said,
  shopWith,
  vanWith,
  WING,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

const cleared = (more: object = {}): Shop =>
  coat(vanWith(CLEAR_ONLY, [{ ...CLEAR, ...more }]), CLEAR_CUP, 1, 5)
const ring = (shop: Shop, key: string) => said(shop.send('RingBell', { key }))
const POT = `potOver:${CLEAR_CUP}`

describe('when "near" begins', () => {
  test.each([
    [200, 160, 'a fifth of the life'],
    [60, 48, 'a fifth of the life'],
    [50, 40, 'ten minutes, as much as a fifth'],
    [30, 20, 'ten minutes'],
    [15, 7.5, 'half the life'],
    [4, 2, 'half the life'],
  ])('a pot life of %i min is near its end at minute %f: %s before', (minutes, near) => {
    const shop = mix(
      shopWith([{ ...CLEAR, potLife: [{ atC: 20, minutes }] }]),
      CLEAR_CUP,
      'clear-2k',
    )
    expect(bells(shop)).toEqual([
      ['potNear', near],
      ['potOver', minutes],
    ])
  })

  // The window opens with the end of flash, ten minutes after the coat at minute 5.
  test.each([
    [480, 438, 'a tenth of the window'],
    [160, 150, 'fifteen minutes, as much as a tenth'],
    [100, 90, 'fifteen minutes'],
    [30, 25, 'half the window'],
  ])(
    'a window that shuts %i min after the coat is closing at minute %i: %s before',
    (minutes, near) => {
      expect(
        bells(cleared({ recoatWithin: [{ atC: 20, minutes }] }), 'windowClosing', 'windowShut'),
      ).toEqual([
        ['windowClosing', near],
        ['windowShut', 5 + minutes],
      ])
    },
  )
})

describe('which bells there are', () => {
  test('each kind has a moment in a shop', () => {
    const sheet = {
      ...CLEAR,
      induction: [{ atC: 20, minutes: 5 }],
      cure: { ...CLEAR.cure, infrared: { minutes: 10, flashBefore: 5 } },
    }
    const look = { ...BASE, flashBy: 'appearance' }
    const shop = vanWith(CLEAR_CURE, [look, sheet])
    addPanel(shop, CLEAR_CURE, { panel: WING, name: 'Side' })
    addPanel(shop, [{ stage: 'base', sheet: BASE.sheet }], { panel: 'HHHH2222', name: 'Hood' })
    const seen = new Set<string>()
    const note = (s: Shop): void => {
      for (const { bell } of deadlines(s.state)) seen.add(bell)
    }
    note(coat(shop, BASE_CUP, 1, 3, { panels: ['HHHH2222'] }))
    note(coat(shop, CLEAR_CUP, 6, 8, { gun: 'gun-1' }))
    note(coat(shop, CLEAR_CUP, 19, 20))
    shop.at(30).do('StartCure', { panels: [DOOR], mode: 'air' })
    note(shop)
    const spraying = { panels: [WING], cup: CLEAR_CUP }
    shop.do('StartCoat', spraying)
    note(shop)
    expect([...seen].sort()).toEqual(Object.keys(BELLS).sort())
  })

  test('they come in the order of time', () => {
    const dues = deadlines(cleared().state).map((d) => d.dueAt)
    expect(dues).toEqual(dues.toSorted((a, b) => a - b))
    expect(dues.length).toBeGreaterThan(3)
  })

  test('what ends the waiting ends the bell', () => {
    const shop = cleared()
    shop.at(15).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    expect(bells(shop, 'coatReady', 'windowClosing', 'windowShut')).toEqual([])
    shop.at(16).do('FinishCoat', { panels: [DOOR] })
    // The step has ended and nothing follows it.
    expect(bells(shop, 'coatReady', 'windowShut')).toEqual([])
  })

  test('a window that shut is answered by abrading', () => {
    const shop = cleared().at(500)
    expect(bells(shop, 'windowShut')).toHaveLength(1)
    shop.do('AbradePanel', { panel: DOOR, grit: 800 })
    expect(bells(shop, 'windowClosing', 'windowShut')).toEqual([])
  })

  test.each(['sand', 'cure', 'polish'])('before a %s step no coat is waited for', (stage) => {
    const shop = vanWith([{ ...CLEAR_ONLY[0], coats: 1 }, { stage }, ...CLEAR_ONLY])
    coat(shop, CLEAR_CUP, 1, 5)
    expect(bells(shop, 'coatReady', 'windowClosing', 'windowShut')).toEqual([])
  })

  test('before a prep step the window runs, but the coat is not ready', () => {
    const shop = vanWith([{ ...CLEAR_ONLY[0], coats: 1 }, { stage: 'prep' }, ...CLEAR_ONLY])
    coat(shop, CLEAR_CUP, 1, 5)
    expect(bells(shop, 'coatReady')).toEqual([])
    expect(bells(shop, 'windowShut')).toHaveLength(1)
  })
})

describe('ringing', () => {
  test('is recorded once, however many kiosks ring it', () => {
    const shop = cleared().at(15)
    const key = keyOf(shop, 'coatReady')
    const [rang] = shop.do('RingBell', { key })
    expect(rang).toMatchObject({
      type: 'BellRang',
      panel: DOOR,
      job: JOB,
      data: { key, bell: 'coatReady', dueAt: minute(15) },
    })
    expect(shop.at(16).do('RingBell', { key })).toEqual([])
    expect(dueBells(shop.state, shop.now)).toEqual([])
  })

  test('not before its moment, give or take two seconds of two clocks', () => {
    const shop = cleared()
    const at = (ms: number): string => {
      const copy = shop.fork()
      copy.now = minute(60) - ms
      return ring(copy, POT)
    }
    expect([at(2_001), at(2_000), at(0)]).toEqual(['bellNotDue', 'done', 'done'])
  })

  test('not of what is not waited for', () => {
    expect(refusalOf(cleared().send('RingBell', { key: 'potOver:ZZZZ2222' })).message).toBe(
      'Bell potOver:ZZZZ2222 is not due. Its wait is over or was called off.',
    )
  })

  test.each([
    ['by a minute does not ring again', 1, []],
    ['by more than a minute rings again', 1.02, ['coatReady']],
  ])('a deadline that moves later %s', (_, byMin, due) => {
    // Ten minutes at 20 °C; the last of them at 10 °C takes twice its time.
    const shop = cleared().at(15)
    ring(shop, keyOf(shop, 'coatReady'))
    const at = minute(15 - byMin)
    shop.do('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 }, { at: minute(5), enteredAt: at })
    shop.do('ReadClimate', { zone: 'booth', airC: 10, rh: 0.5 }, { at, enteredAt: at })
    shop.at(15 + byMin + 1)
    expect(dueBells(shop.state, shop.now).map((d) => d.bell)).toEqual(due)
  })

  test('again is a new notice, not acknowledged yet', () => {
    const shop = cleared().at(15)
    const key = keyOf(shop, 'coatReady')
    ring(shop, key)
    shop.do('AcknowledgeBell', { key })
    shop.do('SnoozeBell', { key, minutes: 10 })
    air(shop, 15, 20)
    const at = minute(10)
    shop.do('ReadClimate', { zone: 'booth', airC: 5, rh: 0.5 }, { at, enteredAt: at })
    ring(shop.at(40), key)
    expect(bellOf(shop.state, key)).toMatchObject({ acknowledged: [], snoozes: [] })
  })
})

describe('answering', () => {
  const rung = (): Shop => {
    const shop = cleared().at(60)
    ring(shop, POT)
    return shop
  }
  test('an acknowledgement moves no deadline and hides nothing', () => {
    const shop = rung()
    const before = deadlines(shop.state)
    shop.do('AcknowledgeBell', { key: POT })
    expect(deadlines(shop.state)).toEqual(before)
  })

  test('when two people acknowledge, both are logged and neither gets an error', () => {
    const shop = rung()
    shop.do('AcknowledgeBell', { key: POT }, { device: 'kiosk-1', by: 'ana' })
    shop.do('AcknowledgeBell', { key: POT }, { device: 'kiosk-2', by: 'ben' })
    expect(bellOf(shop.state, POT)?.acknowledged.map((a) => [a.by, a.device])).toEqual([
      ['ana', 'kiosk-1'],
      ['ben', 'kiosk-2'],
    ])
  })

  test('what has not rung cannot be acknowledged or snoozed', () => {
    const shop = cleared().at(60)
    expect(shop.refused('AcknowledgeBell', { key: POT })).toBe('bellNotDue')
    expect(shop.refused('SnoozeBell', { key: POT, minutes: 1 })).toBe('bellNotDue')
  })

  test('a bell may still be acknowledged when what it waited for was done', () => {
    const shop = rung()
    shop.do('EmptyCup', { cup: CLEAR_CUP, how: 'discarded' })
    expect(said(shop.send('AcknowledgeBell', { key: POT }))).toBe('done')
  })

  // Prompts up to 10 min, alarms up to 5, pot life past never; twice at most.
  test.each([
    ['coatReady', 10, 15],
    ['potNear', 5, 48],
    ['windowClosing', 5, 438],
    ['windowShut', 5, 485],
    ['potOver', 0, 60],
  ])('%s may be put off by at most %i min', (kind, most, dueAtMin) => {
    const shop = cleared().at(dueAtMin)
    const key = keyOf(shop, kind)
    ring(shop, key)
    const snooze = (minutes: number) => said(shop.fork().send('SnoozeBell', { key, minutes }))
    const allowed = Array.from({ length: 10 }, (_, i) => i + 1).filter((m) => snooze(m) === 'done')
    expect(allowed.at(-1) ?? 0).toBe(most)
    expect(allowed).toHaveLength(most)
  })

  test('twice, and not a third time', () => {
    const shop = cleared().at(48)
    const key = keyOf(shop, 'potNear')
    ring(shop, key)
    const snooze = () => said(shop.send('SnoozeBell', { key, minutes: 1 }))
    expect([snooze(), snooze(), snooze()]).toEqual(['done', 'done', 'snoozeNotAllowed'])
  })
})
