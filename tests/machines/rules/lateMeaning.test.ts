import { describe, expect, test } from 'vitest'
import { addPanel, CLEAR_CUP, cupOf, DOOR, panelOf, vanWith, WING } from '../../support/given.ts'
import { inAnyOrder } from '../../support/interleavings.ts'
import { CLEAR } from '../../support/sheets.ts'

/** What is said in few words means what it meant when it was pressed, whichever kiosk is back first. */

const TWO = [{ stage: 'clear', sheet: CLEAR.sheet, coats: { least: 1, planned: 2, most: 3 } }]
const ONE = { panels: [DOOR] }

describe('"covered, go on"', () => {
  const door = () => vanWith([{ stage: 'prep' }, ...TWO, ...TWO]).at(120)
  const coat = { ...ONE, cup: CLEAR_CUP }

  test('is said of the coat that another kiosk reported', () => {
    const after = inAnyOrder(
      door(),
      [[20, 'FinishCoat', coat]],
      [[21, 'ReachCover', { panel: DOOR }]],
    )
    expect(panelOf(after).status).toEqual(['skipped', 'done', 'open'])
  })

  test('that both kiosks pressed ends one step: of the next one no coat is on', () => {
    const after = inAnyOrder(
      door(),
      [
        [20, 'FinishCoat', coat],
        [21, 'ReachCover', { panel: DOOR }],
      ],
      [[22, 'ReachCover', { panel: DOOR }]],
    )
    expect(panelOf(after).status).toEqual(['skipped', 'done', 'open'])
  })
})

test('a coat whose end was taken for that of another one is of the kind that its own end named', () => {
  const shop = addPanel(vanWith(TWO), TWO, { panel: WING }).at(120)
  const light = { ...ONE, cup: CLEAR_CUP, kind: 'light' }
  const after = inAnyOrder(
    shop,
    [
      [20, 'StartCoat', { ...ONE, cup: CLEAR_CUP }],
      [21, 'FinishCoat', ONE],
    ],
    [[61, 'FinishCoat', light]],
  )
  expect(panelOf(after).coats.map(({ kind }) => kind)).toEqual(['full', 'light'])
})

test('a cup that was poured from one that the other kiosk had stirred is stirred', () => {
  const after = inAnyOrder(
    vanWith(TWO).at(120),
    [[20, 'CheckCup', { cup: CLEAR_CUP, done: ['stirred'] }]],
    [[21, 'PourCup', { cup: 'PPPP2222', from: [{ cup: CLEAR_CUP }] }]],
  )
  expect(cupOf(after, 'PPPP2222').checked?.done).toEqual(['stirred'])
})
