import { describe, expect, test } from 'vitest'
import {
  around,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_ONLY,
  coat,
  DOOR,
  outsideOf,
  panelOf,
  said,
  startCoat,
  vanWith,
  whereIs,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'

const ONE = { least: 1, planned: 1, most: 3 }
/** One clear coat, finished at minute 5; its sheet plans 25 µm a coat. */
const cleared = (maxFilmUm: number, more: object = {}) =>
  coat(vanWith(CLEAR_ONLY, [{ ...CLEAR, maxFilmUm, ...more }]), CLEAR_CUP, 1, 5)

describe('a film beyond the most of its sheet', () => {
  const marks = (maxFilmUm: number, kind = 'full') =>
    outsideOf(
      cleared(maxFilmUm)
        .at(15)
        .do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP, kind })[0],
    )

  test('is a mark of the coat that takes it there, and no refusal', () => {
    expect([marks(50), marks(49)]).toEqual([[], ['filmOver']])
  })

  test('counts a drop coat as half of one', () => {
    expect([marks(38, 'drop'), marks(37, 'drop')]).toEqual([[], ['filmOver']])
  })

  test('is not known where the sheet does not say how thick a coat is', () => {
    const shop = cleared(30, { dryUmPerCoat: undefined }).at(15)
    expect(outsideOf(shop.do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })[0])).toEqual([])
  })

  test('goes by the wet film where that was measured', () => {
    // Of 0.45 solids 80 µm wet are 36 µm dry: 61 µm with the coat to come.
    const shop = cleared(60).at(6)
    expect(outsideOf(shop.do('ReadFilm', { panel: DOOR, um: 80, method: 'wetComb' })[0])).toEqual(
      [],
    )
    shop.at(15)
    expect(outsideOf(shop.do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })[0])).toEqual([
      'filmOver',
    ])
    expect(
      outsideOf(cleared(60).at(6).do('ReadFilm', { panel: DOOR, um: 133.6, method: 'wetComb' })[0]),
    ).toEqual(['filmOver'])
    expect(
      outsideOf(cleared(60).at(6).do('ReadFilm', { panel: DOOR, um: 133, method: 'wetComb' })[0]),
    ).toEqual([])
  })

  test('is read with a gauge against all that is on, over what was there before', () => {
    const shop = vanWith(CLEAR_ONLY, [{ ...CLEAR, maxFilmUm: 60 }])
    shop.do('ReadFilm', { panel: DOOR, um: 110, method: 'gauge' })
    coat(shop, CLEAR_CUP, 1, 5)
    const read = (um: number) =>
      outsideOf(shop.fork().at(600).do('ReadFilm', { panel: DOOR, um, method: 'gauge' })[0])
    expect([read(170), read(171)]).toEqual([[], ['filmOver']])
  })

  test('a wet film wants a coat', () => {
    const shop = vanWith(CLEAR_ONLY)
    expect(said(shop.send('ReadFilm', { panel: DOOR, um: 80, method: 'wetComb' }))).toBe(
      'data.method',
    )
  })
})

describe('a coat that is broken off', () => {
  const ROUTE = [
    { stage: 'base', sheet: 'base-solvent', coats: { least: 2, planned: 2, most: 4 } },
    { stage: 'clear', sheet: 'clear-2k', coats: ONE },
  ]
  /** One whole base coat finished at 3, and a second begun at 11 and broken off at 12. */
  const broken = (more: object = {}) => {
    const shop = coat(vanWith(ROUTE, [{ ...BASE, ...more }, CLEAR]), BASE_CUP, 1, 3)
    shop.at(11).do('StartCoat', { panels: [DOOR], cup: BASE_CUP })
    shop.at(12).do('BreakOffCoat', { panels: [DOOR], doneShare: 0.4 })
    return shop
  }

  test('counts once it is continued and finished', () => {
    const shop = broken()
    expect(whereIs(shop)).toBe('base.between')
    expect(panelOf(shop).coats.map(({ counts }) => counts)).toEqual([true, false])
    expect(said(startCoat(CLEAR_CUP)(shop.fork().at(40)))).toBe('wrongProduct')
    coat(shop, BASE_CUP, 12, 14)
    expect(whereIs(shop)).toBe('clear.due')
    expect(panelOf(shop).coats.filter(({ counts }) => counts)).toHaveLength(2)
  })

  test('is continued at once, without its own flash', () => {
    expect(said(startCoat(BASE_CUP)(broken().at(12)))).toBe('done')
  })

  test('is not continued past the window of what lies under it, or of the part that is on', () => {
    const shop = broken({ recoatWithin: [{ atC: 20, minutes: 60 }] })
    expect(around(shop, 63, startCoat(BASE_CUP))).toEqual(['done', 'windowShut'])
    const first = vanWith(ROUTE, [{ ...BASE, recoatWithin: [{ atC: 20, minutes: 60 }] }, CLEAR])
    first.at(1).do('StartCoat', { panels: [DOOR], cup: BASE_CUP })
    first.at(2).do('BreakOffCoat', { panels: [DOOR] })
    expect(around(first, 62, startCoat(BASE_CUP))).toEqual(['done', 'windowShut'])
  })

  test('rings for nothing of its own flash, and the next coat waits from its end', () => {
    const shop = broken()
    coat(shop, BASE_CUP, 14, 16)
    expect(around(shop, 31, startCoat(CLEAR_CUP))).toEqual(['flashNotOver', 'done'])
  })

  test('is there to be broken off only while it is sprayed', () => {
    const shop = coat(vanWith(ROUTE), BASE_CUP, 1, 3)
    expect(said(shop.send('BreakOffCoat', { panels: [DOOR] }))).toBe('wrongStep')
  })

  test('is in the film as a part of the coat that continues it', () => {
    const within = broken({ maxFilmUm: 16 }).at(13)
    expect(outsideOf(within.do('StartCoat', { panels: [DOOR], cup: BASE_CUP })[0])).toEqual([])
    const shop = broken({ maxFilmUm: 15 }).at(13)
    expect(outsideOf(shop.do('StartCoat', { panels: [DOOR], cup: BASE_CUP })[0])).toEqual([
      'filmOver',
    ])
  })
})
