import { describe, expect, test } from 'vitest'
import { lanesOf } from '../../../kiosk/lanes/lanes.ts'
import { passActs } from '../../../kiosk/lanes/pass.ts'
import { en } from '../../../kiosk/words/all.ts'
import {
  addPanel,
  coat,
  DOOR,
  evicted,
  JOB,
  mix,
  outsideOf,
  queued,
  refusalOf,
  said,
  shopWith,
  startCoat,
} from '../../support/given.ts'
import { BASE } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

/** A hand-tinted cup has a variant of its own: over its coat the plain mix of the same code is another color. */

const [PLAIN, TINTED, AGAIN] = ['BBBB2222', 'TTTT2222', 'VVVV2222']
const MANY = { least: 1, planned: 4, most: 6 }

/** A door in silver, a plain cup and one tinted T1, both mixed before anything was sprayed. */
function job(): Shop {
  const shop = shopWith([BASE])
  const colours = [{ key: 'body', code: 'S-1', kind: 'metallic' }]
  shop.do('OpenJob', { job: JOB, title: 'Van', colours })
  addPanel(shop, [{ stage: 'base', sheet: BASE.sheet, colour: 'body', coats: MANY }])
  const of = { job: JOB, colour: 'body' }
  mix(shop, PLAIN, BASE.sheet, of)
  return mix(shop, TINTED, BASE.sheet, { ...of, tint: 'T1' })
}
/** The same with a coat of one of the cups on. */
const sprayed = (cup: string): Shop => coat(job(), cup, 1, 3).at(20)
const override = { reason: 'the same by eye' }

describe('over a tinted coat', () => {
  test('the plain mix of the same code is said to be another color, and goes on with a reason', () => {
    const shop = sprayed(TINTED)
    const refusal = refusalOf(startCoat(PLAIN)(shop))
    expect([refusal.code, refusal.overridable]).toEqual(['wrongColour', true])
    expect(refusal.message).toBe('Rear door: It needs color body S-1 T1; the cup holds body S-1.')
    const [entry] = shop.fork().do('StartCoat', { panels: [DOOR], cup: PLAIN, override })
    expect(entry?.override?.codes).toEqual(['wrongColour'])
    expect(said(startCoat(TINTED)(shop))).toBe('done')
  })

  test('once it went on with a reason it is what the next coat goes over', () => {
    const shop = sprayed(TINTED)
    coat(shop, PLAIN, 20, 21, { override })
    expect(said(startCoat(PLAIN)(shop.at(40)))).toBe('done')
  })

  test('a coat that was finished from the plain mix is of that one', () => {
    const shop = job()
    shop.at(1).do('StartCoat', { panels: [DOOR], cup: TINTED })
    shop.at(3).do('FinishCoat', { panels: [DOOR], cup: PLAIN })
    expect(said(startCoat(PLAIN)(shop.at(20)))).toBe('done')
  })

  test('a variant that was made since is meant, one that was made before is not', () => {
    const shop = job()
    mix(shop, AGAIN, BASE.sheet, { job: JOB, colour: 'body', tint: 'T2' })
    coat(shop, TINTED, 1, 3)
    expect(said(startCoat(AGAIN)(shop.at(20)))).toBe('wrongColour')
    const later = sprayed(TINTED)
    later.do('PourCup', {
      cup: AGAIN,
      from: [{ cup: TINTED, ml: 100 }],
      add: [{ role: 'tint', name: 'T2', ml: 2 }],
    })
    expect(said(startCoat(AGAIN)(later.fork()))).toBe('done')
    coat(later, AGAIN, 20, 21)
    expect(said(startCoat(TINTED)(later.at(40)))).toBe('wrongColour')
  })

  test('also when the tinted cup is long gone, and in the middle of a coat', () => {
    const before = sprayed(TINTED)
    before.do('EmptyCup', { cup: TINTED, how: 'used' })
    const shop = evicted(before, 3 * 1_440).at(3 * 1_440)
    expect(shop.state.things.cup[TINTED]).toBeUndefined()
    mix(shop, AGAIN, BASE.sheet, { job: JOB, colour: 'body' })
    shop.do('AbradePanel', { panel: DOOR, grit: 800 })
    expect(said(startCoat(AGAIN)(shop))).toBe('wrongColour')
    const running = job()
    running.at(1).do('StartCoat', { panels: [DOOR], cup: TINTED })
    const on = (cup: string) => running.fork().send('ContinueCoat', { panels: [DOOR], cup })
    expect([said(on(PLAIN)), said(on(TINTED))]).toEqual(['wrongColour', 'done'])
  })

  test('what comes late is marked, and a finish alone as well', () => {
    const shop = sprayed(TINTED).at(200)
    const [start] = queued(shop, 20, 'StartCoat', { panels: [DOOR], cup: PLAIN })
    expect(outsideOf(start)).toContain('wrongColour')
    const [finish] = sprayed(TINTED).do('FinishCoat', { panels: [DOOR], cup: PLAIN })
    expect(outsideOf(finish)).toContain('wrongColour')
  })
})

describe('over a plain coat, or none', () => {
  test('a tinted cup needs no reason: that is what it was tinted for', () => {
    expect(said(startCoat(TINTED)(sprayed(PLAIN)))).toBe('done')
    expect(said(startCoat(TINTED)(job()))).toBe('done')
    expect(said(startCoat(PLAIN)(job()))).toBe('done')
  })

  test('what was sent back to be sprayed anew asks nothing of the coats before', () => {
    const shop = sprayed(TINTED)
    shop.do('SendBackPanel', { panel: DOOR, toStep: 0, done: 0, reason: 'off' })
    expect(said(startCoat(PLAIN)(shop))).toBe('done')
  })
})

test('the lane names the tint, and its first key is the cup of that tint', () => {
  const keys = (shop: Shop) => {
    const lanes = lanesOf(shop.state, shop.now).filter(({ panel }) => panel === DOOR)
    return passActs(shop.state, lanes, en, shop.now)
      .filter(({ key }) => key.startsWith('start-'))
      .map(({ key, small, isMain }) => [key, small, isMain])
  }
  expect(keys(sprayed(TINTED))).toEqual([
    [`start-${TINTED}`, 'from cup TTTT · T1', true],
    [`start-${PLAIN}`, 'from cup BBBB', false],
  ])
  expect(keys(sprayed(PLAIN))[0]?.[0]).toBe(`start-${PLAIN}`)
})
