import { describe, expect, test } from 'vitest'
import { lanesOf } from '../../kiosk/lanes/lanes.ts'
import { passActs } from '../../kiosk/lanes/pass.ts'
import { en } from '../../kiosk/words/all.ts'
import { BASE_CLEAR, BASE_CUP, DOOR, vanWith } from '../support/given.ts'
import { BASE } from '../support/sheets.ts'
import { minute, type Shop } from '../support/shop.ts'

const acts = (shop: Shop, min: number) => {
  const lanes = lanesOf(shop.state, minute(min)).filter(({ panel }) => panel === DOOR)
  return passActs(shop.state, lanes, en, minute(min))
}

describe('abrading under a product whose sheet does not say how', () => {
  test('is asked once: the touch says it for the next time', () => {
    const shop = vanWith(BASE_CLEAR)
    for (const from of [0, 60]) shop.at(from).do('FinishCoat', { panels: [DOOR], cup: BASE_CUP })
    const abrading = (min: number) =>
      acts(shop, min).filter(({ type, group }) => type === 'AbradePanel' && group === undefined)
    const day = 3 * 1_440
    const first = abrading(day).map(({ key, figure }) => [key, figure?.prep?.gritMin])
    expect(first.slice(0, 2)).toEqual([
      ['abrade-500', 500],
      ['abrade-800', 800],
    ])
    shop.at(day).do('SetShopFigure', abrading(day)[1]?.figure ?? {})
    expect(abrading(day + 1).map(({ key, figure }) => [key, figure])).toEqual([
      ['abrade-800', undefined],
      ['abrade-1000', undefined],
    ])
  })
})

describe('between two coats', () => {
  const shown = (shop: Shop, min: number) =>
    acts(shop, min)
      .filter(({ group }) => group === undefined || group === 'sand')
      .map(({ key }) => key)

  test('nibs are taken out and the film is sanded by keys of the lane itself', () => {
    const shop = vanWith(BASE_CLEAR)
    expect(shown(shop, 0)).not.toContain('denib')
    shop.do('FinishCoat', { panels: [DOOR], cup: BASE_CUP })
    for (const min of [1, 60]) {
      expect(shown(shop, min)).toEqual(expect.arrayContaining(['denib', 'abrade-500']))
      // What is expected stays the start.
      expect(acts(shop, min).find(({ isMain }) => isMain)?.type).toBe('StartCoat')
    }
    shop.at(60).do('AbradePanel', { panel: DOOR, grit: 500 })
    expect(shown(shop, 61)).not.toContain('abrade-500')
  })
})

describe('a drop coat', () => {
  const drops = (shop: Shop, min: number) =>
    acts(shop, min).filter((act) => act.key.startsWith('kind-drop'))

  test('asks once for a sheet over what it goes, with the same touch', () => {
    const shop = vanWith(BASE_CLEAR)
    shop.do('FinishCoat', { panels: [DOOR], cup: BASE_CUP })
    const asked = drops(shop, 1)
    expect(asked.map(({ key, group }) => [key, group])).toEqual([
      ['kind-drop-wet', undefined],
      ['kind-drop-halfMatte', undefined],
      ['kind-drop-matte', undefined],
    ])
    const [wet] = asked
    shop.at(1).do('SetShopFigure', wet?.figure ?? {})
    shop.do('StartCoat', wet?.datas[0] ?? {})
    shop.at(2).do('FinishCoat', { panels: [DOOR] })
    expect(drops(shop, 3).map(({ key, figure }) => [key, figure])).toEqual([
      ['kind-drop', undefined],
    ])
  })

  test('asks nothing where the sheet says it', () => {
    const shop = vanWith(BASE_CLEAR)
    const flashBetween = { full: BASE.flashBetween, drop: 'intoWet' }
    shop.do('SaveSheet', { sheet: { ...BASE, flashBetween } })
    shop.do('FinishCoat', { panels: [DOOR], cup: BASE_CUP })
    expect(drops(shop, 1).map(({ key }) => key)).toEqual(['kind-drop'])
  })
})

describe('a film gauge', () => {
  const gauged = (shop: Shop, min: number) =>
    acts(shop, min)
      .filter(({ key }) => key.startsWith('gauge-'))
      .map(({ label }) => label)

  test('lies on what was there before, and is asked by what a shop meets', () => {
    const shop = vanWith([{ stage: 'sand' }, ...BASE_CLEAR])
    expect(gauged(shop, 0)[2]).toBe('GAUGE SHOWS 120 µm')
    shop.do('ReadFilm', { panel: DOOR, um: 120, method: 'gauge' })
    // Ten to each side of what it showed, in the order of size.
    expect(gauged(shop, 1).slice(2, 5)).toEqual([110, 120, 130].map((um) => `GAUGE SHOWS ${um} µm`))
  })

  test('is never laid on a wet coat: a comb is', () => {
    const shop = vanWith(BASE_CLEAR)
    shop.do('FinishCoat', { panels: [DOOR], cup: BASE_CUP })
    expect(gauged(shop, 1)).toEqual([])
  })

  test('on the cured panel it stands on what the sheets and the gauge before say together', () => {
    const shop = vanWith([
      { stage: 'sand' },
      { stage: 'base', sheet: BASE.sheet },
      { stage: 'polish' },
    ])
    shop.do('ReadFilm', { panel: DOOR, um: 120, method: 'gauge' })
    shop.do('DoPrepStep', { panel: DOOR, step: 0 })
    for (const from of [1, 30]) shop.at(from).do('FinishCoat', { panels: [DOOR], cup: BASE_CUP })
    const um = 120 + 2 * (BASE.dryUmPerCoat ?? 0)
    expect(um).toBeGreaterThan(120)
    shop.at(3 * 1_440)
    expect(gauged(shop, 3 * 1_440)[3]).toBe(`GAUGE SHOWS ${Math.round(um / 10) * 10} µm`)
  })
})
