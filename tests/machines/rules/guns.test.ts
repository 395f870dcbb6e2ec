import { describe, expect, test } from 'vitest'
import { fold } from '../../../machines/fold.ts'
import {
  air,
  around,
  BASE_CLEAR,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_ONLY,
  DOOR,
  dueMin,
  gunOf,
  mix,
  outsideOf,
  queued,
  refusalOf,
  SEALER_CUP,
  said,
  startCoat,
  stateOf,
  vanWith,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

const GUN = 'gun-1'
const FRESH = 'FFFF2222'
const override = { reason: 'Same binder' }
const load = (shop: Shop, cup: string, more: object = {}) =>
  shop.send('LoadGun', { gun: GUN, cup, ...more })
/** A gun with clear in it since minute 0: its material is over at 60. */
function loaded(more: object = {}): Shop {
  const shop = vanWith(CLEAR_ONLY)
  shop.do('LoadGun', { gun: GUN, cup: CLEAR_CUP, ...more })
  return shop
}
const clean = (shop: Shop, min: number): Shop => {
  shop.at(min).do('CleanGun', { gun: GUN, solvent: 'gun wash', solventMl: 200 })
  return shop
}

describe('activated material in a gun', () => {
  test('keeps its own deadline when the cup is emptied, until the gun is cleaned', () => {
    const shop = loaded()
    shop.at(10).do('EmptyCup', { cup: CLEAR_CUP, how: 'used' })
    expect(dueMin(shop, 'gunDue')).toBe(60)
    expect(dueMin(clean(shop, 20), 'gunDue')).toBeUndefined()
    expect(stateOf(shop, 'gun', GUN)).toBe('clean')
  })

  test("runs in the air of the cup's zone, like the cup", () => {
    const shop = loaded()
    air(shop, 0, 20, 0.5, { zone: 'bench' })
    expect(dueMin(air(shop, 20, 30, 0.5, { zone: 'bench' }), 'gunDue')).toBe(40)
  })

  test("goes by the cup's label as well", () => {
    const shop = vanWith(CLEAR_ONLY)
    air(shop, 0, 30, 0.5, { zone: 'bench' })
    shop.at(1).do('PrintLabel', { cup: CLEAR_CUP })
    air(shop, 2, 20, 0.5, { zone: 'bench' })
    load(shop, CLEAR_CUP)
    expect(dueMin(shop, 'gunDue')).toBe(30)
  })

  test('gets there with a coat, and with the cup that a coat goes on from', () => {
    const shop = vanWith(CLEAR_ONLY)
    mix(shop.at(10), FRESH, CLEAR.sheet)
    shop.at(11).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP, gun: GUN })
    expect(dueMin(shop, 'gunDue')).toBe(60)
    shop.at(12).do('ContinueCoat', { panels: [DOOR], cup: FRESH })
    expect([dueMin(shop, 'gunDue'), gunOf(shop, GUN)?.loads.length]).toEqual([60, 2])
  })

  test('without pot life has no deadline, and still holds the gun', () => {
    const shop = vanWith(CLEAR_ONLY)
    load(shop, BASE_CUP)
    expect(dueMin(shop, 'gunDue')).toBeUndefined()
    expect(said(startCoat(CLEAR_CUP, { gun: GUN })(shop))).toBe('gunHolds')
  })
})

describe('what may follow in the gun', () => {
  test('the same product from a fresh cup, without cleaning: the earlier deadline binds', () => {
    const shop = loaded()
    mix(shop.at(30), FRESH, CLEAR.sheet)
    expect(said(load(shop, FRESH))).toBe('done')
    expect(dueMin(shop, 'gunDue')).toBe(60)
  })

  test('not another product, before the gun is cleaned', () => {
    const shop = loaded()
    const refusal = refusalOf(load(shop, SEALER_CUP))
    expect(refusal.message).toBe('Gun gun-1 holds 2K clear, 2:1. Clean it first.')
    expect(said(load(clean(shop, 1), SEALER_CUP))).toBe('done')
  })

  test('not another color of the same product', () => {
    const shop = vanWith(BASE_CLEAR)
    mix(shop, FRESH, BASE.sheet, { colour: 'white' })
    mix(shop, 'GGGG2222', BASE.sheet, { colour: 'grey' })
    load(shop, FRESH)
    expect(refusalOf(load(shop, 'GGGG2222')).message).toBe(
      'Gun gun-1 holds Solvent base, ready to spray in white. Clean it first.',
    )
    expect(said(startCoat('GGGG2222', { gun: GUN })(shop))).toBe('gunHolds')
    expect(said(load(shop, FRESH))).toBe('done')
  })

  test('not the same product over material that is past its pot life', () => {
    const shop = loaded()
    mix(shop.at(50), FRESH, CLEAR.sheet)
    expect(around(shop, 60, (s) => load(s, FRESH))).toEqual(['done', 'gunHolds'])
    expect(refusalOf(load(shop.at(60), FRESH)).message).toBe(
      'Gun gun-1 holds 2K clear, 2:1 past its pot life. Clean it first.',
    )
  })

  test('the same cup over its time says so of the cup, once', () => {
    const refusal = refusalOf(startCoat(CLEAR_CUP, { gun: GUN })(loaded().at(60)))
    expect([refusal.code, refusal.also]).toEqual(['potLifeOver', []])
  })

  test('nothing over an unknown material', () => {
    const shop = vanWith(CLEAR_ONLY)
    const [draft] = queued(shop.at(60), 5, 'LoadGun', { gun: GUN, cup: 'ZZZZ2222' })
    expect(outsideOf(draft)).toEqual(['cupUnknown'])
    mix(shop, FRESH, CLEAR.sheet)
    expect(refusalOf(load(shop, FRESH)).message).toBe(
      'Gun gun-1 holds material of an unknown cup. Clean it first.',
    )
  })

  test('another product against a refusal makes the gun dirty: the earliest deadline of both counts', () => {
    const shop = loaded()
    mix(shop.at(10), FRESH, 'sealer-2k')
    const [draft] = shop.do('LoadGun', { gun: GUN, cup: FRESH, override })
    expect(draft?.override?.codes).toEqual(['gunHolds'])
    expect([stateOf(shop, 'gun', GUN), dueMin(shop, 'gunDue')]).toEqual(['dirty', 60])
    expect(gunOf(shop, GUN)?.loads).toHaveLength(2)
    expect(said(load(shop, CLEAR_CUP))).toBe('gunHolds')
    expect(stateOf(clean(shop, 11), 'gun', GUN)).toBe('clean')
  })
})

describe('a gun and its cup', () => {
  test('a coat from the gun that was loaded from its cup is not held up', () => {
    expect(said(startCoat(CLEAR_CUP, { gun: GUN })(loaded()))).toBe('done')
  })

  test('without a gun named, no gun is judged', () => {
    expect(said(startCoat(CLEAR_CUP)(loaded()))).toBe('done')
    const other = vanWith(CLEAR_ONLY)
    load(other, SEALER_CUP)
    expect(said(startCoat(CLEAR_CUP)(other))).toBe('done')
  })

  test.each([
    ['unknown', 'ZZZZ2222', 'cupUnknown'],
    ['emptied', CLEAR_CUP, 'cupEmptied'],
  ])('a cup that is %s is not loaded', (_, cup, code) => {
    const shop = vanWith(CLEAR_ONLY)
    shop.do('EmptyCup', { cup: CLEAR_CUP, how: 'used' })
    expect(said(load(shop, cup))).toBe(code)
  })

  test('a gun may be used before it is saved, and is called by its name once it is', () => {
    const shop = loaded()
    expect(refusalOf(load(shop, SEALER_CUP)).message).toMatch(/^Gun gun-1 holds/)
    shop.do('SaveGun', { gun: GUN, name: 'Clear gun, 1.3', needleMm: 1.3 })
    expect(refusalOf(load(shop, SEALER_CUP)).message).toMatch(/^Gun Clear gun, 1.3 holds/)
    expect(dueMin(shop, 'gunDue')).toBe(60)
  })

  test('a cleaning that comes late takes out what was in it then, not what came after', () => {
    const shop = loaded()
    mix(shop.at(20), FRESH, 'sealer-2k')
    const loading = { gun: GUN, cup: FRESH, override }
    shop.at(30).do('LoadGun', loading)
    expect(stateOf(shop, 'gun', GUN)).toBe('dirty')
    queued(shop.at(60), 25, 'CleanGun', { gun: GUN })
    expect([stateOf(shop, 'gun', GUN), dueMin(shop, 'gunDue')]).toEqual(['loaded', 80])
  })

  test('a clean gun may be cleaned again', () => {
    expect(stateOf(clean(clean(loaded(), 1), 2), 'gun', GUN)).toBe('clean')
  })
})

test('a cup that is loaded in the instant of its label leaves what a gun held before as it was folded', () => {
  const shop = vanWith(CLEAR_ONLY)
  for (let min = 1; min <= 20; min += 1) clean(shop, min)
  mix(shop, FRESH, CLEAR.sheet)
  shop.do('PrintLabel', { cup: FRESH })
  const before = shop.state
  const gun = before.things.gun[GUN]
  if (!gun) throw new Error('no gun')
  let looks = 0
  const watched = gun.entries.map(
    (entry) =>
      new Proxy(entry, {
        get(of, key) {
          if (key === 'data') looks += 1
          return Reflect.get(of, key)
        },
      }),
  )
  const guns = { ...before.things.gun, [GUN]: { ...gun, entries: watched } }
  const drafts = shop.do('LoadGun', { gun: GUN, cup: FRESH })
  const after = drafts.reduce(fold, { ...before, things: { ...before.things, gun: guns } })
  expect(after.things.gun[GUN]?.context.loads.map(({ cup }) => cup)).toEqual([FRESH])
  expect(looks).toBe(0)
})
