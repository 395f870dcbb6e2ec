import { describe, expect, test } from 'vitest'
import { actsOf } from '../../kiosk/lanes/acts.ts'
import { bakesBelow } from '../../kiosk/lanes/bakesBelow.ts'
import { chipOf } from '../../kiosk/lanes/chip.ts'
import { lanesOf } from '../../kiosk/lanes/lanes.ts'
import { bellSaid } from '../../kiosk/lanes/nextUp.ts'
import { passActs } from '../../kiosk/lanes/pass.ts'
import { es } from '../../kiosk/words/all.es.ts'
import { en } from '../../kiosk/words/all.ts'
import { deadlines } from '../../machines/deadlines.ts'
import { CLEAR_CUP, CLEAR_CURE, coat, DOOR, JOB, refusalOf, vanWith } from '../support/given.ts'
import { CLEAR } from '../support/sheets.ts'
import { minute, type Shop } from '../support/shop.ts'

/** What the Wall offers of heat, and what it says of a part that is hot or too cold. */

const TWO = {
  cure: {
    air: [{ atC: 20, minutes: 720 }],
    bake: [
      { tempC: 60, minutes: 30, basis: 'part', flashBefore: 10 },
      { tempC: 80, minutes: 15, basis: 'air', flashBefore: 10 },
    ],
    infrared: { minutes: 12, flashBefore: 5 },
  },
}

const OTHER_JOB = 'TAXJ2222'
const OTHER_DOOR = 'TAXH2222'

/** Two coats of clear, the last finished at minute 15. */
function cleared(more: object = TWO): Shop {
  const shop = vanWith(CLEAR_CURE, [{ ...CLEAR, ...more }])
  return coat(coat(shop, CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
}
const lane = (shop: Shop, min: number) => {
  const [only] = lanesOf(shop.state, minute(min))
  if (!only) throw new Error('no lane')
  return only
}
const labels = (shop: Shop, min: number, words = en) =>
  actsOf(shop.state, lane(shop, min), words, minute(min))
    .filter(({ type }) => type === 'StartCure' || type === 'ReadPart')
    .map(({ label }) => label)
const chip = (shop: Shop, min: number) => {
  const { big, small } = chipOf(lane(shop, min), en, minute(min))
  return [big, small]
}

describe('what is offered of heat', () => {
  test('a bake by what reaches its points: a part is five degrees behind the air', () => {
    expect(labels(cleared(), 30)).toEqual([
      'START BAKE 65 °C',
      'START BAKE 80 °C',
      'START BAKE, SETTING NOT KNOWN',
      'START INFRARED',
      'START AIR CURE',
    ])
  })

  const main = (shop: Shop, min: number) =>
    actsOf(shop.state, lane(shop, min), en, minute(min)).filter(({ isMain }) => isMain)

  test.each([[70], [null]])(
    'a bake is not the expected key until the limit of each vehicle in the zone is entered: %s',
    (maxC) => {
      const shop = cleared().at(30)
      expect(main(shop, 30)).toEqual([])
      // Another vehicle in the booth stands in the same heat.
      shop.do('OpenJob', { job: OTHER_JOB, title: 'Taxi' })
      shop.do('AddPanel', {
        panel: OTHER_DOOR,
        job: OTHER_JOB,
        name: 'Hood',
        operation: 'repair',
        route: CLEAR_CURE,
      })
      shop.do('SetHeatLimit', { job: JOB, maxC })
      expect(main(shop, 30)).toEqual([])
      shop.do('SetHeatLimit', { job: OTHER_JOB, maxC: null })
      expect(main(shop, 30).map(({ key }) => key)).toEqual(['bake'])
    },
  )

  test('where the sheet has no bake no limit is asked for', () => {
    const shop = cleared({ cure: { air: TWO.cure.air, infrared: TWO.cure.infrared } })
    expect(main(shop, 30).map(({ key }) => key)).toEqual(['infrared'])
  })

  test('what was set last comes first, in the shop’s unit', () => {
    const shop = cleared().at(30)
    shop.do('StartCure', { panels: [DOOR], mode: 'bake', setC: 70 })
    shop.at(40).do('EndCure', { panels: [DOOR] })
    expect(labels(shop, 41)[0]).toBe('START BAKE 70 °C')
    shop.do('ChangeSettings', { units: { temperature: 'F' } })
    expect(labels(shop, 41)[0]).toBe('START BAKE 158 °F')
  })

  test('the key says what it asserts', () => {
    const baking = (setC?: number) => {
      const shop = cleared().at(30)
      shop.do('StartCure', { panels: [DOOR], mode: 'bake', ...(setC ? { setC } : {}) })
      return shop
    }
    expect(labels(baking(65), 31)).toEqual(['PART AT 60 °C: 30 MIN'])
    expect(labels(baking(80), 31)).toEqual(['AIR AT 80 °C: 15 MIN'])
    expect(labels(baking(), 31)).toEqual(['PART AT 60 °C: 30 MIN'])
    expect(labels(baking(65), 31, es)).toEqual(['PIEZA A 60 °C: 30 MIN'])
  })

  test('a bake that is too hot for a vehicle is offered at what that takes', () => {
    const shop = cleared().at(30)
    shop.do('SetHeatLimit', { job: JOB, maxC: 60 })
    const refusal = refusalOf(shop.send('StartCure', { panels: [DOOR], mode: 'bake', setC: 65 }))
    const acts = passActs(shop.state, [lane(shop, 30)], en, minute(30))
    const [lower] = bakesBelow(acts, refusal, en, undefined)
    expect([lower?.label, lower?.datas]).toEqual([
      'START BAKE 60 °C',
      [{ panels: [DOOR], mode: 'bake', setC: 60 }],
    ])
  })

  test('oven and lamp ring in their own words', () => {
    const { state, now } = cleared()
    const heat = deadlines(state).filter(({ bell }) => bell === 'mayGoToHeat')
    expect(heat.map((due) => bellSaid(state, due, en, now))).toEqual([
      { about: 'Rear door', says: 'ready for infrared' },
      { about: 'Rear door', says: 'ready to bake' },
    ])
  })
})

describe('the chip', () => {
  test('counts until a part is cool', () => {
    const shop = cleared().at(30)
    shop.do('StartCure', { panels: [DOOR], mode: 'bake', setC: 65 })
    shop.at(31).do('ReadPart', { panel: DOOR })
    shop.at(61).do('EndCure', { panels: [DOOR] })
    expect(chip(shop, 71)).toEqual(['20:00', 'until cool'])
    expect(chip(shop, 91)).toEqual(['INSPECT', 'and pass'])
    shop.at(72).do('ReadPart', { panel: DOOR, partC: 30 })
    expect(chip(shop, 73)).toEqual(['INSPECT', 'and pass'])
  })

  test('says that a cure stands still in the cold', () => {
    const shop = cleared().at(30)
    shop.do('StartCure', { panels: [DOOR], mode: 'air' })
    shop.do('ReadClimate', { zone: 'booth', airC: 14, rh: 0.5 })
    expect(chip(shop, 31)).toEqual(['TOO COLD', 'its sheet: no cure in this air'])
    shop.at(32).do('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
    expect(chip(shop, 33)[1]).toBe('of cure left')
  })
})
