import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { legible } from '../../labels/legible.ts'
import { capitals } from '../../labels/text.ts'
import { labelRoutes } from '../../server/routes/labels.ts'
import { openTestShop } from '../support/serverShop.ts'

describe('a name in letters that the label font has', () => {
  // Letter by letter, vowels only where they are written: common practice, no source. Pictures by their names.
  test.each([
    ['Delivery van, rear', 'DELIVERY VAN, REAR'],
    ['Furgoneta Ñandú', 'FURGONETA ÑANDÚ'],
    ['Łódź 12', 'ŁÓDŹ 12'],
    ['ШАССИ', 'SHASSI'],
    ['Ελλάδα', 'ELLADA'],
    ['باب', 'BB'],
    ['שלום', 'SLVM'],
    ['こんにちは', 'KONNICHIHA'],
    ['Van 🚗', 'VAN :RED CAR:'],
    ['🚗🚗', ':RED CAR: :RED CAR:'],
    ['باب 2', 'BB 2'],
    ['👩🏽‍🔧', ':WOMAN: :WRENCH:'],
  ])('%s is printed as %s', (given, printed) => {
    expect(capitals(legible(given))).toBe(printed)
  })

  test('of whatever signs it is, it has no question mark that was not there, and says something', () => {
    const scripts = fc.string({ unit: 'grapheme', maxLength: 40 })
    fc.assert(
      fc.property(scripts, (text) => {
        const printed = capitals(legible(text))
        if (printed === '?') return
        const count = (of: string) => [...of].filter((sign) => sign === '?').length
        expect([text, count(printed) <= count(text.normalize('NFC'))]).toEqual([text, true])
        expect([text, printed === '']).toEqual([text, text.trim() === ''])
      }),
      { numRuns: 400 },
    )
    // Joiners and direction marks alone say nothing in any script.
    expect(legible('\u200f\u200d')).toBe('?')
    expect(legible('')).toBe('')
  })

  test('stands on every tag: a title from right to left and one of pictures are drawn, and differ', async () => {
    const shop = await openTestShop({ more: [labelRoutes] })
    const send = async (id: string, type: string, data: object) =>
      expect((await shop.post('/api/commands', { id, type, data })).status).toBe(200)
    const drawn: string[] = []
    for (const [n, name] of ['باب خلفي', '🚗 🎨', '???'].entries()) {
      await send(`g${n}`, 'SaveGun', { gun: `g-${n}`, name })
      const answer = await shop.app.request(`/api/labels/gun/g-${n}.svg`)
      drawn.push(await answer.text())
    }
    const saidIn = (svg: string) =>
      [...svg.matchAll(/aria-label="([^"]*)"/g)].map(([, text]) => text)
    expect(drawn.map((svg) => saidIn(svg)[0])).toEqual(['BB KHLFY', ':RED CAR: :ART:', '???'])
  })
})
