import { describe, expect, test } from 'vitest'
import { breathingZones } from '../../kiosk/frame/breathing.ts'
import { evict } from '../../machines/evict.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { minute, Shop } from '../support/shop.ts'

const JOB = 'VANREAR2'
const CUP = 'K7QDM2XV'
const DOOR = 'SDEDR222'

/** A van with one door to be cleared; its base has no isocyanates. */
function van(sheet: typeof CLEAR | typeof BASE = CLEAR): Shop {
  const shop = new Shop()
  for (const one of [CLEAR, BASE]) shop.do('SaveSheet', { sheet: one })
  shop.do('OpenJob', { job: JOB, title: 'Delivery van' })
  const route = [{ stage: sheet.stage, sheet: sheet.sheet }]
  const door = { panel: DOOR, name: 'Sliding door', operation: 'repair', areaM2: 1, route }
  shop.do('AddPanel', { job: JOB, ...door })
  shop.do('MixCup', { cup: CUP, sheet: sheet.sheet, totalMl: 500 })
  return shop
}

describe('the line that says how long the air-fed mask stays on', () => {
  const clear = () => {
    const shop = van()
    shop.do('SaveZone', { zone: 'booth', name: 'Booth', clearanceMin: 20 })
    return shop
  }
  test('stays on while an isocyanate product is sprayed and for the zone’s clearance time after', () => {
    const shop = clear()
    expect(breathingZones(shop.state, minute(0))).toEqual([])
    shop.do('StartCoat', { panels: [DOOR], cup: CUP })
    expect(breathingZones(shop.state, minute(1))).toEqual([
      { zone: 'booth', from: 'booth', untilMs: null, isSpraying: true, clearanceMin: 20 },
    ])
    shop.at(2).do('FinishCoat', { panels: [DOOR] })
    expect(breathingZones(shop.state, minute(3))[0]?.untilMs).toBe(minute(22))
    expect(breathingZones(shop.state, minute(22))).toEqual([])
  })

  test('is for the zone where the coat went on, wherever the panel is now', () => {
    const shop = clear()
    shop.do('SaveZone', { zone: 'hall', clearanceMin: 5 })
    shop.at(2).do('FinishCoat', { panels: [DOOR], cup: CUP })
    shop.at(4).do('MovePanel', { panel: DOOR, zone: 'hall' })
    expect(breathingZones(shop.state, minute(5)).map((z) => z.zone)).toEqual(['booth'])
  })

  test('outlasts the job: it is still shown once the job is closed and evicted by a restarted server', () => {
    const shop = clear()
    shop.at(2).do('FinishCoat', { panels: [DOOR], cup: CUP })
    shop.at(3).do('CloseJob', { job: JOB, override: { reason: 'Collected' } })
    const restarted = evict(shop.state, minute(21))
    expect(breathingZones(restarted, minute(21))).toHaveLength(1)
    expect(breathingZones(restarted, minute(22))).toEqual([])
  })

  test('counts from the cleaning of a gun too: where that was said, else where its last coat went on', () => {
    const shop = clear()
    shop.do('SaveZone', { zone: 'wash', clearanceMin: 10 })
    shop.at(1).do('StartCoat', { panels: [DOOR], cup: CUP, gun: 'gun-1' })
    shop.at(2).do('FinishCoat', { panels: [DOOR] })
    const moved = shop.fork().at(15)
    moved.do('CleanGun', { gun: 'gun-1', solvent: 'gun wash' })
    expect(breathingZones(moved.state, minute(16))[0]?.untilMs).toBe(minute(35))
    const there = shop.fork().at(15)
    there.do('RinseGun', { gun: 'gun-1', zone: 'wash' })
    expect(breathingZones(there.state, minute(16)).map((z) => [z.zone, z.untilMs])).toEqual([
      ['booth', minute(22)],
      ['wash', minute(25)],
    ])
    // A clean gun gives no vapor when it is cleaned again.
    moved.at(30).do('CleanGun', { gun: 'gun-1' })
    expect(breathingZones(moved.state, minute(31))[0]?.untilMs).toBe(minute(35))
  })

  test('is not asked for by a product whose sheet says it has none, and is by one whose sheet is silent', () => {
    const shop = van(BASE)
    shop.do('SaveZone', { zone: 'booth', clearanceMin: 20 })
    shop.at(2).do('FinishCoat', { panels: [DOOR], cup: CUP })
    expect(breathingZones(shop.state, minute(3))).toEqual([])
    const { hazards: _, ...silent } = BASE
    const other = van(BASE)
    other.do('SaveZone', { zone: 'booth', clearanceMin: 20 })
    other.at(1).do('SaveSheet', { sheet: silent })
    other.at(2).do('MixCup', { cup: 'NEWCAP22', sheet: BASE.sheet, totalMl: 100 })
    other.at(3).do('FinishCoat', { panels: [DOOR], cup: 'NEWCAP22', startedAt: minute(2.5) })
    expect(breathingZones(other.state, minute(4))).toHaveLength(1)
  })

  describe('in a zone without a clearance time', () => {
    const notSet = () => {
      const shop = van()
      shop.do('SaveZone', { zone: 'booth' })
      shop.at(2).do('FinishCoat', { panels: [DOOR], cup: CUP })
      return shop
    }
    const shown = (shop: Shop, min: number) =>
      breathingZones(shop.state, minute(min)).map((one) => [one.zone, one.untilMs])

    test('stays until a person has found it clear, past the close of the job, midnight and a restart', () => {
      const shop = notSet()
      expect(shown(shop, 3)).toEqual([['booth', null]])
      shop.at(3).do('CloseJob', { job: JOB, override: { reason: 'Collected' } })
      const days = 90 * 24 * 60
      const restarted = shop.fork()
      restarted.state = evict(shop.state, minute(days))
      expect(shown(restarted, days)).toEqual([['booth', null]])
      restarted.at(days).do('ClearZone', { zone: 'booth', how: 'smokeTest' })
      expect(shown(restarted, days)).toEqual([])
      // Two days later nothing of the job is held any more, and the line stays away.
      const later = evict(restarted.state, minute(days + 2 * 24 * 60))
      expect(later.things.panel).toEqual({})
      expect(breathingZones(later, minute(days + 2 * 24 * 60))).toEqual([])
    })

    test('of the coats of months only the last one of the zone is held, also of a job that nobody closed', () => {
      const shop = notSet()
      const second = 'KKKK2222'
      shop.at(20).do('OpenJob', { job: second, title: 'Small car' })
      const about = { job: second, panel: 'RRRR2222', name: 'Roof', operation: 'repair' }
      shop.do('AddPanel', { ...about, route: [{ stage: 'clear', sheet: CLEAR.sheet }] })
      shop.at(22).do('FinishCoat', { panels: ['RRRR2222'], cup: CUP })
      shop.at(40).do('PassPanel', { panel: 'RRRR2222', override: { reason: 'One coat' } })
      shop.do('CloseJob', { job: JOB, override: { reason: 'Collected' } })
      const days = 60 * 24 * 60
      const state = evict(shop.state, minute(days))
      expect(Object.keys(state.things.panel)).toEqual(['RRRR2222'])
      expect(breathingZones(state, minute(days)).map(({ zone }) => zone)).toEqual(['booth'])
      // Again, as a server does: the last is still the last.
      expect(Object.keys(evict(state, minute(2 * days)).things.panel)).toEqual(['RRRR2222'])
    })

    test('is that of the coat before it for as long as the last one may be taken back', () => {
      const shop = notSet()
      shop.do('CloseJob', { job: JOB, override: { reason: 'Collected' } })
      const nine = 9 * 24 * 60
      shop.at(nine).do('OpenJob', { job: 'KKKK2222', title: 'Small car' })
      const about = { job: 'KKKK2222', panel: 'RRRR2222', name: 'Roof', operation: 'repair' }
      shop.do('AddPanel', { ...about, route: [{ stage: 'clear', sheet: CLEAR.sheet }] })
      shop.do('FinishCoat', { panels: ['RRRR2222'], cup: CUP }, { id: 'second' })
      const then = nine + 7 * 24 * 60
      const before = shop.fork().at(then - 1)
      before.state = evict(shop.state, minute(then - 1))
      before.do('VoidEntry', { entry: 'second.0', reason: 'It was another zone' })
      expect(shown(before, then)).toEqual([['booth', null]])
      shop.at(then - 1).do('CloseJob', { job: 'KKKK2222', override: { reason: 'Collected' } })
      expect(Object.keys(evict(shop.state, minute(then)).things.panel)).toEqual(['RRRR2222'])
    })

    test('and for as long as the job of the last one runs, as what came before may be taken back', () => {
      const shop = notSet()
      shop.do('CloseJob', { job: JOB, override: { reason: 'Collected' } })
      const about = { job: 'KKKK2222', panel: 'RRRR2222', name: 'Roof', operation: 'repair' }
      shop.at(60).do('OpenJob', { job: 'KKKK2222', title: 'Small car' })
      const route = [BASE, CLEAR].map(({ stage, sheet }) => ({ stage, sheet }))
      shop.do('AddPanel', { ...about, route })
      shop.do('FinishCoat', { panels: ['RRRR2222'] }, { id: 'base' })
      for (const min of [120, 240]) shop.at(min).do('FinishCoat', { panels: ['RRRR2222'] })
      // Without the first coat the last was one of base too, and the last of isocyanates was the van's.
      const month = 30 * 24 * 60
      const late = shop.fork().at(month)
      late.state = evict(shop.state, minute(month))
      for (const one of [late, shop.at(month)])
        one.do('VoidEntry', { entry: 'base.0', reason: 'It was another panel' })
      const held = (state: Shop['state']) => Object.keys(state.things.panel).sort()
      expect(held(evict(late.state, minute(month)))).toEqual(held(evict(shop.state, minute(month))))
      expect(shown(late, month)).toEqual([['booth', null]])
    })

    test('holds no panel again that was let go of after an earlier clearing', () => {
      const HOUR = 60
      const shop = notSet()
      shop.do('CloseJob', { job: JOB, override: { reason: 'Collected' } })
      const held = (min: number) => Object.keys(evict(shop.state, minute(min)).things.panel)
      shop.at(10).do('ClearZone', { zone: 'booth', how: 'gauge' })
      expect(held(10 + 12 * HOUR - 1)).toEqual([DOOR])
      shop.at(20 * HOUR).do('ClearZone', { zone: 'booth', how: 'gauge' })
      expect(held(20 * HOUR)).toEqual([])
    })

    test('comes back with the next such coat; a time typed later counts from the last one', () => {
      const shop = notSet().at(10)
      shop.do('ClearZone', { zone: 'booth', how: 'gauge' })
      expect(shown(shop, 10)).toEqual([])
      shop.at(20).do('FinishCoat', { panels: [DOOR], cup: CUP })
      expect(shown(shop, 21)).toEqual([['booth', null]])
      shop.do('SaveZone', { zone: 'booth', clearanceMin: 15 })
      expect(shown(shop, 34)).toEqual([['booth', minute(35)]])
      expect(shown(shop, 35)).toEqual([])
    })

    test('nobody clears it while a coat is sprayed in it, whatever the reason', () => {
      const shop = notSet().at(12)
      shop.do('StartCoat', { panels: [DOOR], cup: CUP })
      const answer = shop.at(13).send('ClearZone', { zone: 'booth', how: 'gauge' })
      const refusal = 'refusal' in answer ? answer.refusal : null
      expect([refusal?.code, refusal?.overridable]).toEqual(['coatRunning', false])
      shop.at(14).do('FinishCoat', { panels: [DOOR] })
      shop.do('ClearZone', { zone: 'booth', how: 'gauge' })
      expect(shown(shop, 14)).toEqual([])
    })

    test('is shown in the zones that it opens to as well, and no longer than there', () => {
      const shop = notSet()
      shop.do('SaveZone', { zone: 'prep', opensTo: ['booth'] })
      expect(shown(shop, 3)).toEqual([
        ['booth', null],
        ['prep', null],
      ])
      shop.do('ClearZone', { zone: 'booth', how: 'leftOvernight' })
      expect(shown(shop, 3)).toEqual([])
    })
  })
})
