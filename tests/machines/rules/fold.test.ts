import { describe, expect, test } from 'vitest'
import { type Entry, ordinal } from '../../../machines/envelope.ts'
import { fold, thingBefore } from '../../../machines/fold.ts'
import { BLANK_PANEL } from '../../../machines/panel/context.ts'
import { emptyState, type State } from '../../../machines/state.ts'
import {
  addPanel,
  air,
  BASE_CLEAR,
  BASE_CUP,
  CLEAR_CUP,
  coat,
  cupOf,
  DOOR,
  JOB,
  mix,
  panelOf,
  queued,
  vanWith,
  WING,
} from '../../support/given.ts'
import { CLEAR } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

const empty = (): State => emptyState('TESTSHOP', 'h0')
const foldAll = (entries: readonly Entry[]): State => entries.reduce(fold, empty())

/** Each a short day at the van, with something that came late, moved, or was voided. */
const DAYS: Record<string, () => Shop> = {
  'two panels, a pass and a bell': () => {
    const shop = addPanel(vanWith(BASE_CLEAR), BASE_CLEAR, { panel: WING, name: 'Side' })
    coat(shop, BASE_CUP, 1, 4, { panels: [DOOR, WING], gun: 'gun-1' })
    shop.at(12).do('RingBell', { key: `coatReady:${shop.entries.at(-1)?.command}` })
    return coat(shop, BASE_CUP, 13, 15, { panels: [WING] })
  },
  'a start that arrived after its finish': () => {
    const shop = vanWith(BASE_CLEAR)
    shop.at(6).do('FinishCoat', { panels: [DOOR], cup: BASE_CUP })
    queued(shop.at(40), 3, 'StartCoat', { panels: [DOOR], cup: BASE_CUP })
    queued(shop, 4, 'StartCoat', { panels: [DOOR], cup: BASE_CUP })
    return shop
  },
  'a coat for a later step, between others': () => {
    const shop = coat(vanWith(BASE_CLEAR), BASE_CUP, 1, 3)
    queued(shop.at(60), 22, 'FinishCoat', { panels: [DOOR], cup: CLEAR_CUP })
    queued(shop, 20, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    queued(shop, 5, 'InspectCoat', { panel: DOOR, result: 'good' })
    return shop
  },
  'a pause, a move, a reading and a void': () => {
    const shop = air(coat(vanWith(BASE_CLEAR), BASE_CUP, 1, 3), 4, 18)
    shop.do('PauseJob', { job: JOB })
    shop.at(5).do('MovePanel', { panel: DOOR, zone: 'bay' })
    shop.at(6).do('VoidEntry', { entry: shop.entries.at(-1)?.id, reason: 'Not moved' })
    queued(shop.at(30), 2, 'ReadClimate', { zone: 'booth', airC: 25, rh: 0.4 })
    return shop
  },
  'a pour, a label and an emptied cup': () => {
    const shop = mix(vanWith(BASE_CLEAR), 'FFFF2222', CLEAR.sheet)
    shop
      .at(5)
      .do('PourCup', { cup: 'KKKK2222', from: [{ cup: CLEAR_CUP, ml: 50 }, { cup: 'FFFF2222' }] })
    shop.at(6).do('PrintLabel', { cup: 'KKKK2222' })
    shop.at(9).do('EmptyCup', { cup: CLEAR_CUP, how: 'discarded' })
    queued(shop.at(30), 8, 'LoadGun', { gun: 'gun-1', cup: 'KKKK2222' })
    return shop
  },
  'a panel sent back, and a correction': () => {
    const shop = coat(coat(vanWith(BASE_CLEAR), BASE_CUP, 1, 3), BASE_CUP, 11, 13)
    const finish = shop.entries.at(-1)?.id
    const again = { type: 'FinishCoat', data: { panels: [DOOR] }, at: minute(12) }
    shop.at(20).do('VoidEntry', { entry: finish, reason: 'Pressed late', replace: again })
    shop.at(21).do('SendBackPanel', { panel: DOOR, toStep: 0, done: 1, reason: 'Run' })
    return shop
  },
}
const days = Object.entries(DAYS)

describe('the same entries give the same state', () => {
  test.each(days)('backwards: %s', (_, day) => {
    const shop = day()
    expect(foldAll(shop.entries.toReversed()).things).toEqual(shop.state.things)
  })

  test.each(days)('with any one of them arriving last: %s', (_, day) => {
    const { entries, state } = day()
    for (const late of entries) {
      const turned = [...entries.filter((e) => e !== late), late]
      expect(foldAll(turned).things).toEqual(state.things)
    }
  })

  test.each(days)('odd ones before even ones: %s', (_, day) => {
    const { entries, state } = day()
    const turned = [
      ...entries.filter((_, i) => i % 2 === 1),
      ...entries.filter((_, i) => i % 2 === 0),
    ]
    expect(foldAll(turned).things).toEqual(state.things)
  })

  test.each(days)('each delivered twice: %s', (_, day) => {
    const { entries, state } = day()
    expect(foldAll(entries.flatMap((e) => [e, e])).things).toEqual(state.things)
    expect(foldAll([...entries, ...entries]).things).toEqual(state.things)
  })

  test.each(days)('through JSON in the middle: %s', (_, day) => {
    const { entries, state } = day()
    const half = Math.floor(entries.length / 2)
    const snapshot = JSON.parse(JSON.stringify(foldAll(entries.slice(0, half)))) as State
    expect(entries.slice(half).reduce(fold, snapshot)).toEqual(state)
  })
})

describe('folding', () => {
  test('takes the head and the newest recorded time, whatever comes in which order', () => {
    const { entries, state } = coat(vanWith(BASE_CLEAR), BASE_CUP, 1, 3)
    const { head, headHash, recordedAt } = foldAll(entries.toReversed())
    expect([head, headHash, recordedAt]).toEqual([entries.length, `h${entries.length}`, minute(3)])
    expect(state.head).toBe(head)
  })

  test('leaves a state as it was: each one can be kept', () => {
    const shop = vanWith(BASE_CLEAR)
    const before = shop.state
    const copy = JSON.stringify(before)
    coat(shop, BASE_CUP, 1, 3)
    expect(JSON.stringify(before)).toBe(copy)
    expect(shop.state).not.toBe(before)
  })

  test('keeps what it does not know out of every thing, and counts its place', () => {
    const shop = vanWith(BASE_CLEAR)
    const [first] = shop.entries as [Entry]
    const head = shop.state.head + 1
    const next = fold(shop.state, { ...first, id: 'z.0', type: 'PanelPainted', position: head })
    expect(next.things).toEqual(shop.state.things)
    expect(next.head).toBe(head)
  })

  test('keeps an entry that does not fit in its place, and marks it', () => {
    const shop = vanWith(BASE_CLEAR)
    const [draft] = queued(shop.at(60), 5, 'StartCoat', { panels: [DOOR], cup: BASE_CUP })
    const [second] = queued(shop, 6, 'StartCoat', { panels: [DOOR], cup: BASE_CUP })
    expect(shop.state.things.panel[DOOR]?.notTaken).toEqual([second?.id])
    expect(shop.state.things.panel[DOOR]?.entries.map((e) => e.id)).toContain(draft?.id)
  })

  test('counts the entries of one command in their order, also beyond nine', () => {
    expect([ordinal('c1.9'), ordinal('c1.10'), ordinal('a.b.2')]).toEqual([9, 10, 2])
  })

  test('knows a thing as it was at an instant, without what was voided later', () => {
    const shop = coat(coat(vanWith(BASE_CLEAR), BASE_CUP, 1, 3), BASE_CUP, 11, 13)
    const at = (min: number) =>
      thingBefore(shop.state, { kind: 'panel', id: DOOR }, minute(min))?.context ?? BLANK_PANEL
    expect([at(2).open?.startedAt, at(2).coats.length]).toEqual([minute(1), 0])
    expect([at(12).open?.startedAt, at(12).coats.length]).toEqual([minute(11), 1])
    expect(at(13)).toEqual(panelOf(shop))
    shop.at(20).do('VoidEntry', { entry: shop.entries.at(-1)?.id, reason: 'Not yet' })
    expect(at(15).open?.startedAt).toBe(minute(11))
    expect(thingBefore(shop.state, { kind: 'cup', id: 'ZZZZ2222' }, minute(1))).toBeUndefined()
  })

  test('names every panel that a cup was used on', () => {
    const shop = coat(coat(vanWith(BASE_CLEAR), BASE_CUP, 1, 3), BASE_CUP, 11, 13)
    expect(cupOf(shop, BASE_CUP).usedOn).toEqual([DOOR])
  })
})
