import { describe, expect, test } from 'vitest'
import { knownZones } from '../../../kiosk/lanes/zones.ts'
import { defaultZone } from '../../../machines/climate/zones.ts'
import { zoneOf } from '../../../machines/panel/context.ts'
import { contextOf } from '../../../machines/state.ts'
import { JOB } from '../../support/given.ts'
import { Shop } from '../../support/shop.ts'

/** Where a panel stands that nobody gave a zone: common practice, no source. */

const route = [{ stage: 'polish' as const }]
function shopOf(...zones: readonly { zone: string; sprayed?: boolean }[]): Shop {
  const shop = new Shop()
  for (const spec of zones) shop.do('SaveZone', { name: spec.zone, ...spec })
  shop.do('OpenJob', { job: JOB, title: 'Delivery van' })
  return shop
}
function added(shop: Shop, panel = 'DDDD2222', zone?: string): string {
  const given = { job: JOB, panel, name: 'Door', operation: 'repair' as const, route }
  shop.do('AddPanel', zone === undefined ? given : { ...given, zone })
  const known = contextOf(shop.state, 'panel', panel)
  return known ? zoneOf(known) : ''
}

describe('a panel without a zone', () => {
  test('stands in the booth of a shop that has said of none', () => {
    expect(added(shopOf())).toBe('booth')
    expect(added(shopOf({ zone: 'bench' }))).toBe('booth')
  })

  test('stands in the only zone that coats are sprayed in', () => {
    expect(added(shopOf({ zone: 'booth-1' }))).toBe('booth-1')
    expect(added(shopOf({ zone: 'bench' }, { zone: 'booth-1' }))).toBe('booth-1')
    expect(added(shopOf({ zone: 'prep', sprayed: false }, { zone: 'booth-1' }))).toBe('booth-1')
  })

  test('does not stand in one that is not used any more', () => {
    const shop = shopOf({ zone: 'tent' }, { zone: 'booth-1' })
    expect(added(shop)).toBe('tent')
    expect(knownZones(shop.state)).toEqual(['tent', 'booth-1'])
    shop.do('SaveZone', { zone: 'tent', name: 'Tent', inUse: false })
    // While a panel stands there it is still to be seen.
    expect(knownZones(shop.state)).toEqual(['tent', 'booth-1'])
    shop.at(1).do('MovePanel', { panel: 'DDDD2222', zone: 'booth-1' })
    expect(knownZones(shop.state)).toEqual(['booth-1'])
    expect(added(shop.at(2), 'DDDD3333')).toBe('booth-1')
    shop.do('SaveZone', { zone: 'tent', name: 'Tent', inUse: true })
    expect(knownZones(shop.state)).toContain('tent')
  })

  test('stands where somebody read the air, before anything was saved', () => {
    const shop = shopOf()
    shop.do('ReadClimate', { zone: 'garage', airC: 20, rh: 0.5 })
    expect(added(shop)).toBe('garage')
    // A zone that was saved goes before one that only has readings.
    shop.do('SaveZone', { zone: 'booth-1' })
    expect(added(shop, 'DDDD3333')).toBe('booth-1')
  })

  test('of several zones stands where the last panel came to', () => {
    const shop = shopOf({ zone: 'booth-1' }, { zone: 'booth-2' }, { zone: 'prep', sprayed: false })
    expect(defaultZone(shop.state)).toBe('booth-1')
    shop.at(1)
    added(shop, 'DDDD3333', 'booth-2')
    shop.at(2)
    added(shop, 'DDDD4444', 'prep')
    shop.at(3)
    expect(added(shop)).toBe('booth-2')
  })

  test('is not moved when another zone is saved', () => {
    const shop = shopOf()
    expect(added(shop)).toBe('booth')
    shop.do('SaveZone', { zone: 'booth-1' })
    expect(shop.state.things.panel.DDDD2222?.context.stays.map(({ zone }) => zone)).toEqual([
      'booth',
    ])
  })
})
