import { expect, test } from 'vitest'
import { bellSaid, nextLine, nextUp } from '../../kiosk/lanes/nextUp.ts'
import { es } from '../../kiosk/words/all.es.ts'
import { en } from '../../kiosk/words/all.ts'
import type { Words } from '../../kiosk/words/en.ts'
import type { BellKind } from '../../machines/bell/kinds.ts'
import { deadlines } from '../../machines/deadlines.ts'
import { BASE_CUP, CLEAR_CUP, coat, SEALER_CUP, vanWith } from '../support/given.ts'
import { BASE, CLEAR, SEALER } from '../support/sheets.ts'
import type { Shop } from '../support/shop.ts'

/** What a bell says agrees with the clock: how long is left before an end, and that it has come after it. */

/** A sealer under base whose window shuts at minute 243. */
const sealed = (): Shop => {
  const route = [SEALER, BASE].map(({ stage, sheet }) => ({ stage, sheet }))
  return coat(vanWith(route, [SEALER, BASE, CLEAR]), SEALER_CUP, 1, 3)
}

function says(shop: Shop, kind: BellKind, about: string, words: Words = en): string | undefined {
  const due = deadlines(shop.state).find(({ bell, thing }) => bell === kind && thing.id === about)
  return due && Object.values(bellSaid(shop.state, due, words, shop.now)).join(': ')
}
const next = (shop: Shop, words: Words = en) =>
  nextUp(shop.state, shop.now).map((due) => nextLine(shop.state, due, words))

test('a window that closes says in how long, one that shut that it has', () => {
  const shop = sealed().at(241.8)
  expect(says(shop, 'windowClosing', 'DDDD2222')).toBe('Rear door: window closes in 1:12')
  expect(says(shop, 'windowClosing', 'DDDD2222', es)).toBe(
    'Rear door: la ventana se cierra en 1:12',
  )
  shop.at(250)
  expect(says(shop, 'windowShut', 'DDDD2222')).toBe('Rear door: window closed')
  expect(says(shop, 'windowShut', 'DDDD2222', es)).toBe('Rear door: ventana cerrada')
})

test('a pot life that ends says in how long, one that is over that it is', () => {
  const shop = vanWith([{ stage: 'clear', sheet: CLEAR.sheet }]).at(56)
  expect(says(shop, 'potNear', CLEAR_CUP)).toBe('Cup CCCC: pot life ends in 4:00')
  expect(says(shop, 'potNear', CLEAR_CUP, es)).toBe('Vaso CCCC: la vida útil acaba en 4:00')
  expect(says(shop.at(70), 'potOver', CLEAR_CUP)).toBe('Cup CCCC: pot life over, empty it')
})

test('what comes next says it of the time to come, and calls no coat ready whose window shut', () => {
  const shop = sealed()
  for (const cup of [SEALER_CUP, CLEAR_CUP, BASE_CUP]) shop.do('EmptyCup', { cup, how: 'used' })
  shop.at(30)
  expect(next(shop)).toEqual(['Rear door, base 1', 'Rear door: window closes'])
  expect(next(shop, es)).toEqual(['Rear door, base 1', 'Rear door: se cierra la ventana'])
  shop.at(250)
  expect(next(shop)).toEqual(['Rear door: window closed'])
  expect(next(shop, es)).toEqual(['Rear door: ventana cerrada'])
})
