import { describe, expect, test } from 'vitest'
import { readDraft } from '../../kiosk/forms/useDraft.ts'
import {
  backSteps,
  cureModes,
  isAsked,
  isCureDue,
  jobsOf,
  panelsOf,
  prepDue,
  stepsOf,
} from '../../kiosk/jobs/panelView.ts'
import { fitted } from '../../kiosk/jobs/photo.ts'
import {
  addPanelData,
  changed,
  type Draft,
  newPanel,
  panelsSchema,
  proposalsFor,
  routeFor,
  toggled,
  typedNumber,
  without,
} from '../../kiosk/jobs/plan.ts'
import { knownZones } from '../../kiosk/lanes/zones.ts'
import { deadlines } from '../../machines/deadlines.ts'
import { currentSheets } from '../../machines/plan/route.ts'
import { type BodyType, bodyTypes } from '../../machines/trade/panels.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { minute, Shop } from '../support/shop.ts'

const JOB = 'VANREAR2'
const SIDE = 'RRSDE222'
const DOOR = 'RRDDR222'
const CUP = 'BASE3W9K'
const van = bodyTypes.find(({ id }) => id === 'van') as BodyType

function vanShop(): Shop {
  const shop = new Shop()
  for (const sheet of [BASE, CLEAR]) shop.do('SaveSheet', { sheet })
  shop.do('OpenJob', { job: JOB, title: 'Delivery van', colours: [{ key: 'body', code: 'W1' }] })
  return shop
}

const chosen = (on: string, operation: 'repair' | 'blend' | 'new-part' = 'repair') =>
  newPanel({
    on,
    id: on === 'right-rear-side' ? SIDE : DOOR,
    name: on,
    operation,
    area: '3',
    colour: 'body',
    zone: 'booth',
  })
const EMPTY: Draft = { body: 'van', panels: [], other: '' }

describe('panels that are being chosen', () => {
  test('go in with one touch and out with the next', () => {
    const once = toggled(EMPTY, 'right-rear-side', () => chosen('right-rear-side'))
    expect(once.panels.map(({ on }) => on)).toEqual(['right-rear-side'])
    expect(toggled(once, 'right-rear-side', () => chosen('right-rear-side'))).toEqual(EMPTY)
    expect(without(once, SIDE)).toEqual(EMPTY)
  })

  test('propose their neighbors for a blend, and none that the job has', () => {
    const draft = toggled(EMPTY, 'right-rear-side', () => chosen('right-rear-side'))
    expect(proposalsFor(van, draft, [])).toContain('right-rear-door')
    const inJob = [{ on: 'right-rear-door', operation: 'blend' as const }]
    expect(proposalsFor(van, draft, inJob)).not.toContain('right-rear-door')
    // What is in the job already asks for its neighbors too.
    expect(proposalsFor(van, EMPTY, [{ on: 'hood', operation: 'repair' }])).toContain(
      'left-front-fender',
    )
  })

  test('are sent as they were changed, and the shop takes them', () => {
    const shop = vanShop()
    const sheets = currentSheets(shop.state)
    const draft = toggled(EMPTY, 'right-rear-side', () => chosen('right-rear-side'))
    const [panel] = changed(draft, SIDE, { area: '2,5', substrate: 'steel', zone: 'bay-2' }).panels
    if (!panel) throw new Error('no panel')
    shop.do('AddPanel', addPanelData(JOB, panel, sheets))
    const [view] = panelsOf(shop.state, JOB)
    expect(view?.panel).toMatchObject({ areaM2: 2.5, substrate: 'steel', name: 'right-rear-side' })
    expect(view?.panel.route.map(({ stage }) => stage)).toEqual([
      'prep',
      'base',
      'clear',
      'cure',
      'polish',
    ])
    expect(view?.panel.route[1]).toMatchObject({ sheet: BASE.sheet, colour: 'body' })
    expect(knownZones(shop.state)).toEqual(['bay-2'])
  })

  test('with an area that is not a number are refused by a sentence that names it', () => {
    const shop = vanShop()
    const panel = { ...chosen('hood'), area: 'two' }
    expect(() => shop.do('AddPanel', addPanelData(JOB, panel, currentSheets(shop.state)))).toThrow(
      'data.areaM2: "two" won\'t work. Use a number above 0',
    )
    expect(typedNumber('1,25')).toBe(1.25)
    expect(typedNumber('1,250.5')).toBe('1,250.5')
  })

  test('have the usual route of their operation until it is changed', () => {
    const sheets = currentSheets(vanShop().state)
    const panel = chosen('right-rear-door', 'blend')
    expect(routeFor(panel, sheets)[1]).toMatchObject({ stage: 'base', face: 'spot' })
    const own = [{ stage: 'polish', face: 'whole' }] as const
    expect(routeFor({ ...panel, route: [...own] }, sheets)).toEqual(own)
  })

  test('are found again after a reload, and a form of another build is not', () => {
    const draft = toggled(EMPTY, 'hood', () => chosen('hood'))
    const store = (text: string | null) => ({ getItem: () => text })
    expect(readDraft(store(JSON.stringify(draft)), 'x', panelsSchema)).toEqual(draft)
    for (const text of [
      null,
      '{',
      '[]',
      '{"body":"van"}',
      '{"body":"van","other":"","panels":[{}]}',
    ])
      expect(readDraft(store(text), 'x', panelsSchema)).toBeNull()
  })
})

/** Two panels: one with two preparations in a row, one that is blended. */
function inWork(): Shop {
  const shop = vanShop()
  const rest = [
    { stage: 'base', sheet: BASE.sheet },
    { stage: 'clear', sheet: CLEAR.sheet },
    { stage: 'cure', sheet: CLEAR.sheet },
    { stage: 'polish' },
  ]
  const panel = { job: JOB, operation: 'repair', areaM2: 1 }
  const prep = { stage: 'prep' }
  shop.do('AddPanel', { ...panel, panel: SIDE, name: 'Side', route: [prep, prep, ...rest] })
  shop.do('AddPanel', { ...panel, panel: DOOR, name: 'Door', route: [prep, ...rest] })
  return shop
}
const view = (shop: Shop, id = SIDE) => {
  const found = panelsOf(shop.state, JOB).find((one) => one.id === id)
  if (!found) throw new Error(`no panel ${id}`)
  return found
}

describe('a job in work', () => {
  test('has its preparation done with one touch: every step of it that is due, and each is accepted', () => {
    const shop = inWork()
    const due = prepDue(panelsOf(shop.state, JOB))
    expect(due).toEqual([
      { panel: SIDE, step: 0 },
      { panel: SIDE, step: 1 },
      { panel: DOOR, step: 0 },
    ])
    for (const one of due) shop.do('DoPrepStep', one)
    expect(prepDue(panelsOf(shop.state, JOB))).toEqual([])
    expect(stepsOf(view(shop)).map(({ status }) => status)).toEqual([
      'done',
      'done',
      'now',
      'open',
      'open',
      'open',
    ])
  })

  test('offers every step up to the one that is due for sending back, and each is accepted', () => {
    const shop = inWork()
    for (const one of prepDue(panelsOf(shop.state, JOB))) shop.do('DoPrepStep', one)
    shop.do('MixCup', { cup: CUP, sheet: BASE.sheet, totalMl: 300 })
    shop.do('StartCoat', { panels: [SIDE], cup: CUP })
    shop.at(2).do('FinishCoat', { panels: [SIDE] })
    const steps = backSteps(view(shop).panel)
    expect(steps).toEqual([2, 1, 0])
    for (const toStep of steps)
      shop.fork().do('SendBackPanel', { panel: SIDE, toStep, done: 0, reason: 'CLIMATE' })
    expect(shop.refused('SendBackPanel', { panel: SIDE, toStep: 3, done: 0, reason: 'X' })).toBe(
      'wrongStep',
    )
    expect(stepsOf(view(shop))[2]).toMatchObject({ status: 'now', coatsOn: 1 })
  })

  test('offers the cures that its product has, once they are due', () => {
    const shop = inWork()
    expect(isCureDue(view(shop))).toBe(false)
    // Nothing is on: the sheet that the route names says which.
    expect(cureModes(shop.state, view(shop).panel)).toEqual(['bake', 'air'])
    for (const one of prepDue(panelsOf(shop.state, JOB))) shop.do('DoPrepStep', one)
    for (const step of [2, 3]) shop.do('SkipStep', { panel: SIDE, step, reason: 'CUSTOMER_CHANGE' })
    expect(isCureDue(view(shop))).toBe(true)
    shop.do('StartCure', { panels: [SIDE], mode: 'air' })
    expect(isCureDue(view(shop))).toBe(false)
  })

  test('is listed while it is open, then among those closed lately', () => {
    const shop = inWork()
    shop.do('PauseJob', { job: JOB })
    expect(jobsOf(shop.state)).toMatchObject({ open: [{ id: JOB, isPaused: true }], closed: [] })
    shop.do('CloseJob', { job: JOB, override: { reason: 'CUSTOMER_CHANGE' } })
    expect(jobsOf(shop.state)).toMatchObject({ open: [], closed: [{ id: JOB }] })
  })

  test('asks for a held press when it is closed under a bell', () => {
    const shop = inWork()
    for (const one of prepDue(panelsOf(shop.state, JOB))) shop.do('DoPrepStep', one)
    shop.do('MixCup', { cup: CUP, sheet: BASE.sheet, totalMl: 300 })
    shop.do('StartCoat', { panels: [SIDE], cup: CUP })
    shop.at(2).do('FinishCoat', { panels: [SIDE] })
    // The sheet's flash between coats: 8 min.
    const asked = (min: number) => isAsked(deadlines(shop.state), JOB, minute(min))
    expect(asked(9)).toBe(false)
    expect(asked(10)).toBe(true)
  })
})

describe('a photo', () => {
  test('is made at most 2000 px long, and never larger than it was', () => {
    expect(fitted(4000, 3000)).toEqual({ width: 2000, height: 1500 })
    expect(fitted(3000, 4000)).toEqual({ width: 1500, height: 2000 })
    expect(fitted(800, 600)).toEqual({ width: 800, height: 600 })
    expect(fitted(40_000, 2)).toEqual({ width: 2000, height: 1 })
  })
})
