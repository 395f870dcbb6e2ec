import { describe, expect, test } from 'vitest'
import { deadlines } from '../../../machines/deadlines.ts'
import { evict } from '../../../machines/evict.ts'
import { reloaded } from '../../../machines/fold.ts'
import { needs } from '../../../machines/needs.ts'
import { unclearedZones } from '../../../machines/panel/breathing.ts'
import type { State } from '../../../machines/state.ts'
import {
  addPanel,
  air,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_CURE,
  CLEAR_ONLY,
  coat,
  DOOR,
  evicted,
  evictedState,
  JOB,
  keyOf,
  MS,
  mix,
  SEALER_CUP,
  said,
  shopWith,
  vanWith,
  WING,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import { minute, Shop } from '../../support/shop.ts'

const HOUR = 60
const DAY = 24 * HOUR
const WEEK = 7 * DAY
const at = evictedState
const cups = (state: State): string[] => Object.keys(state.things.cup).sort()
const FRESH = 'FFFF2222'
const override = { reason: 'Collected' }
/**
 * In a zone that was clear by itself since the day before: without a clearance time its last coat is held until it
 * is cleared, and so long after that was set as it may be taken back.
 */
const inClearing = (shop: Shop): Shop => {
  const before = { at: minute(-12 * HOUR), reason: 'Set yesterday' }
  shop.do('SaveZone', { zone: 'booth', clearanceMin: 30 }, before)
  return shop
}

function back(shop: Shop, kind: 'job' | 'panel' | 'cup', id: string): Shop {
  shop.state = reloaded(shop.state, { kind, id }, shop.entries)
  return shop
}

describe('a coat that ran over a night', () => {
  test('is finished with what its cup held, though that cup was evicted', () => {
    const shop = mix(addPanel(shopWith(), CLEAR_ONLY), CLEAR_CUP, CLEAR.sheet, {
      activator: 'slow',
    })
    shop.at(1).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    shop.at(2).do('EmptyCup', { cup: CLEAR_CUP, how: 'used' })
    const morning = evicted(shop, 16 * HOUR)
    expect(cups(morning.state)).toEqual([])
    const [finish] = morning.do('FinishCoat', { panels: [DOOR] })
    expect(finish?.data.mixes).toEqual([{ activator: 'slow', reducer: null }])
  })
})

describe('a coat that was broken off', () => {
  test('leaves the window of the coat under it to the air that this ran in', () => {
    const window = [{ atC: 20, minutes: 200 * HOUR }]
    const shop = shopWith([{ ...CLEAR, recoatWithin: window }])
    coat(mix(addPanel(shop, CLEAR_ONLY), CLEAR_CUP, CLEAR.sheet), CLEAR_CUP, 1, 5)
    air(shop, 6, 30)
    air(shop, 40 * HOUR, 20)
    mix(shop.at(50 * HOUR), FRESH, CLEAR.sheet)
    shop.do('StartCoat', { panels: [DOOR], cup: FRESH })
    shop.at(50 * HOUR + 5).do('BreakOffCoat', { panels: [DOOR] })
    const shuts = (state: State) => deadlines(state).filter(({ bell }) => bell === 'windowShut')
    expect(shuts(shop.state)).not.toEqual([])
    expect(shuts(at(shop, 110 * HOUR))).toEqual(shuts(shop.state))
  })
})

describe('a closed job', () => {
  const OVER = 5 + 4 * HOUR
  const closed = (): Shop => {
    const shop = coat(inClearing(vanWith(CLEAR_ONLY)), CLEAR_CUP, 1, 5)
    shop.do('CloseJob', { job: JOB, override })
    return shop
  }
  test('is evicted with its panels; an open one is held', () => {
    const shop = closed()
    shop.do('OpenJob', { job: 'KKKK2222', title: 'Another van' })
    const { job, panel } = at(shop, OVER).things
    expect([Object.keys(job), Object.keys(panel)]).toEqual([['KKKK2222'], []])
  })

  test('is held for as long as the air may take to be clear of what was sprayed on it', () => {
    const { job, panel } = at(closed(), OVER - MS).things
    expect([Object.keys(job), Object.keys(panel)]).toEqual([[JOB], [DOOR]])
  })

  test('is held for the air of a zone whose clearance time was set by mistake, as long as that may be taken back', () => {
    const shop = coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 5)
    shop.do('CloseJob', { job: JOB, override })
    shop.at(8 * DAY).do('SaveZone', { zone: 'booth', clearanceMin: 30 }, { id: 'set' })
    const later = evicted(shop, 8 * DAY + 12 * HOUR - MS)
    later.do('VoidEntry', { entry: 'set.0', reason: 'another zone' })
    expect(unclearedZones(later.state).map(({ zone }) => zone)).toEqual(['booth'])
    expect(Object.keys(at(shop, 8 * DAY + 12 * HOUR).things.job)).toEqual([])
  })

  test('is held for the heat that was on at its close, as long as a cup that stood in that', () => {
    const shop = inClearing(mix(addPanel(shopWith(), CLEAR_CURE), CLEAR_CUP, CLEAR.sheet))
    coat(coat(shop, CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
    shop.at(30).do('StartCure', { panels: [DOOR], mode: 'bake', setC: 60 })
    shop.at(31).do('MixCup', { cup: FRESH, sheet: CLEAR.sheet, totalMl: 300, zone: 'booth' })
    shop.at(40).do('CloseJob', { job: JOB, override })
    const potOver = (state: State) =>
      deadlines(state).find(({ key }) => key === `potOver:${FRESH}`)?.dueAt
    expect(potOver(shop.state)).toBeLessThan(minute(40))
    expect(potOver(at(shop, 8 * HOUR))).toBe(potOver(shop.state))
  })

  test('comes back from its entries as it was', () => {
    const shop = closed()
    const again = back(back(evicted(shop, OVER), 'panel', DOOR), 'job', JOB)
    expect(again.state.things.panel[DOOR]).toEqual(shop.state.things.panel[DOOR])
    expect(again.state.things.job[JOB]).toEqual(shop.state.things.job[JOB])
    expect(said(again.send('ReopenJob', { job: JOB }))).toBe('done')
    expect(deadlines(again.state).map((d) => d.bell)).toContain('coatReady')
  })

  test('of what the log does not have nothing comes back', () => {
    const shop = evicted(closed(), OVER)
    expect(reloaded(shop.state, { kind: 'panel', id: 'ZZZZ2222' }, shop.entries)).toBe(shop.state)
  })

  test('is judged by when it was closed, not by an entry that was recorded while the clock was ahead', () => {
    const shop = closed()
    shop.at(8 * DAY).do('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
    expect(shop.state.recordedAt).toBe(minute(8 * DAY))
    expect(Object.keys(at(shop, 6).things.job)).toEqual([JOB])
    expect(cups(at(shop, 6))).toContain(CLEAR_CUP)
  })
})

describe('a job that was never closed', () => {
  const PASSED = 20
  /** A door with its coat on, passed; its cups are empty. */
  const passed = (): Shop => {
    const shop = coat(inClearing(vanWith(CLEAR_ONLY, [CLEAR])), CLEAR_CUP, 1, 5)
    shop.do('EmptyCup', { cup: CLEAR_CUP, how: 'used' })
    shop.at(PASSED).do('PassPanel', { panel: DOOR, override })
    return shop
  }
  const jobs = (shop: Shop, min: number) => Object.keys(at(shop, min).things.job)

  test('is evicted a week after its last panel passed', () => {
    expect(jobs(passed(), PASSED + WEEK - MS)).toEqual([JOB])
    const { job, panel } = at(passed(), PASSED + WEEK).things
    expect([job, panel]).toEqual([{}, {}])
  })

  test.each<[string, (shop: Shop) => unknown]>([
    ['a panel has not passed', (s) => addPanel(s, CLEAR_ONLY, { panel: WING, name: 'Front wing' })],
    [
      'it was sent back',
      (s) => s.do('SendBackPanel', { panel: DOOR, toStep: 0, done: 0, reason: 'Dust' }),
    ],
    ['a cup is mixed for it', (s) => mix(s, SEALER_CUP, CLEAR.sheet, { job: JOB })],
  ])('is held while %s', (_, happens) => {
    const shop = passed().at(PASSED + WEEK - 10)
    happens(shop)
    expect(jobs(shop, PASSED + WEEK)).toEqual([JOB])
  })

  test('is held without a panel: it is still to come', () => {
    const shop = shopWith()
    shop.do('OpenJob', { job: JOB, title: 'Delivery van' })
    expect(jobs(shop, 10 * WEEK)).toEqual([JOB])
  })

  test('is open work again once it is named and a panel is added', () => {
    const shop = evicted(passed(), PASSED + WEEK)
    back(back(shop, 'job', JOB), 'panel', DOOR)
    addPanel(shop, CLEAR_ONLY, { panel: WING, name: 'Front wing' })
    expect(jobs(shop, PASSED + 2 * WEEK)).toEqual([JOB])
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
  ])('that nobody emptied is evicted %s', (_, cup, min) => {
    const shop = vanWith(CLEAR_ONLY)
    expect(cups(at(shop, min - MS))).toContain(cup)
    expect(cups(at(shop, min))).not.toContain(cup)
  })

  test('goes by the longest of its figures, as the cold may have let it last, whatever the air was', () => {
    const potLife = [
      { atC: 20, minutes: 60 },
      { atC: 10, minutes: 8 * DAY },
    ]
    const shop = mix(shopWith([{ ...CLEAR, potLife }]), CLEAR_CUP, CLEAR.sheet)
    air(shop, 0, 40, 0.5, { zone: 'bench' })
    expect(cups(at(shop, 8 * DAY + WEEK - MS))).toEqual([CLEAR_CUP])
    expect(cups(at(shop, 8 * DAY + WEEK))).toEqual([])
  })

  test('comes back when it is still asked for', () => {
    const shop = vanWith(CLEAR_ONLY)
    const again = back(evicted(shop, 100 * DAY), 'cup', CLEAR_CUP)
    expect(again.state.things.cup[CLEAR_CUP]).toEqual(shop.state.things.cup[CLEAR_CUP])
    expect(said(again.send('EmptyCup', { cup: CLEAR_CUP, how: 'discarded' }))).toBe('done')
  })
})

describe('the rest', () => {
  test('a bell goes with the panel that it is about', () => {
    const shop = coat(inClearing(vanWith(CLEAR_ONLY)), CLEAR_CUP, 1, 5).at(15)
    const key = keyOf(shop, 'coatReady')
    shop.do('RingBell', { key })
    expect(Object.keys(at(shop, 30 * DAY).things.bell)).toEqual([key])
    shop.do('CloseJob', { job: JOB, override })
    expect(Object.keys(at(shop, 15 + 4 * HOUR - MS).things.bell)).toEqual([key])
    expect(Object.keys(at(shop, 15 + 4 * HOUR).things.bell)).toEqual([])
  })

  test('a bell of a gun goes with the load that it is about, though the gun stays', () => {
    const shop = vanWith(CLEAR_ONLY)
    for (let i = 0; i < 30; i += 1) {
      shop.at(100 * i).do('LoadGun', { gun: 'gun-1', cup: CLEAR_CUP, override })
      shop.at(100 * i + 70).do('RingBell', { key: keyOf(shop, 'gunDue') })
      shop.do('CleanGun', { gun: 'gun-1' })
    }
    const bells = Object.keys(at(shop, 30 * DAY).things.bell)
    expect(bells).toHaveLength(20)
    expect(Object.keys(shop.state.things.bell)).toHaveLength(30)
  })

  test('a bell of a cup goes with the cup', () => {
    const shop = vanWith(CLEAR_ONLY).at(60)
    shop.do('RingBell', { key: `potOver:${CLEAR_CUP}` })
    expect(Object.keys(at(shop, 3 * DAY).things.bell)).toHaveLength(1)
    expect(Object.keys(at(shop, 60 + WEEK).things.bell)).toHaveLength(0)
  })

  test('sheets and settings are held for ever', () => {
    const shop = shopWith([BASE, CLEAR])
    shop.do('ChangeSettings', { shopName: 'Corner' })
    const { sheet, settings } = at(shop, 3_000 * DAY).things
    expect([Object.keys(sheet).length, Object.keys(settings)]).toEqual([2, ['shop']])
  })

  test('an eviction moves no deadline of open work, and done twice is done once', () => {
    const shop = air(coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 5, { gun: 'gun-1' }), 6, 15)
    const once = at(shop, DAY)
    expect(deadlines(once)).toEqual(deadlines(shop.state))
    expect(evict(once, minute(DAY))).toEqual(once)
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
