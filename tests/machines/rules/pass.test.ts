import { describe, expect, test } from 'vitest'
import { deadlines, dueBells } from '../../../machines/deadlines.ts'
import type { Draft } from '../../../machines/envelope.ts'
import {
  addPanel,
  air,
  around,
  bells,
  CLEAR_CUP,
  CLEAR_ONLY,
  coat,
  DOOR,
  keyOf,
  minuteOf,
  mix,
  outsideOf,
  panelOf,
  queued,
  refusalOf,
  SILL,
  shopWith,
  startCoat,
  WING,
} from '../../support/given.ts'
import { CLEAR } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

const ALL = [DOOR, WING, SILL]

/** Side without an area, sill 0.2 m2: a minute each to spray. The door takes three minutes. */
function threePanels(route: readonly object[] = CLEAR_ONLY): Shop {
  const shop = shopWith()
  addPanel(shop, route, { areaM2: 1.5 })
  addPanel(shop, route, { panel: WING, name: 'Side' })
  addPanel(shop, route, { panel: SILL, name: 'Sill', areaM2: 0.2 })
  return mix(shop, CLEAR_CUP, CLEAR.sheet)
}
const finishes = (drafts: readonly Draft[]): [string, number][] =>
  drafts.map((d) => [d.panel ?? '', minuteOf(d.at)])

describe('a pass over several panels', () => {
  test('starts on all of them with one touch', () => {
    const drafts = threePanels().at(1).do('StartCoat', { panels: ALL, cup: CLEAR_CUP })
    expect(drafts.map((d) => [d.type, d.panel, d.at])).toEqual(
      ALL.map((panel) => ['CoatStarted', panel, minute(1)]),
    )
    expect(new Set(drafts.map((d) => d.command)).size).toBe(1)
  })

  test('starts on none of them when one is not ready, and names that one', () => {
    const shop = coat(threePanels(), CLEAR_CUP, 1, 5, { panels: [WING] }).at(6)
    const refusal = refusalOf(startCoat(CLEAR_CUP, { panels: ALL })(shop))
    expect([refusal.code, refusal.panels]).toEqual(['flashNotOver', [WING]])
    expect(refusal.message).toBe('Side: It has not flashed yet. 9 min to go.')
    expect(ALL.map((id) => panelOf(shop, id).open)).toEqual([null, null, null])
  })

  test('names every panel with the first problem, with a sentence each', () => {
    const shop = coat(threePanels(), CLEAR_CUP, 1, 5, { panels: [WING, SILL] }).at(6)
    const refusal = refusalOf(startCoat(CLEAR_CUP, { panels: ALL })(shop))
    expect(refusal.panels).toEqual([WING, SILL])
    expect(refusal.message).toBe(
      'Side: It has not flashed yet. 8 min 48 s to go. Sill: It has not flashed yet. 9 min to go.',
    )
  })

  test('an unknown panel stops it, whatever the others are', () => {
    const refusal = refusalOf(startCoat(CLEAR_CUP, { panels: [DOOR, 'ZZZZ2222'] })(threePanels()))
    expect([refusal.code, refusal.panels]).toEqual(['unknownThing', ['ZZZZ2222']])
  })

  test('what is wrong with the cup is said once, not for each panel', () => {
    const refusal = refusalOf(startCoat(CLEAR_CUP, { panels: ALL })(threePanels().at(61)))
    expect(refusal.message).toBe(`The pot life of cup ${CLEAR_CUP} ended 1 min ago.`)
  })

  test('a panel named twice is not read', () => {
    expect(() => threePanels().parse('FinishCoat', { panels: [DOOR, DOOR] })).toThrow(
      'a list that names nothing twice',
    )
  })
})

describe('the finishes of a pass', () => {
  const started = (min: number): Shop => {
    const shop = threePanels()
    shop.at(min).do('StartCoat', { panels: ALL, cup: CLEAR_CUP })
    return shop
  }

  test('are spread backwards from the press by what each panel takes to spray', () => {
    const drafts = started(10)
      .at(20)
      .do('FinishCoat', { panels: [WING, SILL, DOOR] })
    expect(finishes(drafts)).toEqual([
      [WING, 16],
      [SILL, 17],
      [DOOR, 20],
    ])
  })

  test('never precede their start', () => {
    const drafts = started(18)
      .at(20)
      .do('FinishCoat', { panels: [WING, SILL, DOOR] })
    expect(finishes(drafts)).toEqual([
      [WING, 18],
      [SILL, 18],
      [DOOR, 20],
    ])
  })

  test('never precede a start that only the finish tells, also in a pass quicker than estimated', () => {
    const finish = { panels: [WING, SILL, DOOR], cup: CLEAR_CUP, startedAt: minute(18) }
    const drafts = threePanels().at(20).do('FinishCoat', finish)
    expect(finishes(drafts)).toEqual([
      [WING, 18],
      [SILL, 18],
      [DOOR, 20],
    ])
  })

  test("follow the shop's own spraying time", () => {
    const shop = started(0)
    shop.do('ChangeSettings', { limits: { sprayMinPerM2: 4 } })
    const drafts = shop.at(20).do('FinishCoat', { panels: [WING, DOOR] })
    expect(finishes(drafts)).toEqual([
      [WING, 14],
      [DOOR, 20],
    ])
  })

  test('share what was used by how long each panel takes', () => {
    const drafts = started(10).at(20).do('FinishCoat', { panels: ALL, usedMl: 100 })
    expect(drafts.map((d) => d.data.usedMl)).toEqual([60, 20, 20])
  })

  const only = (panel: string) => startCoat(CLEAR_CUP, { panels: [panel] })

  test('each panel flashes from its own finish and a fifth of the pass, whose order is a guess', () => {
    const shop = started(10)
    shop.at(20).do('FinishCoat', { panels: [WING, SILL, DOOR] })
    // The side's share ended at 16; 20 % of the 10 min of the pass come on top, and 10 min of flash.
    expect(around(shop, 28, only(WING))).toEqual(['flashNotOver', 'done'])
    expect(around(shop, 30, only(SILL))).toEqual(['done', 'done'])
    expect(around(shop, 30, only(DOOR))).toEqual(['flashNotOver', 'done'])
  })

  test('from its own finish alone where the order is confirmed', () => {
    const shop = started(10)
    shop.at(20).do('FinishCoat', { panels: [WING, SILL, DOOR], ordered: true })
    expect(around(shop, 26, only(WING))).toEqual(['flashNotOver', 'done'])
  })

  test('before another product the whole pass has to be over, and a window runs from the share', () => {
    const sheet = {
      ...CLEAR,
      coats: { least: 1, planned: 1, most: 2 },
      recoatWithin: [{ atC: 20, minutes: 30 }],
    }
    const over = { ...CLEAR, sheet: 'clear-over', coats: { least: 1, planned: 1, most: 2 } }
    const shop = shopWith([sheet, over])
    const route = [
      { stage: 'clear', sheet: sheet.sheet },
      { stage: 'clear', sheet: over.sheet },
    ]
    for (const [panel, areaM2] of [
      [DOOR, 1.5],
      [WING, 0.5],
    ] as const)
      addPanel(shop, route, { panel, areaM2 })
    mix(mix(shop, CLEAR_CUP, sheet.sheet), 'GGGG2222', over.sheet)
    shop.at(10).do('StartCoat', { panels: [WING, DOOR], cup: CLEAR_CUP })
    shop.at(20).do('FinishCoat', { panels: [WING, DOOR] })
    // The side's share was from 16 to 17.
    const next = (copy: Shop) => copy.send('StartCoat', { panels: [WING], cup: 'GGGG2222' })
    expect(around(shop, 30, next)).toEqual(['flashNotOver', 'done'])
    expect(around(shop, 46, next)).toEqual(['done', 'windowShut'])
  })

  test('what is sprayed after the end of its cup is outside, panel by panel', () => {
    const shop = started(55)
    const drafts = shop.at(62).do('FinishCoat', { panels: [WING, SILL, DOOR] })
    expect(drafts.map((draft) => outsideOf(draft))).toEqual([[], [], ['potLifeOver']])
  })
})

describe('a real start that arrives after the finishes of its pass were spread', () => {
  /** The side is finished at 16, the sill at 17, the door at 20: one press at 20. */
  function finished(startMin: number | null): Shop {
    const shop = threePanels()
    if (startMin !== null) shop.at(startMin).do('StartCoat', { panels: ALL, cup: CLEAR_CUP })
    shop.at(20).do('FinishCoat', { panels: [WING, SILL, DOOR], cup: CLEAR_CUP })
    return shop.at(60)
  }
  const walks = (shop: Shop) =>
    [WING, SILL, DOOR].map((id) => {
      const { coats, open } = panelOf(shop, id)
      const times = coats.map((c) => [minuteOf(c.startedAt), minuteOf(c.finishedAt), c.isEstimated])
      return [times, open]
    })

  test('leaves no coat open where it falls after a finish, which then moves to it', () => {
    const shop = finished(null)
    const drafts = queued(shop, 18, 'StartCoat', { panels: ALL, cup: CLEAR_CUP, kind: 'light' })
    expect(walks(shop)).toEqual([
      [[[18, 18, false]], null],
      [[[18, 18, false]], null],
      [[[18, 20, false]], null],
    ])
    expect(panelOf(shop, WING).coats[0]?.kind).toBe('light')
    // It is not judged against the film that it is itself.
    expect(drafts.map((draft) => draft.outside)).toEqual([undefined, undefined, undefined])
  })

  test('gives the same state whichever arrived first', () => {
    const late = finished(null)
    queued(late, 18, 'StartCoat', { panels: ALL, cup: CLEAR_CUP })
    expect(walks(late)).toEqual(walks(finished(18)))
  })

  test('counts once where the coat had a start already, and says that it was a second one', () => {
    const shop = finished(10)
    const before = walks(shop)
    const [door] = queued(shop, 18, 'StartCoat', { panels: [WING], cup: CLEAR_CUP })
    expect(walks(shop)).toEqual(before)
    expect(outsideOf(door)).toEqual(['coatRunning'])
  })

  test('is as if it had never been when it is voided', () => {
    const shop = finished(null)
    const before = walks(shop)
    const [start] = queued(shop, 18, 'StartCoat', { panels: [WING], cup: CLEAR_CUP })
    shop.do('VoidEntry', { entry: start?.id, reason: 'Another van' })
    expect(walks(shop)).toEqual(before)
  })

  test('at the press or after it is another coat', () => {
    const shop = finished(null)
    queued(shop, 20, 'StartCoat', { panels: [WING], cup: CLEAR_CUP })
    expect(panelOf(shop, WING).open).not.toBeNull()
  })
})

describe('the bell of a pass', () => {
  const done = (route?: readonly object[]): Shop => {
    const shop = threePanels(route)
    shop.at(10).do('StartCoat', { panels: ALL, cup: CLEAR_CUP })
    shop.at(20).do('FinishCoat', { panels: ALL })
    return shop
  }
  const ring = (shop: Shop): void => {
    shop.do('RingBell', { key: keyOf(shop, 'coatReady') })
  }

  test('is one, at its last panel, and knows its panels', () => {
    const [bell, ...more] = deadlines(done().state).filter((d) => d.bell === 'coatReady')
    expect([bell?.dueAt, bell?.panels, more]).toEqual([minute(30), ALL, []])
  })

  test('does not ring again when one of its panels is taken up first', () => {
    const shop = done().at(30)
    ring(shop)
    shop.at(31).do('StartCoat', { panels: [SILL], cup: CLEAR_CUP })
    expect(dueBells(shop.state, shop.now)).toEqual([])
    expect(bells(shop, 'coatReady')).toHaveLength(1)
  })

  test('still rings for the others when one was taken up before it rang', () => {
    const shop = done().at(29)
    const override = { reason: 'it was the first one sprayed' }
    shop.do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP, override })
    expect(dueBells(shop.at(30).state, shop.now).map((d) => [d.bell, d.panels])).toEqual([
      ['coatReady', [WING, SILL]],
    ])
  })

  test('another pass has another bell', () => {
    const shop = done([{ ...CLEAR_ONLY[0], coats: 3 }]).at(30)
    ring(shop)
    shop.do('StartCoat', { panels: ALL, cup: CLEAR_CUP })
    shop.at(33).do('FinishCoat', { panels: ALL })
    expect(dueBells(shop.at(43).state, shop.now).map((d) => d.bell)).toEqual(['coatReady'])
  })

  test("alarms are each panel's own", () => {
    expect(bells(done(), 'windowShut')).toHaveLength(3)
  })

  test('colder air for one panel moves the bell of all to the last of them', () => {
    const shop = done()
    shop.at(21).do('MovePanel', { panel: WING, zone: 'cold' })
    air(shop, 21, 10, 0.5, { zone: 'cold' })
    expect(bells(shop, 'coatReady')[0]?.[1]).toBeGreaterThan(35)
  })
})
