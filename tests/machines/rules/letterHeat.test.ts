import { describe, expect, test } from 'vitest'
import { inductionEndsAt } from '../../../machines/cup/ends.ts'
import { deadlines } from '../../../machines/deadlines.ts'
import { activatedIn, limitsIn } from '../../../machines/panel/inHeat.ts'
import {
  addPanel,
  air,
  around,
  CLEAR_CUP,
  CLEAR_CURE,
  coat,
  cupOf,
  DOOR,
  JOB,
  minuteOf,
  mix,
  refusalOf,
  said,
  shopWith,
  WING,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

/** What the rules say of heat and the room, where no other test says it to the letter. */

const OTHER = 'KKKK3333'
const FRESH = 'FFFF2222'
const REASON = { reason: 'asked for' }

/** A door of the van with its second clear on, at minute 15 unless told, and a side of another job in the same booth. */
function twoJobs(clear: object = {}, secondMin = 13): Shop {
  const shop = addPanel(shopWith([{ ...CLEAR, ...clear }, BASE]), CLEAR_CURE)
  mix(shop, CLEAR_CUP, CLEAR.sheet)
  shop.do('OpenJob', { job: OTHER, title: 'Another van' })
  const side = { job: OTHER, panel: WING, name: 'Side', operation: 'clear-only', zone: 'booth' }
  shop.do('AddPanel', { ...side, route: CLEAR_CURE })
  coat(coat(shop, CLEAR_CUP, 1, 3), CLEAR_CUP, secondMin, secondMin + 2)
  for (const job of [JOB, OTHER]) shop.do('SetHeatLimit', { job, maxC: null })
  return shop
}
const onSide = (shop: Shop, fromMin: number, toMin: number) =>
  coat(shop, CLEAR_CUP, fromMin, toMin, { panels: [WING] })
const heat =
  (more: object = {}, by?: string) =>
  (shop: Shop) =>
    shop.send('StartCure', { panels: [DOOR], mode: 'bake', setC: 65, ...more }, by ? { by } : {})

test('another job’s panel that still flashes holds heat up as well', () => {
  const shop = onSide(twoJobs(), 28, 30)
  expect(around(shop, 40, heat())).toEqual(['wetInZone', 'done'])
})

test('what stands in the heat is every job of the zone, and its cups and guns with activator in them', () => {
  const shop = twoJobs()
  shop.do('SetHeatLimit', { job: OTHER, maxC: 60 })
  expect(limitsIn(shop.state, 'booth')).toEqual([
    { job: JOB, title: 'Delivery van, rear corner', limitC: null },
    { job: OTHER, title: 'Another van', limitC: 60 },
  ])
  mix(shop.at(16), FRESH, CLEAR.sheet)
  mix(shop, 'BBBB3333', BASE.sheet, { zone: 'booth' })
  expect(activatedIn(shop.state, 'booth')).toEqual([`2K clear, 2:1 ${CLEAR_CUP}`])
  shop.do('LoadGun', { gun: 'gun-1', cup: FRESH })
  expect(activatedIn(shop.state, 'booth')).toEqual([
    `2K clear, 2:1 ${CLEAR_CUP}`,
    `2K clear, 2:1 ${FRESH}`,
    'gun-1',
  ])
  shop.at(17).do('MovePanel', { panel: WING, zone: 'bay', override: REASON })
  expect(limitsIn(shop.state, 'booth').map(({ job }) => job)).toEqual([JOB])
})

test('a part reading in a bake of two counts for the one that was read', () => {
  const shop = onSide(onSide(twoJobs(), 16, 17), 28, 29)
  shop.at(40).do('StartCure', { panels: [DOOR, WING], mode: 'bake', setC: 65 })
  shop.at(41).do('ReadPart', { panel: WING, partC: 61 })
  const over = deadlines(shop.state).filter(({ bell }) => bell === 'cureOver')
  expect(over.map(({ thing, dueAt }) => [thing.id, minuteOf(dueAt)])).toEqual([[WING, 71]])
})

describe('what was read of the air in a bake', () => {
  const flashBetween = [
    { atC: 20, minutes: 40 },
    { atC: 60, minutes: 4 },
  ]
  /** The side has a wet coat that ended at 54; the door is baked from 58 on, whether its setting is known or not. */
  const baking = (set: object): Shop => {
    const shop = onSide(
      air(twoJobs({ flashBetween, limits: {}, recoatWithin: 'unlimited' }, 44), 50, 20),
      53,
      54,
    )
    shop.at(58).do('StartCure', { panels: [DOOR], mode: 'bake', ...set, override: REASON })
    return shop
  }
  const readyAt = (shop: Shop) => {
    const bell = deadlines(shop.state).find(
      ({ bell, thing }) => bell === 'coatReady' && thing.id === WING,
    )
    return bell && minuteOf(bell.dueAt)
  }

  test.each([[{ setC: 65 }], [{}]])(
    'what was read of the air in a bake shortens the wait of no panel beside it',
    (set) => {
      const shop = baking(set)
      expect(readyAt(shop)).toBe(54 + 40)
      air(shop, 60, 60, 0.1)
      expect(readyAt(shop)).toBe(54 + 40)
      // Nor after its end, until the air is read again.
      shop.at(62).do('EndCure', { panels: [DOOR] })
      expect(readyAt(shop)).toBe(54 + 40)
      // From minute 64 on it is 60 °C in earnest: ten of forty minutes are over.
      expect(readyAt(air(shop, 64, 60, 0.1))).toBe(64 + 3)
    },
  )
})

test('what was read of the air in a bake shortens the induction of no cup beside it', () => {
  const induction = [
    { atC: 20, minutes: 40 },
    { atC: 60, minutes: 4 },
  ]
  const shop = air(twoJobs(), 28, 20).at(29)
  shop.do('SaveSheet', { sheet: { ...CLEAR, sheet: 'slow', induction, potLife: null } })
  mix(shop, FRESH, 'slow', { zone: 'booth' })
  shop.at(30).do('StartCure', { panels: [DOOR], mode: 'bake', setC: 65 })
  air(shop, 31, 60, 0.1)
  expect(minuteOf(inductionEndsAt(shop.state, cupOf(shop, FRESH)) ?? 0)).toBe(29 + 40)
})

describe('what only a lead goes on with', () => {
  const people = (shop: Shop): Shop => {
    shop.do('AddPerson', { person: 'ana', name: 'A. Painter', role: 'painter' })
    shop.do('AddPerson', { person: 'ben', name: 'B. Lead', role: 'lead' })
    return shop
  }
  const coats = (shop: Shop) => {
    shop.at(28).do('StartCoat', { panels: [WING], cup: CLEAR_CUP }, { by: 'ana' })
    shop.at(30).do('FinishCoat', { panels: [WING] }, { by: 'ana' })
    return shop.at(35)
  }

  test('only a lead goes on beside a standing flash, and above what a vehicle takes', () => {
    const wet = coats(people(twoJobs()))
    const hot = people(twoJobs()).at(40)
    hot.do('SetHeatLimit', { job: JOB, maxC: 60 })
    for (const [shop, code] of [
      [wet, 'wetInZone'],
      [hot, 'vehicleLimit'],
    ] as const) {
      const asked = refusalOf(heat({}, 'ben')(shop.fork()))
      expect([asked.code, asked.overridable, asked.needsLead]).toEqual([code, true, undefined])
      const painter = refusalOf(heat({}, 'ana')(shop.fork()))
      expect([painter.code, painter.overridable, painter.needsLead]).toEqual([code, false, true])
      expect(painter.message).toMatch(/Only a lead may go on, under their own name\.$/)
      expect(said(heat({ override: REASON }, 'ana')(shop.fork()))).toBe(code)
      expect(said(heat({ override: REASON })(shop.fork()))).toBe(code)
      expect(said(heat({ override: REASON }, 'ben')(shop.fork()))).toBe('done')
    }
  })

  test('of a shop without a lead anybody goes on with a reason', () => {
    const shop = twoJobs().at(40)
    shop.do('AddPerson', { person: 'ana', name: 'A. Painter', role: 'painter' })
    shop.do('SetHeatLimit', { job: JOB, maxC: 60 })
    expect(said(heat({ override: REASON }, 'ana')(shop))).toBe('done')
    shop.do('AddPerson', { person: 'ben', name: 'B. Lead', role: 'lead' })
    shop.do('RetirePerson', { person: 'ben' })
  })
})

test('a zone without a clearance time is found clear by a person, once the shop has any', () => {
  const shop = twoJobs().at(40)
  const clear = (by?: string) =>
    said(
      shop
        .fork()
        .send('ClearZone', { zone: 'booth', how: 'gauge' }, by === undefined ? {} : { by }),
    )
  expect(clear()).toBe('done')
  shop.do('AddPerson', { person: 'ana', name: 'A. Painter', role: 'painter' })
  expect([clear(), clear('ben'), clear('ana')]).toEqual(['noPerson', 'noPerson', 'done'])
})
