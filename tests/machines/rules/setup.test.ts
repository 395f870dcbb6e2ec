import { describe, expect, test } from 'vitest'
import { isRetired, sheetAt } from '../../../machines/sheet/fold.ts'
import { settingsOf } from '../../../machines/shop/settings.ts'
import {
  addPanel,
  air,
  CLEAR_CUP,
  CLEAR_ONLY,
  coat,
  cupOf,
  DOOR,
  dueMin,
  JOB,
  mix,
  panelOf,
  queued,
  refusalOf,
  said,
  shopWith,
  startCoat,
  vanWith,
  WING,
} from '../../support/given.ts'
import { CLEAR } from '../../support/sheets.ts'
import { minute, Shop } from '../../support/shop.ts'

const FASTER = { ...CLEAR, potLife: [{ atC: 20, minutes: 30 }] }

describe('versions of a sheet', () => {
  const saved = (): Shop => {
    const shop = shopWith([CLEAR])
    shop.at(100).do('SaveSheet', { sheet: FASTER })
    return shop
  }
  test('are counted from 1, and each saving is a version', () => {
    const versions = saved().entries.map((e) => [e.type, e.data.version])
    expect(versions).toEqual([
      ['SheetSaved', 1],
      ['SheetSaved', 2],
    ])
  })

  test('what is mixed goes by the version of its time', () => {
    const shop = mix(saved(), CLEAR_CUP, CLEAR.sheet)
    queued(shop.at(200), 99, 'MixCup', { cup: 'FFFF2222', sheet: CLEAR.sheet, totalMl: 100 })
    expect(['FFFF2222', CLEAR_CUP].map((id) => cupOf(shop, id).sheetVersion)).toEqual([1, 2])
  })

  test('what was mixed before the first was typed in goes by the first', () => {
    const shop = new Shop().at(60)
    shop.do('SaveSheet', { sheet: CLEAR })
    queued(shop, 55, 'MixCup', { cup: CLEAR_CUP, sheet: CLEAR.sheet, totalMl: 100 })
    expect(dueMin(shop, 'potOver')).toBe(55 + 60)
  })

  test('never move what was opened under an older one', () => {
    const shop = coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 5)
    const before = ['coatReady', 'windowShut'].map((kind) => dueMin(shop, kind))
    const sheet = {
      ...CLEAR,
      flashBetween: [{ atC: 20, minutes: 99 }],
      recoatWithin: 'mustSand',
      potLife: null,
    }
    shop.do('SaveSheet', { sheet })
    expect(['coatReady', 'windowShut'].map((kind) => dueMin(shop, kind))).toEqual(before)
    expect(sheetAt(shop.state, CLEAR.sheet, shop.now)?.version).toBe(2)
  })

  test('the entry says which version it was judged by', () => {
    const shop = coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 5)
    expect(panelOf(shop).coats[0]?.opens).toMatchObject({ sheet: CLEAR.sheet, sheetVersion: 1 })
  })
})

describe('a retired sheet', () => {
  const retired = (): Shop => {
    const shop = vanWith(CLEAR_ONLY)
    shop.at(30).do('RetireSheet', { sheet: CLEAR.sheet })
    return shop
  }
  test('takes no new cup and no new route', () => {
    const shop = retired()
    const cup = { cup: 'FFFF2222', sheet: CLEAR.sheet, totalMl: 100 }
    expect(said(shop.send('MixCup', cup))).toBe('unknownThing')
    const panel = { job: JOB, panel: WING, name: 'Side', operation: 'repair', route: CLEAR_ONLY }
    expect(said(shop.send('AddPanel', panel))).toBe('unknownThing')
  })

  test('keeps what was mixed from it, and the routes that name it', () => {
    expect(said(startCoat(CLEAR_CUP)(retired()))).toBe('done')
  })

  test('was not retired for what happened before and comes late', () => {
    const data = { cup: 'FFFF2222', sheet: CLEAR.sheet, totalMl: 100 }
    const at = (min: number) =>
      said(
        retired()
          .at(90)
          .send('MixCup', data, { at: minute(min), enteredAt: minute(min) }),
      )
    expect([at(29), at(30)]).toEqual(['done', 'unknownThing'])
  })

  test('saved again is in use again', () => {
    const shop = retired().at(31)
    shop.do('SaveSheet', { sheet: CLEAR })
    expect(isRetired(shop.state, CLEAR.sheet, shop.now)).toBe(false)
  })

  test('retired twice adds nothing; unknown is refused', () => {
    const shop = retired()
    expect(shop.do('RetireSheet', { sheet: CLEAR.sheet })).toEqual([])
    expect(refusalOf(shop.send('RetireSheet', { sheet: 'none' })).message).toBe(
      // The retired one is not offered.
      'There is no sheet none here. Use one of base-solvent, sealer-2k.',
    )
  })
})

describe('settings', () => {
  test('are merged: a change leaves what it does not name', () => {
    const shop = new Shop()
    shop.do('ChangeSettings', { shopName: 'Corner shop', units: { temperature: 'F' } })
    shop.do('ChangeSettings', { units: { volume: 'flOz' }, limits: { dewMarginC: 4 } })
    shop.do('ChangeSettings', { limits: { sprayMinPerM2: 3 }, clock: '12h' })
    expect(settingsOf(shop.state)).toEqual({
      shopName: 'Corner shop',
      units: { temperature: 'F', volume: 'flOz' },
      limits: { dewMarginC: 4, sprayMinPerM2: 3 },
      clock: '12h',
    })
  })

  test('a time zone is one that there is', () => {
    const shop = new Shop()
    shop.do('ChangeSettings', { timeZone: 'America/Chicago' })
    expect(() => shop.parse('ChangeSettings', { timeZone: 'Van/Corner' })).toThrow(
      'data.timeZone: "Van/Corner" won\'t work. Use an IANA time zone such as Europe/Madrid.',
    )
  })

  test('units change screens only, never what is stored', () => {
    const shop = vanWith(CLEAR_ONLY)
    shop.do('ChangeSettings', { units: { temperature: 'F', volume: 'flOz' } })
    air(shop, 1, 20)
    expect(shop.entries.at(-1)?.data).toEqual({ airC: 20, rh: 0.5 })
  })
})

describe('zones', () => {
  test('may be used before they are saved; saving keeps their readings', () => {
    const shop = addPanel(shopWith(), CLEAR_ONLY, { zone: 'bay-2' })
    mix(air(shop, 1, 10, 0.5, { zone: 'bay-2' }), CLEAR_CUP, CLEAR.sheet)
    expect(said(startCoat(CLEAR_CUP)(shop))).toBe('airOutside')
    shop.do('SaveZone', { zone: 'bay-2', name: 'Second bay', clearanceMin: 20 })
    expect(said(startCoat(CLEAR_CUP)(shop))).toBe('airOutside')
    const zone = shop.state.things.zone['bay-2']?.context
    expect(zone).toMatchObject({ spec: { name: 'Second bay', clearanceMin: 20 } })
  })

  test('a panel is in the booth and a cup on the bench, unless told', () => {
    const shop = vanWith(CLEAR_ONLY)
    expect(panelOf(shop, DOOR).stays.map((s) => s.zone)).toEqual(['booth'])
    expect(cupOf(shop, CLEAR_CUP).zone).toBe('bench')
  })
})
