import { describe, expect, test } from 'vitest'
import { leftIn } from '../../../machines/cup/left.ts'
import { contextOf } from '../../../machines/state.ts'
import {
  addPanel,
  CLEAR_CUP,
  CLEAR_ONLY,
  coat,
  DOOR,
  mix,
  refusalOf,
  said,
  shopWith,
  WING,
} from '../../support/given.ts'
import { CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

/**
 * What is left in a cup follows from the coats sprayed. The figures are worked by hand from the volume
 * balance: 1 µm over 1 m² is 1 mL, so 1.2 m² x 25 µm of dry film at 0.45 solids and 0.65 transfer (HVLP as
 * South Coast AQMD takes it) is 102.6 mL.
 */

const DOOR_ML = 102.6

function shop(wish: object = { areaM2: 1.2 }): Shop {
  return mix(addPanel(shopWith([CLEAR]), CLEAR_ONLY, wish), CLEAR_CUP, CLEAR.sheet)
}
function left(of: Shop, id = CLEAR_CUP) {
  const cup = contextOf(of.state, 'cup', id)
  if (!cup) throw new Error(`no cup ${id}`)
  return leftIn(of.state, id, cup)
}

describe('what is left in a cup', () => {
  test('is what was mixed and poured, until something is sprayed', () => {
    expect(left(shop())).toEqual({ ml: 300, isEstimate: false, isAtMost: false })
  })

  test('is less by area and film of every coat, also of the running one, marked estimated', () => {
    const sprayed = coat(shop(), CLEAR_CUP, 1, 3)
    const once = { ml: Math.round(300 - DOOR_ML), isEstimate: true, isAtMost: false }
    expect(left(sprayed)).toEqual(once)
    sprayed.at(13).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP, kind: 'light' })
    // A light coat is half of one: common practice, no source.
    expect(left(sprayed).ml).toBe(Math.round(300 - 1.5 * DOOR_ML))
  })

  test('a start that was a mistake gives back what it took', () => {
    const sprayed = shop().at(1)
    const [start] = sprayed.do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    sprayed.do('VoidEntry', { entry: start?.id, reason: 'WRONG_CHOICE' })
    expect(left(sprayed)).toMatchObject({ ml: 300, isEstimate: false })
  })

  test('never refuses: below zero it is nothing, and the next coat may start', () => {
    const wide = coat(shop({ areaM2: 4 }), CLEAR_CUP, 1, 9)
    expect(left(wide)).toMatchObject({ ml: 0, isEstimate: true })
    expect(said(wide.at(19).send('StartCoat', { panels: [DOOR], cup: CLEAR_CUP }))).toBe('done')
  })

  test('is at most what was mixed where a panel has no area', () => {
    expect(left(coat(shop({}), CLEAR_CUP, 1, 3))).toEqual({
      ml: 300,
      isEstimate: false,
      isAtMost: true,
    })
  })

  test('what a coat takes from two cups is half from each', () => {
    const two = mix(shop(), 'FFFF2222', CLEAR.sheet)
    two.at(1).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    two.at(2).do('ContinueCoat', { panels: [DOOR], cup: 'FFFF2222' })
    two.at(3).do('FinishCoat', { panels: [DOOR] })
    expect([left(two).ml, left(two, 'FFFF2222').ml]).toEqual([249, 249])
  })
})

describe('a cup that is weighed', () => {
  test('holds what was found in it; only what is sprayed later is estimated again', () => {
    const found = coat(shop(), CLEAR_CUP, 1, 3).at(5)
    found.do('MeasureCup', { cup: CLEAR_CUP, leftMl: 150 })
    expect(left(found)).toEqual({ ml: 150, isEstimate: false, isAtMost: false })
    coat(found, CLEAR_CUP, 13, 15)
    expect(left(found)).toMatchObject({ ml: Math.round(150 - DOOR_ML), isEstimate: true })
    found.at(16).do('PourCup', { cup: 'FFFF2222', from: [{ cup: CLEAR_CUP, ml: 40 }] })
    expect(left(found).ml).toBe(Math.round(110 - DOOR_ML))
  })

  test('cannot hold more than was mixed in it: two readings of one cup differ by 5 % and 10 mL at most', () => {
    const measured = (leftMl: number) => shop().at(1).send('MeasureCup', { cup: CLEAR_CUP, leftMl })
    expect(said(measured(325))).toBe('done')
    expect(refusalOf(measured(326))).toMatchObject({ code: 'noRoom', params: { limit: 300 } })
  })

  test('is one that is there, and not empty', () => {
    const emptied = shop().at(1)
    emptied.do('EmptyCup', { cup: CLEAR_CUP, how: 'used' })
    const measured = (cup: string) => said(emptied.send('MeasureCup', { cup, leftMl: 10 }))
    expect([measured(CLEAR_CUP), measured('HHHH2222')]).toEqual(['cupEmptied', 'cupUnknown'])
  })

  test('a pass of two panels takes what both need', () => {
    const pass = shop()
    addPanel(pass, CLEAR_ONLY, { panel: WING, areaM2: 0.6 })
    coat(pass, CLEAR_CUP, 1, 5, { panels: [DOOR, WING] })
    expect(left(pass).ml).toBe(Math.round(300 - 1.5 * DOOR_ML))
  })
})
