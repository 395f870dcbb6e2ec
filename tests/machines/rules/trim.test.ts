import { describe, expect, test } from 'vitest'
import { readingsOf } from '../../../machines/climate/fold.ts'
import { deadlines } from '../../../machines/deadlines.ts'
import { thaw } from '../../../machines/fold.ts'
import { needs } from '../../../machines/needs.ts'
import type { State } from '../../../machines/state.ts'
import { trim } from '../../../machines/trim.ts'
import {
  addPanel,
  air,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_CURE,
  CLEAR_ONLY,
  coat,
  DOOR,
  gunOf,
  JOB,
  keyOf,
  MS,
  minuteOf,
  mix,
  SEALER_CUP,
  said,
  shopWith,
  vanWith,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import { minute, Shop } from '../../support/shop.ts'

const HOUR = 60
const DAY = 24 * HOUR
const WEEK = 7 * DAY
const at = (shop: Shop, min: number): State => trim(shop.state, minute(min))
const cups = (state: State): string[] => Object.keys(state.things.cup).sort()
const override = { reason: 'Collected' }

/** The same shop after evicting what it need not hold. */
function trimmed(shop: Shop, min: number): Shop {
  const copy = shop.fork().at(min)
  copy.state = trim(copy.state, copy.now)
  return copy
}
function thawed(shop: Shop, kind: 'job' | 'panel' | 'cup', id: string): Shop {
  shop.state = thaw(shop.state, { kind, id }, shop.entries)
  return shop
}

describe('a closed job', () => {
  const OVER = 5 + 4 * HOUR
  const closed = (): Shop => {
    const shop = coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 5)
    shop.do('CloseJob', { job: JOB, override })
    return shop
  }
  test('is let go of, with its panels; an open one is held', () => {
    const shop = closed()
    shop.do('OpenJob', { job: 'KKKK2222', title: 'Another van' })
    const { job, panel } = at(shop, OVER).things
    expect([Object.keys(job), Object.keys(panel)]).toEqual([['KKKK2222'], []])
  })

  test('is held for as long as the air may take to be clear of what was sprayed on it', () => {
    const { job, panel } = at(closed(), OVER - MS).things
    expect([Object.keys(job), Object.keys(panel)]).toEqual([[JOB], [DOOR]])
  })

  test('comes back from its entries as it was', () => {
    const shop = closed()
    const back = thawed(thawed(trimmed(shop, OVER), 'panel', DOOR), 'job', JOB)
    expect(back.state.things.panel[DOOR]).toEqual(shop.state.things.panel[DOOR])
    expect(back.state.things.job[JOB]).toEqual(shop.state.things.job[JOB])
    expect(said(back.send('ReopenJob', { job: JOB }))).toBe('done')
    expect(deadlines(back.state).map((d) => d.bell)).toContain('coatReady')
  })

  test('of what the log does not have nothing comes back', () => {
    const shop = trimmed(closed(), OVER)
    expect(thaw(shop.state, { kind: 'panel', id: 'ZZZZ2222' }, shop.entries)).toBe(shop.state)
  })
})

describe('a cup', () => {
  test('that was emptied is held for twelve hours more', () => {
    const shop = vanWith(CLEAR_ONLY)
    shop.at(10).do('EmptyCup', { cup: CLEAR_CUP, how: 'used' })
    expect(cups(at(shop, 10 + 12 * HOUR - MS))).toContain(CLEAR_CUP)
    expect(cups(at(shop, 10 + 12 * HOUR))).not.toContain(CLEAR_CUP)
  })

  test.each([
    ['a week after its use-by', CLEAR_CUP, 60 + WEEK],
    ['a week after the day until which it keeps', BASE_CUP, 30 * DAY + WEEK],
  ])('that nobody emptied is let go of %s', (_, cup, min) => {
    const shop = vanWith(CLEAR_ONLY)
    expect(cups(at(shop, min - MS))).toContain(cup)
    expect(cups(at(shop, min))).not.toContain(cup)
  })

  test("goes by the sheet's own figure, whatever the air was", () => {
    const shop = air(mix(shopWith([CLEAR]), CLEAR_CUP, CLEAR.sheet), 0, 40, 0.5, { zone: 'bench' })
    expect(cups(at(shop, 60 + WEEK - MS))).toEqual([CLEAR_CUP])
  })

  test('comes back for whoever still asks for it', () => {
    const shop = vanWith(CLEAR_ONLY)
    const back = thawed(trimmed(shop, 100 * DAY), 'cup', CLEAR_CUP)
    expect(back.state.things.cup[CLEAR_CUP]).toEqual(shop.state.things.cup[CLEAR_CUP])
    expect(said(back.send('EmptyCup', { cup: CLEAR_CUP, how: 'discarded' }))).toBe('done')
  })
})

describe('climate', () => {
  const read = (shop: Shop, ...mins: number[]): Shop => {
    for (const [i, min] of mins.entries()) air(shop, min, 18 + i)
    return shop
  }
  const kept = (state: State) => readingsOf(state, 'booth').map((r) => minuteOf(r.at))

  test('is held for twelve hours where nothing is open', () => {
    const shop = read(new Shop(), 0, 1)
    expect(kept(at(shop, 1 + 12 * HOUR - MS))).toEqual([0, 1])
    expect(kept(at(shop, 1 + 12 * HOUR))).toEqual([1])
  })

  test.each<[string, (shop: Shop) => unknown]>([
    ['a coat that is on', (s) => coat(addPanel(s, CLEAR_ONLY), CLEAR_CUP, 800, 810)],
    [
      'a coat that runs',
      (s) =>
        addPanel(s, CLEAR_ONLY)
          .at(810)
          .do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP }),
    ],
  ])('is held from twelve hours before the oldest open interval: %s', (_, open) => {
    const shop = read(shopWith(), 0, 80, 100)
    mix(shop.at(799), CLEAR_CUP, CLEAR.sheet)
    open(shop)
    shop.at(820).do('EmptyCup', { cup: CLEAR_CUP, how: 'used' })
    // The cup is let go of; what is on the panel wants the air from minute 80 or 90 on.
    expect(kept(at(shop, 3 * DAY))).toEqual([80, 100])
  })

  test('is held for a cure, a cup and a loaded gun too', () => {
    const shop = read(coat(coat(vanWith(CLEAR_CURE), CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15), 16, 17)
    expect(kept(at(shop, 3 * DAY))).toEqual([16, 17])
    const gun = mix(read(shopWith(), 0, 60), CLEAR_CUP, CLEAR.sheet)
    gun.at(61).do('LoadGun', { gun: 'gun-1', cup: CLEAR_CUP })
    expect(kept(at(gun, 30 * DAY))).toEqual([0, 60])
  })

  test('once let go of takes no reading from before, and keeps the name of the zone', () => {
    const shop = new Shop()
    shop.do('SaveZone', { zone: 'booth', name: 'Booth 1' })
    const later = trimmed(read(shop, 0, DAY, 2 * DAY), 2 * DAY + 1)
    const old = minute(DAY / 2)
    later.do('ReadClimate', { zone: 'booth', airC: 30, rh: 0.5 }, { at: old, enteredAt: old })
    expect(kept(later.state)).toEqual([DAY, 2 * DAY])
    expect(later.state.things.zone.booth?.context).toMatchObject({ spec: { name: 'Booth 1' } })
    air(later, 2 * DAY + 5, 25)
    expect(kept(later.state)).toEqual([DAY, 2 * DAY, 2 * DAY + 5])
  })

  test('that was voided stays voided, also where the void is dated before what was evicted', () => {
    const shop = air(air(air(shopWith(), 0, 20), DAY, 25), 2 * DAY, 33)
    const [wrong] = air(shop, 2 * DAY + 20, 30).entries.slice(-1)
    const reason = 'The sensor lay in the sun'
    const takenBack = (s: Shop): Shop => {
      s.at(2 * DAY + 30).do('VoidEntry', { entry: wrong?.id, reason }, { at: minute(1) })
      // A reading that comes late has the zone folded again.
      s.do(
        'ReadClimate',
        { zone: 'booth', airC: 22, rh: 0.5 },
        { at: minute(2 * DAY + 10), reason },
      )
      return s
    }
    const wanted = [33, 22]
    const heard = (s: Shop) => readingsOf(s.state, 'booth').map((r) => r.airC)
    expect(heard(trimmed(takenBack(shop.fork()), 2 * DAY + 31)).slice(-2)).toEqual(wanted)
    expect(heard(takenBack(trimmed(shop, 2 * DAY + 30))).slice(-2)).toEqual(wanted)
    // Trimmed between the two: the void goes with what it voids, not with its own time.
    const between = shop.fork().at(2 * DAY + 30)
    between.do('VoidEntry', { entry: wrong?.id, reason }, { at: minute(1) })
    const after = trimmed(between, 2 * DAY + 31)
    after.do(
      'ReadClimate',
      { zone: 'booth', airC: 22, rh: 0.5 },
      { at: minute(2 * DAY + 10), reason },
    )
    expect(heard(after).slice(-2)).toEqual(wanted)
  })

  test('that holds stays, however old: nothing may go on sooner for a restart', () => {
    // Cold air was read once, more than twelve hours before the coat.
    const shop = read(addPanel(shopWith([{ ...CLEAR, limits: {} }]), CLEAR_ONLY), 0)
    air(shop, 1, 10)
    coat(mix(shop.at(799), CLEAR_CUP, CLEAR.sheet), CLEAR_CUP, 800, 810)
    shop.at(811).do('EmptyCup', { cup: CLEAR_CUP, how: 'used' })
    const ready = (state: State) => deadlines(state).find((d) => d.bell === 'coatReady')?.dueAt
    expect(ready(shop.state)).toBe(minute(830))
    expect(ready(at(shop, 2 * DAY))).toBe(minute(830))
  })
})

describe('a gun', () => {
  /** Loaded at 1 and cleaned at 20, loaded again at 30. */
  const gun = (): Shop => {
    const shop = vanWith(CLEAR_ONLY)
    shop.do('SaveGun', { gun: 'gun-1', name: 'Clear gun' })
    shop.at(1).do('LoadGun', { gun: 'gun-1', cup: CLEAR_CUP })
    shop.at(20).do('CleanGun', { gun: 'gun-1' })
    shop.at(30).do('LoadGun', { gun: 'gun-1', cup: SEALER_CUP })
    return shop
  }
  const types = (state: State) => state.things.gun['gun-1']?.entries.map((e) => e.type)

  test('starts afresh at its last cleaning, once that is twelve hours past', () => {
    const all = ['GunSaved', 'GunLoaded', 'GunCleaned', 'GunLoaded']
    expect(types(at(gun(), 20 + 12 * HOUR))).toEqual(all)
    expect(types(at(gun(), 20 + 12 * HOUR + MS))).toEqual(['GunSaved', 'GunCleaned', 'GunLoaded'])
  })

  test('holds the same as before, also with what comes later and what comes too late', () => {
    const whole = gun().at(DAY)
    const cut = trimmed(whole, DAY)
    expect(gunOf(cut, 'gun-1')).toEqual(gunOf(whole, 'gun-1'))
    const old = minute(10)
    const late = { at: old, enteredAt: old, device: 'k1', seq: 1 }
    cut.do('LoadGun', { gun: 'gun-1', cup: CLEAR_CUP }, late)
    expect(gunOf(cut, 'gun-1')).toEqual(gunOf(whole, 'gun-1'))
    for (const shop of [cut, whole]) shop.do('CleanGun', { gun: 'gun-1' })
    expect(gunOf(cut, 'gun-1')).toEqual(gunOf(whole, 'gun-1'))
  })
})

describe('the rest', () => {
  test('a bell goes with what it is about, else after twelve hours', () => {
    const shop = coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 5).at(15)
    const key = keyOf(shop, 'coatReady')
    shop.do('RingBell', { key })
    expect(Object.keys(at(shop, 3 * DAY).things.bell)).toEqual([key])
    shop.do('CloseJob', { job: JOB, override })
    expect(Object.keys(at(shop, 15 + 12 * HOUR - MS).things.bell)).toEqual([key])
    expect(Object.keys(at(shop, 15 + 12 * HOUR).things.bell)).toEqual([])
  })

  test('a bell of a cup goes with the cup', () => {
    const shop = vanWith(CLEAR_ONLY).at(60)
    shop.do('RingBell', { key: `potOver:${CLEAR_CUP}` })
    expect(Object.keys(at(shop, 3 * DAY).things.bell)).toHaveLength(1)
    expect(Object.keys(at(shop, 60 + WEEK).things.bell)).toHaveLength(0)
  })

  test('sheets and settings are never evicted', () => {
    const shop = shopWith([BASE, CLEAR])
    shop.do('ChangeSettings', { shopName: 'Corner' })
    const { sheet, settings } = at(shop, 3_000 * DAY).things
    expect([Object.keys(sheet).length, Object.keys(settings)]).toEqual([2, ['shop']])
  })

  test('trimming moves no deadline of open work, and done twice is done once', () => {
    const shop = air(coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 5, { gun: 'gun-1' }), 6, 15)
    const once = at(shop, DAY)
    expect(deadlines(once)).toEqual(deadlines(shop.state))
    expect(trim(once, minute(DAY))).toEqual(once)
  })

  test.each<[string, object, string[]]>([
    ['StartCoat', { panels: [DOOR], cup: CLEAR_CUP, gun: 'gun-1' }, ['panel', 'cup', 'gun']],
    ['PourCup', { cup: BASE_CUP, from: [{ cup: CLEAR_CUP }] }, ['cup', 'cup']],
    [
      'MixCup',
      { cup: CLEAR_CUP, sheet: CLEAR.sheet, totalMl: 9, job: JOB },
      ['job', 'cup', 'sheet'],
    ],
    ['ReopenJob', { job: JOB }, ['job']],
    ['ChangeSettings', {}, []],
  ])('%s wants what it names folded again first', (type, data, kinds) => {
    const wanted = needs(new Shop().parse(type, data))
    expect([wanted.things.map((ref) => ref.kind), wanted.entries]).toEqual([kinds, []])
  })

  test('a void wants the things of what it voids, and of its replacement', () => {
    const replace = { type: 'ReachCover', data: { panel: DOOR } }
    const shop = new Shop()
    const one = needs(shop.parse('VoidEntry', { entry: 'c1.0', reason: 'x', replace }))
    const all = needs(shop.parse('VoidEntry', { command: 'c1', reason: 'x' }))
    expect(one).toEqual({ things: [{ kind: 'panel', id: DOOR }], entries: ['c1.0'], commands: [] })
    expect(all).toEqual({ things: [], entries: [], commands: ['c1'] })
  })
})
