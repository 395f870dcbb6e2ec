import { expect, test } from 'vitest'
import { BASE_CUP, bells, coat, DOOR, refusalOf, said, startCoat } from '../../support/given.ts'
import type { Shop } from '../../support/shop.ts'
import { FRESH, sealed, withFresh } from '../../support/shutWindow.ts'

/** A shut window says what opens it, step by step, as its sheet does. */

/** Seven minutes after it shut. */
const shut = (afterWindow: string): Shop => withFresh(sealed(afterWindow)).at(250)
const abrade = (shop: Shop, min: number) =>
  shop.at(min).do('AbradePanel', { panel: DOOR, grit: 800 })

const SAID: Readonly<Record<string, string>> = {
  abrade: 'Abrade it.',
  abradeAndRecoat: 'Abrade it, then spray one more coat of the same product.',
  recoat: 'It is abraded: now spray one more coat of the same product.',
  reapply: 'Spray one more coat of the same product first, without abrading.',
}

test.each([
  ['abrade', ['abrade']],
  ['abradeAndRecoat', ['abradeAndRecoat', 'recoat']],
  ['reapply', ['reapply']],
])('"%s": each refusal names what comes next, and done in that order it opens', (sheet, ways) => {
  const shop = shut(sheet)
  ways.forEach((way, i) => {
    const { message, params } = refusalOf(startCoat(BASE_CUP)(shop))
    expect(params).toMatchObject({ opensBy: way })
    expect(message).toMatch(SAID[way] ?? '')
    if (way.startsWith('abrade')) abrade(shop, 251 + i)
    else coat(shop, FRESH, 251 + i, 253 + i)
  })
  expect(said(startCoat(BASE_CUP)(shop.at(300)))).toBe('done')
})

test.each([
  ['abradeAndRecoat', []],
  ['reapply', [['windowShut', 243]]],
])('"%s": abrading ends the alarm only where the sheet asks for it', (sheet, left) => {
  const shop = shut(sheet)
  expect(bells(shop, 'windowShut')).toEqual([['windowShut', 243]])
  abrade(shop, 251)
  expect(bells(shop, 'windowShut')).toEqual(left)
  expect(bells(coat(shop, FRESH, 252, 254), 'windowShut')).toEqual([['windowShut', 254 + 240]])
})
