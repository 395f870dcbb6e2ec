import { describe, expect, test } from 'vitest'
import {
  addPanel,
  BASE_CLEAR,
  bells,
  CLEAR_CUP,
  CLEAR_ONLY,
  coat,
  DOOR,
  JOB,
  mix,
  refusalOf,
  said,
  shopWith,
  startCoat,
  stateOf,
  vanWith,
  WING,
} from '../../support/given.ts'
import { CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

const override = { reason: 'Collected unfinished' }
const cleared = (): Shop => coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 5)
const close = (shop: Shop): Shop => {
  shop.do('CloseJob', { job: JOB, override })
  return shop
}
const finished = (): Shop => {
  const shop = coat(cleared(), CLEAR_CUP, 15, 17)
  shop.do('PassPanel', { panel: DOOR })
  return shop
}

describe('closing a job', () => {
  test('is refused while panels are in work, and names them', () => {
    const shop = addPanel(cleared(), CLEAR_ONLY, { panel: WING, name: 'Side' })
    const refusal = refusalOf(shop.send('CloseJob', { job: JOB }))
    expect(refusal.message).toBe('Not every panel has passed: Rear door, Side.')
  })

  test('is done once all have passed or were removed', () => {
    const shop = addPanel(finished(), CLEAR_ONLY, { panel: WING, name: 'Side' })
    expect(said(shop.send('CloseJob', { job: JOB }))).toBe('panelsOpen')
    shop.do('RemovePanel', { panel: WING })
    expect(said(shop.send('CloseJob', { job: JOB }))).toBe('done')
    expect(stateOf(shop, 'job', JOB)).toBe('closed')
  })

  test.each<[string, object]>([
    ['StartCoat', { panels: [DOOR], cup: CLEAR_CUP }],
    ['FinishCoat', { panels: [DOOR] }],
    ['ContinueCoat', { panels: [DOOR], cup: CLEAR_CUP }],
    ['InspectCoat', { panel: DOOR, result: 'good' }],
    ['ReachCover', { panel: DOOR }],
    ['AbradePanel', { panel: DOOR, grit: 800 }],
    ['MovePanel', { panel: DOOR, zone: 'bay' }],
    ['StartCure', { panels: [DOOR], mode: 'air' }],
    ['ReadPart', { panel: DOOR, partC: 20 }],
    ['EndCure', { panels: [DOOR] }],
    ['PolishPanel', { panel: DOOR }],
    ['PassPanel', { panel: DOOR }],
    ['SendBackPanel', { panel: DOOR, toStep: 0, done: 0, reason: 'Run' }],
    ['SetRoute', { panel: DOOR, route: CLEAR_ONLY }],
    ['DoPrepStep', { panel: DOOR, step: 0 }],
    ['SkipStep', { panel: DOOR, step: 0, reason: 'Sound' }],
    ['RemovePanel', { panel: DOOR }],
    ['PauseJob', { job: JOB }],
    ['ResumeJob', { job: JOB }],
    ['CloseJob', { job: JOB }],
    ['MixCup', { cup: 'FFFF2222', sheet: CLEAR.sheet, totalMl: 100, job: JOB }],
    ['AddPanel', { job: JOB, panel: WING, name: 'Side', operation: 'repair', route: CLEAR_ONLY }],
  ])('takes no %s any more', (type, data) => {
    const shop = close(cleared())
    expect(said(shop.fork().send(type, data))).toBe('closed')
    shop.do('ReopenJob', { job: JOB })
    expect(said(shop.send(type, data))).not.toBe('closed')
  })

  test("calls nobody to its panels, but still says when its cups' pot life ends", () => {
    const kinds = bells(close(cleared()), 'coatReady', 'windowShut', 'potOver').map(([k]) => k)
    expect(new Set(kinds)).toEqual(new Set(['potOver']))
    const shop = close(cleared())
    expect(said(shop.send('EmptyCup', { cup: CLEAR_CUP, how: 'discarded' }))).toBe('done')
  })
})

describe('reopening a job', () => {
  test('brings back its panels in the same states', () => {
    const shop = close(cleared())
    shop.do('ReopenJob', { job: JOB })
    expect(bells(shop, 'coatReady')).toEqual([['coatReady', 15]])
    expect(said(startCoat(CLEAR_CUP)(shop.at(15)))).toBe('done')
  })

  test('is refused for a job that is open, and for one that is not known', () => {
    const shop = cleared()
    expect(refusalOf(shop.send('ReopenJob', { job: JOB })).message).toBe(
      'Delivery van, rear corner: The job is open; it must be closed.',
    )
    expect(said(shop.send('ReopenJob', { job: 'KKKK2222' }))).toBe('unknownThing')
  })
})

describe('pausing a job', () => {
  const PROMPTS = ['coatReady', 'look', 'mayGoToHeat', 'inductionOver', 'cureOver']
  const prompts = (shop: Shop) => bells(shop, ...PROMPTS).map(([kind]) => kind)
  const pause = (shop: Shop): Shop => {
    shop.do('PauseJob', { job: JOB })
    return shop
  }
  const resume = (shop: Shop): Shop => {
    shop.do('ResumeJob', { job: JOB })
    return shop
  }

  test('silences its prompts, and not its alarms', () => {
    const shop = cleared()
    const alarms = bells(shop).filter(([kind]) => !PROMPTS.includes(kind))
    pause(shop)
    expect(bells(shop)).toEqual(alarms)
    expect(bells(shop, 'windowClosing', 'windowShut')).toHaveLength(2)
    expect(prompts(resume(shop))).toEqual(['coatReady'])
  })

  test('moves no clock: flash goes on, and work may too', () => {
    const shop = pause(cleared())
    expect(said(startCoat(CLEAR_CUP)(shop.at(15 - 1)))).toBe('flashNotOver')
    expect(said(startCoat(CLEAR_CUP)(shop.at(15)))).toBe('done')
  })

  test('counts for a panel that is added meanwhile', () => {
    const shop = addPanel(pause(vanWith(CLEAR_ONLY)), CLEAR_ONLY, { panel: WING, name: 'Side' })
    coat(shop, CLEAR_CUP, 1, 5, { panels: [WING] })
    expect(prompts(shop)).toEqual([])
    expect(prompts(resume(shop))).toEqual(['coatReady'])
  })

  test('counts for a panel that is sent back meanwhile', () => {
    const shop = pause(finished())
    mix(shop.at(20), 'FFFF2222', CLEAR.sheet)
    shop.do('SendBackPanel', { panel: DOOR, toStep: 0, done: 1, reason: 'Run' })
    expect(prompts(shop)).toEqual([])
    expect(prompts(resume(shop))).toEqual(['coatReady'])
  })

  test("counts for its cups' prompts, not for those of other jobs", () => {
    const shop = shopWith([{ ...CLEAR, induction: [{ atC: 20, minutes: 20 }] }])
    addPanel(shop, CLEAR_ONLY)
    mix(shop, CLEAR_CUP, CLEAR.sheet, { job: JOB })
    mix(shop, 'FFFF2222', CLEAR.sheet)
    pause(shop)
    expect(prompts(shop)).toEqual(['inductionOver'])
    expect(bells(shop, 'potOver')).toHaveLength(2)
  })

  test('does not outlast the job: closed while paused, it is reopened awake', () => {
    const shop = close(pause(cleared()))
    shop.do('ReopenJob', { job: JOB })
    expect(prompts(shop)).toEqual(['coatReady'])
    expect(said(shop.send('PauseJob', { job: JOB }))).toBe('done')
  })

  test('is refused twice, and resuming what is not paused', () => {
    expect(said(pause(cleared()).send('PauseJob', { job: JOB }))).toBe('jobState')
    expect(said(cleared().send('ResumeJob', { job: JOB }))).toBe('jobState')
    expect(said(cleared().send('PauseJob', { job: 'KKKK2222' }))).toBe('unknownThing')
  })
})

describe('making things', () => {
  test.each<[string, object]>([
    ['OpenJob', { job: JOB, title: 'Another' }],
    ['AddPanel', { job: JOB, panel: DOOR, name: 'Side', operation: 'blend', route: BASE_CLEAR }],
    ['MixCup', { cup: CLEAR_CUP, sheet: CLEAR.sheet, totalMl: 100 }],
    ['PourCup', { cup: CLEAR_CUP, from: [{ cup: 'FFFF2222' }] }],
  ])('%s with an id that exists is refused', (type, data) => {
    const shop = mix(vanWith(CLEAR_ONLY), 'FFFF2222', CLEAR.sheet)
    const refusal = refusalOf(shop.send(type, data))
    expect([refusal.code, refusal.overridable]).toEqual(['idTaken', false])
    expect(refusal.message).toMatch(/^There is already a .*\. Use a new id\.$/)
  })

  test('a cup needs no color, and any will do where the job names none', () => {
    const cup = { cup: CLEAR_CUP, sheet: 'base-solvent', totalMl: 100, job: JOB }
    const shop = shopWith()
    shop.do('OpenJob', { job: JOB, title: 'Van', colours: [{ key: 'white', code: 'van white' }] })
    expect(said(shop.send('MixCup', cup))).toBe('done')
    expect(
      said(vanWith(CLEAR_ONLY).send('MixCup', { ...cup, cup: 'FFFF2222', colour: 'red' })),
    ).toBe('done')
  })

  test('a cup of a job has one of its colors', () => {
    const shop = shopWith()
    shop.do('OpenJob', { job: JOB, title: 'Van', colours: [{ key: 'white', code: 'van white' }] })
    const of = (colour: string) =>
      said(
        shop.fork().send('MixCup', {
          cup: CLEAR_CUP,
          sheet: 'base-solvent',
          totalMl: 100,
          job: JOB,
          colour,
        }),
      )
    expect([of('white'), of('grey')]).toEqual(['done', 'unknownThing'])
  })

  test('a command for an unknown job is not offered one that was opened by mistake', () => {
    const shop = shopWith()
    const [opened] = shop.do('OpenJob', { job: JOB, title: 'Van' })
    shop.do('OpenJob', { job: 'KKKK2222', title: 'Another van' })
    const note = () => refusalOf(shop.send('AddNote', { job: 'ZZZZ2222', text: 'Scratch' })).message
    expect(note()).toMatch(/Use one of JJJJ2222, KKKK2222\.$/)
    shop.do('VoidEntry', { entry: opened?.id, reason: 'MISTAP' })
    expect(note()).toMatch(/Use one of KKKK2222\.$/)
  })
})
