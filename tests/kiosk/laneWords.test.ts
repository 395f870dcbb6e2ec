import { describe, expect, test } from 'vitest'
import { underText } from '../../kiosk/lanes/chip.ts'
import { lanesOf } from '../../kiosk/lanes/lanes.ts'
import { es } from '../../kiosk/words/all.es.ts'
import { en } from '../../kiosk/words/all.ts'
import { BASE_CLEAR, BASE_CUP, coat, DOOR, vanWith } from '../support/given.ts'
import { minute } from '../support/shop.ts'

describe('what is under the next coat', () => {
  test.each([
    ['English', en, 'SENT BACK', 'ABRADED'],
    ['Spanish', es, 'DEVUELTO', 'LIJADO'],
  ])('stands on the lane in %s while it is abraded or sent back', (_, words, back, abraded) => {
    const shop = coat(vanWith(BASE_CLEAR), BASE_CUP, 0, 2)
    const says = () => lanesOf(shop.state, minute(15)).map((lane) => underText(lane, words))
    expect(says()).toEqual([''])
    shop.at(11).do('AbradePanel', { panel: DOOR, grit: 1000 })
    expect(says()).toEqual([abraded])
    shop.at(12).do('SendBackPanel', { panel: DOOR, toStep: 0, done: 0, reason: 'EQUIPMENT' })
    expect(says()).toEqual([back])
  })
})
