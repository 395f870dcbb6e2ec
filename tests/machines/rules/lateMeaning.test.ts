import { describe, expect, test } from 'vitest'
import {
  addPanel,
  BASE_CUP,
  bells,
  CLEAR_CUP,
  coat as coated,
  cupOf,
  DOOR,
  JOB,
  mix,
  outsideOf,
  panelOf,
  queued,
  SILL,
  shopWith,
  stateOf,
  vanWith,
  WING,
} from '../../support/given.ts'
import { inAnyOrder, type Press } from '../../support/interleavings.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

/** What is said in few words means what it meant when it was pressed, whichever kiosk is back first. */

const TWO = [{ stage: 'clear', sheet: CLEAR.sheet, coats: { least: 1, planned: 2, most: 3 } }]
const ONE = { panels: [DOOR] }

describe('"covered, go on"', () => {
  const door = () => vanWith([{ stage: 'prep' }, ...TWO, ...TWO]).at(120)
  const coat = { ...ONE, cup: CLEAR_CUP }

  test('is said of the coat that another kiosk reported', () => {
    const after = inAnyOrder(
      door(),
      [[20, 'FinishCoat', coat]],
      [[21, 'ReachCover', { panel: DOOR }]],
    )
    expect(panelOf(after).status).toEqual(['skipped', 'done', 'open'])
  })

  test('that both kiosks pressed ends one step: of the next one no coat is on', () => {
    const after = inAnyOrder(
      door(),
      [
        [20, 'FinishCoat', coat],
        [21, 'ReachCover', { panel: DOOR }],
      ],
      [[22, 'ReachCover', { panel: DOOR }]],
    )
    expect(panelOf(after).status).toEqual(['skipped', 'done', 'open'])
  })

  test('with a reason goes over the step that was due, also where its coats were not known yet', () => {
    const bare = () => vanWith([...TWO, ...TWO]).at(120)
    const override = { reason: 'one is enough' }
    const after = inAnyOrder(
      bare(),
      [[20, 'FinishCoat', coat]],
      [
        [40, 'FinishCoat', coat],
        [61, 'ReachCover', { panel: DOOR, override }],
      ],
    )
    // Both coats of the first step are on by then: it is said of the next one.
    expect(panelOf(after).status).toEqual(['done', 'done'])
  })
})

test('a coat whose end was taken for that of another one is of the kind that its own end named', () => {
  const shop = addPanel(vanWith(TWO), TWO, { panel: WING }).at(120)
  const light = { ...ONE, cup: CLEAR_CUP, kind: 'light' }
  const after = inAnyOrder(
    shop,
    [
      [20, 'StartCoat', { ...ONE, cup: CLEAR_CUP }],
      [21, 'FinishCoat', ONE],
    ],
    [[61, 'FinishCoat', light]],
  )
  expect(panelOf(after).coats.map(({ kind }) => kind)).toEqual(['full', 'light'])
})

describe('a coat of the second tone, before the panel was masked,', () => {
  const STRIPE_CUP = 'SSSS3333'
  const tone = (colour: string) => ({ stage: 'base', sheet: BASE.sheet, colour, coats: 1 })
  function twoTone(): Shop {
    const shop = shopWith([BASE])
    const colours = ['body', 'stripe'].map((key) => ({ key, code: key }))
    shop.do('OpenJob', { job: JOB, title: 'Van', colours })
    addPanel(shop, [tone('body'), { stage: 'prep', work: 'mask' }, tone('stripe')])
    mix(shop, BASE_CUP, BASE.sheet, { job: JOB, colour: 'body' })
    return mix(shop, STRIPE_CUP, BASE.sheet, { job: JOB, colour: 'stripe' }).at(120)
  }
  const body = { ...ONE, cup: BASE_CUP }
  const stripe = { ...ONE, cup: STRIPE_CUP }
  const steps = (shop: Shop) => panelOf(shop).coats.map(({ step }) => step)

  test('goes to the step of its color', () => {
    const start: Press[] = [
      [40, 'StartCoat', stripe],
      [42, 'FinishCoat', ONE],
    ]
    const first: Press[] = [[20, 'FinishCoat', body]]
    expect(steps(inAnyOrder(twoTone(), first, start))).toEqual([0, 2])
    expect(steps(inAnyOrder(twoTone(), first, [[42, 'FinishCoat', stripe]]))).toEqual([0, 2])
  })

  test('is one coat where both kiosks said that it is on', () => {
    const after = inAnyOrder(
      twoTone(),
      [
        [20, 'FinishCoat', body],
        [42, 'FinishCoat', stripe],
      ],
      [[42.5, 'FinishCoat', stripe]],
    )
    expect(steps(after)).toEqual([0, 2])
  })
})

test('a cup that was poured from one that the other kiosk had stirred is stirred', () => {
  const after = inAnyOrder(
    vanWith(TWO).at(120),
    [[20, 'CheckCup', { cup: CLEAR_CUP, done: ['stirred'] }]],
    [[21, 'PourCup', { cup: 'PPPP2222', from: [{ cup: CLEAR_CUP }] }]],
  )
  expect(cupOf(after, 'PPPP2222').checked?.done).toEqual(['stirred'])
})

test('a start beside a bake that ran is not one on a hot panel, though it is known when the bake ended', () => {
  const shop = addPanel(vanWith([...TWO, { stage: 'cure' }]), TWO, { panel: WING })
  coated(shop, CLEAR_CUP, 1, 3)
  const override = { reason: 'one coat is enough' }
  shop.at(20).do('StartCure', { panels: [DOOR], mode: 'bake', setC: 60, override })
  shop.at(40).do('EndCure', { panels: [DOOR] })
  const at = (min: number) =>
    outsideOf(
      queued(shop.fork().at(60), min, 'StartCoat', { panels: [WING], cup: CLEAR_CUP })[0],
    ).filter((code) => ['heatInZone', 'partHot'].includes(code))
  expect([at(19), at(30), at(45)]).toEqual([[], ['heatInZone'], ['partHot']])
})

describe('a job that one kiosk turned and the other turned back', () => {
  const job = { job: JOB }
  const close = { ...job, override: { reason: 'Collected' } }
  const coats = (shop: Shop) => bells(shop, 'coatReady').length
  const sprayed = () => coated(vanWith(TWO), CLEAR_CUP, 1, 3).at(120)

  test('calls to its panels again, once it was resumed', () => {
    const after = inAnyOrder(sprayed(), [[20, 'PauseJob', job]], [[30, 'ResumeJob', job]])
    expect([stateOf(after, 'job', JOB), coats(after)]).toEqual(['open', 1])
  })

  test('calls to nothing while it is paused, also where both paused it', () => {
    const after = inAnyOrder(
      sprayed(),
      [[20, 'PauseJob', job]],
      [
        [30, 'PauseJob', job],
        [40, 'ResumeJob', job],
        [50, 'PauseJob', job],
      ],
    )
    expect([stateOf(after, 'job', JOB), coats(after)]).toEqual(['paused', 0])
  })

  test('is open where it was reopened, and awake where it had been paused before it was closed', () => {
    const after = inAnyOrder(
      sprayed(),
      [
        [20, 'PauseJob', job],
        [40, 'ReopenJob', job],
      ],
      [[30, 'CloseJob', close]],
    )
    expect([stateOf(after, 'job', JOB), coats(after)]).toEqual(['open', 1])
  })

  test('is paused for a panel as well that was removed since', () => {
    const after = inAnyOrder(
      sprayed(),
      [[20, 'PauseJob', job]],
      [[30, 'RemovePanel', { panel: DOOR }]],
    )
    expect(after.state.things.panel[DOOR]?.value).toEqual({ attention: 'paused', route: 'removed' })
  })

  test('is awake once it is closed, also a panel that was added and paused before and told later', () => {
    const panel = {
      ...{ job: JOB, panel: SILL, name: 'Sill', operation: 'repair', areaM2: 0.75 },
      route: [{ stage: 'clear', sheet: CLEAR.sheet }],
    }
    const after = inAnyOrder(
      sprayed(),
      [[30, 'CloseJob', close]],
      [
        [20, 'AddPanel', panel],
        [21, 'PauseJob', job],
      ],
    )
    expect(after.state.things.panel[SILL]?.value).toMatchObject({ attention: 'awake' })
  })

  test('that both closed was closed when the first of them did', () => {
    const after = inAnyOrder(sprayed(), [[20, 'CloseJob', close]], [[30, 'CloseJob', close]])
    expect(after.state.things.job[JOB]?.context.closedAt).toBe(minute(20))
  })
})
