import { describe, expect, test } from 'vitest'
import { chipOf } from '../../kiosk/lanes/chip.ts'
import { lanesOf } from '../../kiosk/lanes/lanes.ts'
import { type PassAct, passActs, wantsCup } from '../../kiosk/lanes/pass.ts'
import { wayActs } from '../../kiosk/lanes/waysOut.ts'
import { es } from '../../kiosk/words/all.es.ts'
import { en } from '../../kiosk/words/all.ts'
import type { Words } from '../../kiosk/words/en.ts'
import { BASE_CUP, bells, DOOR, refusalOf, SEALER_CUP, said, startCoat } from '../support/given.ts'
import { SEALER } from '../support/sheets.ts'
import type { Shop } from '../support/shop.ts'
import { sealed, withFresh } from '../support/shutWindow.ts'

/** What a lane says and offers whose window closes and has closed: what its sheet says, and nothing else. */

function seen(shop: Shop, words: Words = en) {
  const lanes = lanesOf(shop.state, shop.now).filter(({ panel }) => panel === DOOR)
  const acts = passActs(shop.state, lanes, words, shop.now)
  const [chip] = lanes.map((lane) => chipOf(lane, words, shop.now))
  const firstMain = acts.find(({ isMain }) => isMain)
  return { lanes, acts, chip: `${chip?.big} / ${chip?.small}`, firstMain }
}
const press = (shop: Shop, act: PassAct | undefined) => shop.send(act?.type ?? '', act?.datas[0])

describe('the chip of a window that closes says what comes after it', () => {
  test.each([
    ['abrade', 'RECOAT, else abrade', 'REPINTE; si no, lijar'],
    ['abradeAndRecoat', 'RECOAT, else abrade + recoat', 'REPINTE; si no, lijar y repetir'],
    ['reapply', 'RECOAT, else reapply', 'REPINTE; si no, repetir'],
  ])('%s', (afterWindow, inEnglish, inSpanish) => {
    const shop = sealed(afterWindow).at(240)
    expect(seen(shop).chip).toBe(`3:00 / ${inEnglish}`)
    expect(seen(shop, es).chip).toBe(`3:00 / ${inSpanish}`)
  })
})

/** Chip and first key, from the shut window until base may be started. */
const WALKS: readonly (readonly [string, readonly (readonly [string, string, string])[]])[] = [
  ['abrade', [['ABRADE / window closed', 'LIJE / ventana cerrada', 'ABRADED P500']]],
  [
    'abradeAndRecoat',
    [
      [
        'ABRADE / window closed; then recoat',
        'LIJE / ventana cerrada; luego repetir',
        'ABRADED P500',
      ],
      ['RECOAT / sealer, abraded', 'REPITA / sellador, lijado', 'ONE MORE SEALER'],
    ],
  ],
  [
    'reapply',
    [['REAPPLY / sealer, window closed', 'REPITA / sellador, ventana cerrada', 'ONE MORE SEALER']],
  ],
]

describe('a window that shut', () => {
  test.each(WALKS)('"%s": chip, first key and way out lead on, press by press', (sheet, steps) => {
    const shop = withFresh(sealed(sheet)).at(250)
    for (const [chip, spanish, key] of steps) {
      expect(seen(shop).chip).toBe(chip)
      expect(seen(shop, es).chip).toBe(spanish)
      const { firstMain, acts } = seen(shop)
      expect(firstMain?.label).toBe(key)
      // Base may still be pressed, and what is refused names the same key first.
      const { code } = refusalOf(startCoat(BASE_CUP)(shop))
      expect(wayActs(code, acts)[0]?.key).toBe(firstMain?.key)
      expect(said(press(shop, firstMain))).toBe('done')
      if (firstMain?.type === 'StartCoat') {
        expect(bells(shop, 'windowShut')).toEqual([])
        shop.at(254).do('FinishCoat', { panels: [DOOR] })
        shop.at(270)
      }
    }
    expect(bells(shop, 'windowShut').filter(([, min]) => min < 270)).toEqual([])
    expect(seen(shop).firstMain?.label).toBe('START BASE 1')
    expect(said(startCoat(BASE_CUP)(shop))).toBe('done')
  })

  test('of a product that is reapplied asks for no abrading: it stands among the others', () => {
    const { acts } = seen(withFresh(sealed('reapply')).at(250))
    const abrading = acts.filter(({ type }) => type === 'AbradePanel')
    expect(abrading.length).toBeGreaterThan(0)
    expect(abrading.map(({ group }) => group)).toEqual(abrading.map(() => 'more'))
  })

  test('of a product with no cup left asks to mix that product, not the next one', () => {
    const shop = sealed('reapply').at(250)
    shop.do('EmptyCup', { cup: SEALER_CUP, how: 'used' })
    const { lanes, acts } = seen(shop)
    expect(wantsCup(lanes, acts)).toBe(true)
    expect(lanes[0]?.waits).toMatchObject({ for: 'recoat', of: { sheet: SEALER.sheet } })
    const mixed = seen(withFresh(shop))
    expect(wantsCup(mixed.lanes, mixed.acts)).toBe(false)
  })
})
