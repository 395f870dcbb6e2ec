import { describe, expect, test } from 'vitest'
import { NOTHING_SCANNED, type ScanPair } from '../../kiosk/device/hand.ts'
import { isPedalKey } from '../../kiosk/device/pedal.ts'
import { mainAct, scanned, type Todo } from '../../kiosk/device/scanPair.ts'
import { lanesOf } from '../../kiosk/lanes/lanes.ts'
import { en } from '../../kiosk/words/all.ts'
import {
  encodeCommandCode,
  encodePanelCode,
  type PrintedCommand,
  shopTag,
} from '../../labels/code.ts'
import {
  addPanel,
  BASE_CLEAR,
  CLEAR_CUP,
  CLEAR_ONLY,
  DOOR,
  JOB,
  shopWith,
  WING,
} from '../support/given.ts'
import { minute, type Shop } from '../support/shop.ts'

const tag = (shop: Shop, panel: string) =>
  encodePanelCode({ shopTag: shopTag(shop.state.shop), panel })

/** A van whose door and wing wait for clear, with a cup of it. */
function van(): Shop {
  const shop = shopWith()
  addPanel(shop, CLEAR_ONLY, { panel: DOOR, name: 'Door' })
  addPanel(shop, CLEAR_ONLY, { panel: WING, name: 'Wing' })
  shop.do('MixCup', { cup: CLEAR_CUP, sheet: 'clear-2k', totalMl: 500, activator: 'standard' })
  return shop
}

/** A scanner in a shop: each scan is done, so that the next finds what it left. */
class Scanner {
  hand: ScanPair = NOTHING_SCANNED
  readonly #shop: Shop

  constructor(shop: Shop) {
    this.#shop = shop
  }

  scan(text: string, min: number): Todo {
    const { hand, todo } = scanned(this.hand, text, {
      state: this.#shop.state,
      words: en,
      now: minute(min),
    })
    this.hand = hand
    if (todo.kind === 'send') this.#shop.at(min).do(todo.type, todo.data as Record<string, unknown>)
    return todo
  }

  command = (name: PrintedCommand, min: number): Todo => this.scan(encodeCommandCode(name), min)
}

const start = { kind: 'send', type: 'StartCoat', data: { panels: [DOOR], cup: CLEAR_CUP } }

describe('a pair', () => {
  test('panel then cup starts the coat', () => {
    const shop = van()
    const scanner = new Scanner(shop)
    expect(scanner.scan(tag(shop, DOOR), 1)).toEqual({ kind: 'show' })
    expect(scanner.scan(CLEAR_CUP, 1.1)).toMatchObject(start)
  })

  test('cup then panel starts the same coat', () => {
    const shop = van()
    const scanner = new Scanner(shop)
    expect(scanner.scan(CLEAR_CUP, 1)).toEqual({ kind: 'show' })
    expect(scanner.scan(tag(shop, DOOR), 1.1)).toMatchObject(start)
  })

  test('more than a minute apart they are two looks, not a pair', () => {
    const shop = van()
    const scanner = new Scanner(shop)
    scanner.scan(CLEAR_CUP, 1)
    expect(scanner.scan(tag(shop, DOOR), 2.5)).toEqual({ kind: 'show' })
  })

  test('a cup that the panel does not want is still asked for, so that the rules say why not', () => {
    const shop = shopWith()
    addPanel(shop, BASE_CLEAR, { panel: DOOR, name: 'Door' })
    shop.do('MixCup', { cup: CLEAR_CUP, sheet: 'clear-2k', totalMl: 500, activator: 'standard' })
    const { hand } = scanned(NOTHING_SCANNED, tag(shop, DOOR), {
      state: shop.state,
      words: en,
      now: minute(1),
    })
    const { todo } = scanned(hand, CLEAR_CUP, { state: shop.state, words: en, now: minute(1) })
    expect(todo).toMatchObject(start)
    expect(shop.at(1).refused('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })).toBe('wrongProduct')
  })
})

describe('a command', () => {
  test('COAT END ends the coat started last, whatever was scanned before', () => {
    const shop = van()
    shop.at(1).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    shop.at(2).do('StartCoat', { panels: [WING], cup: CLEAR_CUP })
    const scanner = new Scanner(shop)
    expect(scanner.command('COATEND', 3)).toMatchObject({ data: { panels: [WING] } })
    expect(scanner.command('COATEND', 4)).toMatchObject({ data: { panels: [DOOR] } })
    expect(scanner.command('COATEND', 5)).toMatchObject({ kind: 'problem' })
  })

  test('is for the panel in hand alone: another that waits for it is left alone', () => {
    const shop = van()
    const scanner = new Scanner(shop)
    scanner.scan(tag(shop, WING), 1)
    scanner.scan(CLEAR_CUP, 1)
    scanner.command('COATEND', 2)
    scanner.scan(tag(shop, WING), 10)
    expect(scanner.command('COVERED', 10)).toMatchObject({
      kind: 'problem',
      says: expect.stringMatching(/^Wing is not ready for COVERED/),
    })
    expect(scanner.command('PREPDONE', 10)).toMatchObject({ kind: 'problem' })
  })

  test('with nothing in hand and several that wait asks for the tag', () => {
    const shop = van()
    expect(new Scanner(shop).command('COATSTART', 1)).toMatchObject({
      kind: 'problem',
      says: en.handsfree.several('COAT START'),
    })
  })

  test('CUP EMPTY is for the cup in hand, or the only one', () => {
    const shop = van()
    shop.do('MixCup', { cup: 'CCCC3333', sheet: 'clear-2k', totalMl: 100, activator: 'standard' })
    const scanner = new Scanner(shop)
    expect(scanner.command('CUPEMPTY', 1)).toMatchObject({
      kind: 'problem',
      says: en.handsfree.whichCup,
    })
    scanner.scan('CCCC3333', 1)
    expect(scanner.command('CUPEMPTY', 1)).toMatchObject({ data: { cup: 'CCCC3333' } })
    expect(scanner.command('CUPEMPTY', 2)).toMatchObject({ data: { cup: CLEAR_CUP } })
  })

  test('PAUSE and RESUME are for the only job', () => {
    const scanner = new Scanner(van())
    expect(scanner.command('PAUSE', 1)).toMatchObject({ type: 'PauseJob', data: { job: JOB } })
    expect(scanner.command('RESUME', 2)).toMatchObject({ type: 'ResumeJob', data: { job: JOB } })
  })
})

describe('what is not a code of ours', () => {
  test.each([
    ['a foreign QR', 'https://example.org/menu'],
    ['a garbled scan', 'C1-K7F-K7QDM2'],
    ['a code with a failed checksum', `${encodeCommandCode('PASS').slice(0, -2)}00`],
    ['a cup of nobody', 'ZZZZ9999'],
    ['a slip of the keyboard layout', encodeCommandCode('COATSTART').replaceAll('-', 'ß')],
    ['nothing', '  '],
  ])('%s is answered in a sentence and changes nothing', (_what, text) => {
    const shop = van()
    const hand = {
      ...NOTHING_SCANNED,
      panel: DOOR,
      waiting: { of: 'panel' as const, atMs: minute(1) },
    }
    const outcome = scanned(hand, text, { state: shop.state, words: en, now: minute(1) })
    expect(outcome.hand).toBe(hand)
    expect(outcome.todo).toMatchObject({ kind: 'problem', says: expect.stringMatching(/\w.*\.$/) })
  })

  test('another shop’s panel tag is refused in words, and starts nothing', () => {
    const shop = van()
    const foreign = encodePanelCode({ shopTag: 'ZZZ', panel: DOOR })
    const { todo } = scanned(NOTHING_SCANNED, foreign, {
      state: shop.state,
      words: en,
      now: minute(1),
    })
    expect(todo).toMatchObject({ kind: 'problem', says: expect.stringContaining('another shop') })
  })
})

describe('a foot pedal', () => {
  test('does the main act of its panel, or of the one scanned last', () => {
    const shop = van()
    shop.at(1).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    const at = (min: number) => ({ state: shop.state, words: en, now: minute(min) })
    expect(mainAct(DOOR, at(2))).toMatchObject({ type: 'FinishCoat', data: { panels: [DOOR] } })
    expect(mainAct(WING, at(2))).toMatchObject({ type: 'StartCoat', data: { panels: [WING] } })
    expect(mainAct(null, at(2))).toMatchObject({ kind: 'problem', says: en.handsfree.pedalNobody })
  })

  test('set to a panel that is done does nothing to the only one left, until that is scanned', () => {
    const shop = van()
    shop.do('RemovePanel', { panel: DOOR })
    const seen = { state: shop.state, words: en, now: minute(2) }
    expect(lanesOf(shop.state, minute(2)).map((lane) => lane.panel)).toEqual([WING])
    expect(mainAct(DOOR, seen)).toMatchObject({ kind: 'problem', says: en.handsfree.pedalNobody })
    expect(mainAct(DOOR, seen, WING)).toMatchObject({ type: 'StartCoat', data: { panels: [WING] } })
    expect(mainAct(null, seen)).toMatchObject({ type: 'StartCoat', data: { panels: [WING] } })
  })

  test('is a key that writes nothing and moves nothing', () => {
    for (const key of ['F13', 'F1', 'PageDown', 'MediaPlayPause', 'Pause'])
      expect(isPedalKey(key), key).toBe(true)
    for (const key of ['b', ' ', '5', 'Enter', 'Tab', 'Escape', 'ArrowDown', 'Shift', 'Dead', ''])
      expect(isPedalKey(key), key).toBe(false)
  })
})
