import { describe, expect, test } from 'vitest'
import { lanesOf } from '../../kiosk/lanes/lanes.ts'
import { passActs } from '../../kiosk/lanes/pass.ts'
import { WAYS, wayActs } from '../../kiosk/lanes/waysOut.ts'
import { en } from '../../kiosk/words/all.ts'
import { isNoted, type Problem, REFUSALS, type RefusalCode } from '../../machines/refusals.ts'
import {
  addPanel,
  BASE_CLEAR,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_CURE,
  CLEAR_ONLY,
  coat,
  DOOR,
  JOB,
  mix,
  refusalOf,
  shopWith,
  vanWith,
} from '../support/given.ts'
import { REASONS } from '../support/reasons.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import type { Shop } from '../support/shop.ts'

/** Every refusal has a way out as its first key, and an override as its second or a reason why not. */

const CODES = Object.keys(REFUSALS) as RefusalCode[]
const mayOverride = (code: RefusalCode) => REFUSALS[code].overridableBy !== null

/** What is not overridden, and why. */
const WHY_NOT: Partial<Record<RefusalCode, string>> = {
  unknownThing: 'nothing is there that it could happen to',
  idTaken: 'two things of one id cannot be told apart',
  closed: 'the job is reopened instead',
  coatRunning: 'one panel takes one coat at a time',
  wrongStep: 'the route is changed or the step skipped, each with a reason of its own',
  heatInZone: 'WAC 296-24-37019(4)(b): drying apparatus and spraying exclude each other',
  panelUnknown: 'it is only marked',
  jobUnknown: 'it is only marked',
  cupUnknown: 'what is not known has no clock',
  cupEmptied: 'nothing is in it',
  wrongProduct: 'the step is changed instead',
  noPerson: 'a touch says who it is',
  tooManyCoats: 'it is only marked',
  filmOver: 'it is only marked',
  openFade: 'it is only marked',
  forcedNoFigure: 'it is only marked',
  cleanerOver: 'it is only marked',
  optionOutside: 'it is only marked',
  gunEmpty: 'nothing is in it',
  nothingThere: 'there is nothing to look at',
  noRoom: 'one of the two amounts was typed wrong',
  neverCures: 'it never becomes hard: it is stripped, or the entry voided',
  noSuchCure: 'the sheet has no figures for it',
  overheated: 'it is only marked',
  curing: 'the cure is ended first',
  notCuring: 'nothing runs that could be ended',
  routeInUse: 'what was done cannot be planned away',
  jobState: 'it is so already, or the other command leads there',
  bellNotDue: 'nothing rings',
  snoozeNotAllowed: 'an alarm that sleeps for long is none',
  entryInUse: 'what rests on it would hang in the air',
}

/** What may be overridden and has no key of a lane as its way out: its sentence names what is open. */
const BY_SENTENCE: readonly RefusalCode[] = ['panelsOpen', 'deviationsOpen']

describe('every code', () => {
  test('may be overridden, or says why not', () => {
    expect(Object.keys(WHY_NOT).sort()).toEqual(CODES.filter((code) => !mayOverride(code)).sort())
  })

  test.each(CODES)(
    '%s: a mark stops nothing, and what stops has its way out before the override',
    (code) => {
      const isMark =
        isNoted({ code } as Problem) || code === 'panelUnknown' || code === 'jobUnknown'
      expect(WAYS[code].by === 'mark').toBe(isMark)
      if (mayOverride(code)) expect(WAYS[code].by === 'sentence').toBe(BY_SENTENCE.includes(code))
    },
  )

  test.each(CODES.filter((code) => WAYS[code].by === 'wait'))(
    '%s clears by itself and says when',
    (code) => {
      expect(refusalOf(REASONS[code]()).clearsAt).toBeGreaterThan(0)
    },
  )
})

const clearStart = { panels: [DOOR], cup: CLEAR_CUP }
const cleared = (more: object = {}) =>
  coat(vanWith(CLEAR_ONLY, [BASE, { ...CLEAR, ...more }]), CLEAR_CUP, 1, 5)
const curing = (mode: string): Shop => {
  const shop = coat(coat(vanWith(CLEAR_CURE), CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
  shop.at(30).do('StartCure', { panels: [DOOR], mode })
  return shop
}
function denibbed(): Shop {
  const shop = shopWith()
  shop.do('OpenJob', {
    job: JOB,
    title: 'Van',
    colours: [{ key: 'body', code: 'S-1', kind: 'metallic' }],
  })
  addPanel(shop, [{ ...BASE_CLEAR[0], colour: 'body', coats: { planned: 1 } }, BASE_CLEAR[1]])
  mix(shop, BASE_CUP, BASE.sheet, { job: JOB, colour: 'body' })
  coat(mix(shop, CLEAR_CUP, CLEAR.sheet), BASE_CUP, 1, 3)
    .at(20)
    .do('DenibPanel', { panel: DOOR, grit: 1500 })
  return shop
}
const spraying = (): Shop => {
  const shop = vanWith(CLEAR_ONLY)
  shop.do('StartCoat', clearStart)
  return shop
}

/** A shop, the command that it refuses, and the key that leads out of that. */
const CASES: readonly (readonly [RefusalCode, () => Shop, string, object, string])[] = [
  ['coatRunning', spraying, 'StartCoat', clearStart, 'finish'],
  ['windowShut', () => cleared().at(485), 'StartCoat', clearStart, 'abrade-500'],
  ['lookFirst', () => cleared({ flashBy: 'appearance' }).at(16), 'StartCoat', clearStart, 'matt'],
  ['wantsBase', denibbed, 'StartCoat', clearStart, `more-${BASE_CUP}`],
  ['tooFewCoats', () => cleared().at(16), 'ReachCover', { panel: DOOR }, `start-${CLEAR_CUP}`],
  ['coatsMissing', () => cleared().at(16), 'PassPanel', { panel: DOOR }, `start-${CLEAR_CUP}`],
  ['cureNotOver', () => curing('bake').at(40), 'PassPanel', { panel: DOOR }, 'at'],
  ['curing', () => curing('air').at(40), 'AbradePanel', { panel: DOOR, grit: 800 }, 'end'],
]

test('a look that is due is answered by what was looked for, not by everything that can be seen', () => {
  const shop = cleared({ flashBy: 'appearance' }).at(16)
  const lanes = lanesOf(shop.state, shop.now).filter(({ panel }) => panel === DOOR)
  const acts = passActs(shop.state, lanes, en, shop.now)
  expect(acts.filter(({ type }) => type === 'InspectCoat').length).toBeGreaterThan(2)
  expect(wayActs('lookFirst', acts).map(({ key }) => key)).toEqual(['matt', 'notYet'])
})

test.each(CASES)(
  '%s: its first key is there, and does what leads out',
  (code, past, type, data, key) => {
    const shop = past()
    expect(refusalOf(shop.send(type, data)).code).toBe(code)
    const lanes = lanesOf(shop.state, shop.now).filter(({ panel }) => panel === DOOR)
    const [first] = wayActs(code, passActs(shop.state, lanes, en, shop.now))
    expect(first?.key).toBe(key)
    const answer = shop.send(first?.type ?? '', first?.datas[0])
    expect('drafts' in answer, JSON.stringify(answer)).toBe(true)
  },
)
