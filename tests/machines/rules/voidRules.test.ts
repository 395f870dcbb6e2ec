import { describe, expect, test } from 'vitest'
import { fold } from '../../../machines/fold.ts'
import { emptyState } from '../../../machines/state.ts'
import {
  addPanel,
  air,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_CURE,
  CLEAR_ONLY,
  coat,
  cupOf,
  DOOR,
  dueMin,
  idOf,
  JOB,
  minuteOf,
  mix,
  outsideOf,
  panelOf,
  refusalOf,
  said,
  shopWith,
  stateOf,
  vanWith,
  voided,
  WING,
  whereIs,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

const CHILD = 'KKKK2222'
const cleared = (): Shop => coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 5)
const having = (shop: Shop, ...commands: [type: string, data: object][]): Shop => {
  for (const [type, data] of commands) shop.do(type, data)
  return shop
}

describe('a void is refused where live facts rest on the entry', () => {
  const override = { reason: 'Called off' }
  test.each<[string, () => Shop, string, string?]>([
    ['a cup with coats', cleared, 'CupMixed', CLEAR_CUP],
    [
      'a cup that is in a gun',
      () => having(vanWith(CLEAR_ONLY), ['LoadGun', { gun: 'gun-1', cup: CLEAR_CUP }]),
      'CupMixed',
      CLEAR_CUP,
    ],
    [
      'a cup that was poured from',
      () => having(vanWith(CLEAR_ONLY), ['PourCup', { cup: CHILD, from: [{ cup: CLEAR_CUP }] }]),
      'CupMixed',
      CLEAR_CUP,
    ],
    [
      'a pour whose child was sprayed',
      () =>
        coat(
          having(vanWith(CLEAR_ONLY), ['PourCup', { cup: CHILD, from: [{ cup: CLEAR_CUP }] }]),
          CHILD,
          1,
          2,
        ),
      'CupPoured',
    ],
    ['a sheet with a cup', () => mix(shopWith([CLEAR]), CLEAR_CUP, CLEAR.sheet), 'SheetSaved'],
    ['a sheet on a route', () => addPanel(shopWith([CLEAR]), CLEAR_ONLY), 'SheetSaved'],
    ['a panel with coats', cleared, 'PanelAdded'],
    ['a job with panels', () => vanWith(CLEAR_ONLY), 'JobOpened'],
    [
      'a job with a cup',
      () => {
        const shop = having(shopWith(), ['OpenJob', { job: JOB, title: 'Van' }])
        return mix(shop, CLEAR_CUP, CLEAR.sheet, { job: JOB })
      },
      'JobOpened',
    ],
    [
      'a cure that was ended',
      () => {
        const shop = coat(coat(vanWith(CLEAR_CURE), CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
        const panels = [DOOR]
        return having(shop, ['StartCure', { panels, mode: 'air' }], ['EndCure', { panels }])
      },
      'CureStarted',
    ],
    [
      'a pause that was ended',
      () => having(cleared(), ['PauseJob', { job: JOB }], ['ResumeJob', { job: JOB }]),
      'JobPaused',
    ],
    [
      'a closing that was undone',
      () => having(cleared(), ['CloseJob', { job: JOB, override }], ['ReopenJob', { job: JOB }]),
      'JobClosed',
    ],
    [
      'a route on which work was done',
      () =>
        having(
          vanWith([{ stage: 'prep' }]),
          ['SetRoute', { panel: DOOR, route: [{ stage: 'prep' }, { stage: 'sand' }] }],
          ['DoPrepStep', { panel: DOOR, step: 0 }],
          ['DoPrepStep', { panel: DOOR, step: 1 }],
        ),
      'RouteSet',
    ],
    ['a finish between two coats', () => coat(cleared(), CLEAR_CUP, 15, 17), 'CoatFinished'],
  ])('%s', (_, past, type, cup) => {
    const shop = past()
    const refusal = refusalOf(voided(shop, idOf(shop, type, cup)))
    expect([refusal.code, refusal.overridable]).toEqual(['entryInUse', false])
  })

  test('a void is not voided, and nothing is voided twice', () => {
    const shop = cleared()
    const finish = idOf(shop, 'CoatFinished')
    voided(shop, finish)
    expect(refusalOf(voided(shop, finish)).message).toContain('This was undone already')
    const [id] = shop.entries.filter((e) => e.type === 'EntryVoided').map((e) => e.id)
    expect(refusalOf(voided(shop, id ?? '')).message).toContain('An undo cannot be undone')
  })
})

describe('a void is taken where nothing is left hanging', () => {
  test('the last finish: the coat runs on', () => {
    const shop = cleared()
    expect(said(voided(shop, idOf(shop, 'CoatFinished')))).toBe('done')
    expect([whereIs(shop), panelOf(shop).coats]).toEqual(['clear.coating', []])
  })

  test('a sheet or a job, where only other things depend on another one', () => {
    const other = { ...BASE, sheet: 'base-other' }
    const shop = having(
      mix(vanWith(CLEAR_ONLY), 'FFFF2222', BASE.sheet),
      ['SaveSheet', { sheet: other }],
      ['OpenJob', { job: 'KKKK3333', title: 'Another van' }],
    )
    for (const type of ['SheetSaved', 'JobOpened'])
      expect(said(voided(shop, shop.entries.findLast((e) => e.type === type)?.id ?? ''))).toBe(
        'done',
      )
  })

  test('a sheet whose only user was taken out of its job', () => {
    const shop = addPanel(shopWith([CLEAR]), CLEAR_ONLY)
    const saved = idOf(shop, 'SheetSaved')
    expect(said(voided(shop, saved))).toBe('entryInUse')
    shop.do('RemovePanel', { panel: DOOR })
    expect(said(voided(shop, saved))).toBe('done')
    expect(said(voided(shop, idOf(shop, 'JobOpened')))).toBe('entryInUse')
  })

  test('a version of a sheet, while another is left', () => {
    const shop = having(vanWith(CLEAR_ONLY), ['SaveSheet', { sheet: { ...CLEAR, potLife: null } }])
    expect(said(voided(shop, shop.entries.at(-1)?.id ?? ''))).toBe('done')
    mix(shop, 'FFFF2222', CLEAR.sheet)
    expect(cupOf(shop, 'FFFF2222').clocks).toHaveLength(1)
  })

  test('by command: both coats of a pass; by entry: that of one panel', () => {
    const pass = (): Shop => {
      const shop = addPanel(vanWith(CLEAR_ONLY), CLEAR_ONLY, { panel: WING, name: 'Side' })
      return having(shop, ['StartCoat', { panels: [DOOR, WING], cup: CLEAR_CUP }])
    }
    const whole = pass()
    whole.do('VoidEntry', { command: whole.entries.at(-1)?.command, reason: 'Wrong panels' })
    expect([whereIs(whole), whereIs(whole, WING)]).toEqual(['clear.due', 'clear.due'])
    const one = pass()
    voided(one, idOf(one, 'CoatStarted'))
    expect([whereIs(one), whereIs(one, WING)]).toEqual(['clear.due', 'clear.coating'])
  })

  test('a pour goes whole, whichever of its facts is named', () => {
    for (const place of [0, 1]) {
      const shop = having(vanWith(CLEAR_ONLY), [
        'PourCup',
        { cup: CHILD, from: [{ cup: CLEAR_CUP }] },
      ])
      const ids = shop.entries.filter((e) => e.type === 'CupPoured').map((e) => e.id)
      expect(said(voided(shop, ids[place] ?? ''))).toBe('done')
      expect([stateOf(shop, 'cup', CLEAR_CUP), stateOf(shop, 'cup', CHILD)]).toEqual([
        'live',
        'unmixed',
      ])
    }
  })

  test('the id of a voided cup may be used again', () => {
    const shop = vanWith(CLEAR_ONLY)
    voided(shop, idOf(shop, 'CupMixed', CLEAR_CUP))
    mix(shop.at(10), CLEAR_CUP, CLEAR.sheet)
    expect(minuteOf(cupOf(shop, CLEAR_CUP).mixedAt)).toBe(10)
  })

  test('nothing of a closed job, but its closing', () => {
    const shop = having(cleared(), ['CloseJob', { job: JOB, override: { reason: 'Collected' } }])
    expect(said(voided(shop, idOf(shop, 'CoatFinished')))).toBe('closed')
    expect(said(voided(shop, idOf(shop, 'JobClosed')))).toBe('done')
    expect(stateOf(shop, 'job', JOB)).toBe('open')
  })

  test('an entry or a command that the log has, one of the two', () => {
    const shop = cleared()
    expect(said(voided(shop, 'c99.0'))).toBe('unknownThing')
    expect(() => shop.parse('VoidEntry', { reason: 'x' })).toThrow('Use either entry or command')
    expect(() => shop.parse('VoidEntry', { entry: 'a', command: 'b', reason: 'x' })).toThrow(
      'Use either entry or command',
    )
  })
})

describe('a void with a replacement', () => {
  const replace = (type: string, data: object, at?: number) => ({
    replace: { type, data, ...(at === undefined ? {} : { at }) },
  })
  const other = (more: object = {}) =>
    replace('MixCup', { cup: CLEAR_CUP, sheet: CLEAR.sheet, totalMl: 450, ...more })

  test('corrects what was typed: one command, the old one stays in sight, coats stay on', () => {
    const shop = cleared()
    const mixed = idOf(shop, 'CupMixed', CLEAR_CUP)
    const drafts = shop.do('VoidEntry', { entry: mixed, reason: 'Misread', ...other() })
    expect(drafts.map((d) => [d.type, d.corrects])).toEqual([
      ['EntryVoided', undefined],
      ['CupMixed', mixed],
    ])
    expect(drafts[1]?.at).toBe(minute(0))
    expect(cupOf(shop, CLEAR_CUP)).toMatchObject({ totalMl: 450, mixedAt: minute(0) })
    expect(panelOf(shop).coats).toHaveLength(1)
  })

  test('may say that it happened at another time', () => {
    const shop = air(air(cleared(), 5, 20), 6, 10).at(12)
    expect(dueMin(shop, 'coatReady')).toBe(24)
    const cold = { zone: 'booth', airC: 10, rh: 0.5 }
    const reading = shop.entries.at(-1)?.id ?? ''
    voided(shop, reading, replace('ReadClimate', cold, minute(10)))
    expect(dueMin(shop, 'coatReady')).toBe(20)
    expect(shop.entries.at(-1)).toMatchObject({ at: minute(10), corrects: reading })
  })

  test('carries what rests on the old one: a finish between two coats, sent again', () => {
    const shop = coat(cleared(), CLEAR_CUP, 15, 17)
    const again = replace('FinishCoat', { panels: [DOOR] }, minute(4))
    expect(said(voided(shop, idOf(shop, 'CoatFinished'), again))).toBe('done')
    expect(panelOf(shop).coats.map((c) => minuteOf(c.finishedAt))).toEqual([4, 17])
  })

  test('that does not carry it is refused', () => {
    const shop = cleared()
    const answer = voided(shop, idOf(shop, 'CupMixed', CLEAR_CUP), other({ cup: CHILD }))
    expect(said(answer)).toBe('entryInUse')
  })

  test('is kept with what it broke, as every late fact', () => {
    const shop = coat(cleared(), CLEAR_CUP, 15, 17)
    const starts = shop.entries.filter((e) => e.type === 'CoatStarted')
    const earlier = replace('StartCoat', { panels: [DOOR], cup: CLEAR_CUP }, minute(14))
    const answer = voided(shop, starts[1]?.id ?? '', earlier)
    expect('drafts' in answer && outsideOf(answer.drafts[1])).toEqual(['flashNotOver'])
  })

  test.each([
    ['an unknown command', replace('PaintIt', {}), 'data.replace.type'],
    ['a void', replace('VoidEntry', {}), 'data.replace.type'],
    ['a wrong field', other({ totalMl: -1 }), 'data.replace.data.totalMl'],
    ['a time to come', { replace: { ...other().replace, at: minute(99) } }, 'data.replace.at'],
    ['what makes no sense', other({ sheet: 'none' }), 'unknownThing'],
    ['an id that is taken', other({ cup: BASE_CUP }), 'idTaken'],
  ])('%s is reported, and nothing is voided', (_, more, want) => {
    const shop = cleared()
    const before = shop.entries.length
    expect(said(voided(shop, idOf(shop, 'CupMixed', CLEAR_CUP), more))).toBe(want)
    expect(shop.entries).toHaveLength(before)
  })
})

describe('a void and the order of arrival', () => {
  test('a void that arrives before its entry counts too', () => {
    const shop = cleared()
    voided(shop, idOf(shop, 'CoatFinished'))
    const turned = shop.entries.toReversed().reduce(fold, emptyState('TESTSHOP', 'h0'))
    expect(turned.things).toEqual(shop.state.things)
  })
})
