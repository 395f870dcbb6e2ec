import { describe, expect, test } from 'vitest'
import { follow } from '../../../machines/follow.ts'
import { relatedEntries } from '../../../machines/job/relatedEntries.ts'
import { longAwaited, usedSince } from '../../../machines/waiting.ts'
import {
  addPanel,
  CLEAR_CUP,
  CLEAR_CURE,
  CLEAR_ONLY,
  DOOR,
  evicted,
  JOB,
  minuteOf,
  mix,
  outsideOf,
  panelOf,
  queued,
  said,
  shopWith,
  stateOf,
  vanWith,
  WING,
  whereIs,
} from '../../support/given.ts'
import { inAnyOrder } from '../../support/interleavings.ts'
import { CLEAR } from '../../support/sheets.ts'
import { minute } from '../../support/shop.ts'

/** A kiosk's queue is delivered before the other kiosk has sent the panel and the job that it names. */

const LATE_JOB = 'PPPP2222'
const added = (more: object = {}) => ({
  job: JOB,
  panel: WING,
  name: 'Wing',
  operation: 'repair',
  areaM2: 1,
  route: CLEAR_ONLY,
  ...more,
})

describe('what is said of a panel that is not known yet', () => {
  test.each([
    ['StartCoat', { panels: [WING], cup: CLEAR_CUP }],
    ['FinishCoat', { panels: [WING], cup: CLEAR_CUP }],
    ['ContinueCoat', { panels: [WING], cup: CLEAR_CUP }],
    ['DoPrepStep', { panel: WING, step: 0 }],
    ['SkipStep', { panel: WING, step: 0, reason: 'None' }],
    ['InspectCoat', { panel: WING, result: 'good' }],
    ['ReachCover', { panel: WING }],
    ['AbradePanel', { panel: WING, grit: 800 }],
    ['MovePanel', { panel: WING, zone: 'bay' }],
    ['SetRoute', { panel: WING, route: CLEAR_ONLY }],
    ['StartCure', { panels: [WING], mode: 'air' }],
    ['ReadPart', { panel: WING, partC: 60 }],
    ['ReadPart', { panel: WING }],
    ['EndCure', { panels: [WING] }],
    ['PolishPanel', { panel: WING }],
    ['PassPanel', { panel: WING }],
    ['SendBackPanel', { panel: WING, toStep: 0, done: 0, reason: 'Run' }],
    ['RemovePanel', { panel: WING }],
  ])('%s is kept when it comes late, and refused when it is live', (type, data) => {
    const shop = vanWith(CLEAR_ONLY)
    expect(said(shop.fork().at(5).send(type, data))).toBe('unknownThing')
    const [draft] = queued(shop.at(120), 5, type, data)
    expect(outsideOf(draft)).toContain('panelUnknown')
    expect([draft?.panel, draft?.job]).toEqual([WING, undefined])
    expect(whereIs(shop, WING)).toBe('unknown')
  })

  test('counts once the panel is added, whichever kiosk is back first', () => {
    const after = inAnyOrder(
      vanWith(CLEAR_ONLY).at(120),
      [[5, 'AddPanel', added()]],
      [
        [10, 'StartCoat', { panels: [DOOR, WING], cup: CLEAR_CUP }],
        [16, 'FinishCoat', { panels: [DOOR, WING] }],
      ],
    )
    const ends = [DOOR, WING].map((id) =>
      panelOf(after, id).coats.map((c) => minuteOf(c.finishedAt)),
    )
    // The wing takes two minutes, which nobody could know before it was added.
    expect(ends).toEqual([[14], [16]])
  })

  test('takes its meaning from where the panel stood: cover, and a cure that was over', () => {
    const route = [{ ...CLEAR_CURE[0], coats: 2 }, CLEAR_CURE[1], { stage: 'polish' }]
    const after = inAnyOrder(
      vanWith(CLEAR_ONLY).at(2000),
      [[5, 'AddPanel', added({ route })]],
      [
        [10, 'StartCoat', { panels: [WING], cup: CLEAR_CUP }],
        [14, 'FinishCoat', { panels: [WING] }],
        [15, 'ReachCover', { panel: WING }],
        [30, 'StartCure', { panels: [WING], mode: 'air' }],
        [1900, 'EndCure', { panels: [WING] }],
      ],
    )
    expect(whereIs(after, WING)).toBe('polish')
  })

  test('stands in the history of the job that the panel turned out to be of', () => {
    const shop = vanWith(CLEAR_ONLY).at(120)
    queued(shop, 6, 'AbradePanel', { panel: WING, grit: 800 })
    queued(shop, 5, 'AddPanel', added())
    const own = shop.entries.filter((e) => e.job === JOB)
    const { entries } = relatedEntries(own, ({ kind, id }) =>
      shop.entries.filter((e) => kind === 'panel' && e.panel === id),
    )
    expect(entries.map((e) => e.type)).toContain('PanelAbraded')
    expect(own.map((e) => e.type)).not.toContain('PanelAbraded')
  })

  test('is let go of a week later where the panel never comes, and is back when it does', () => {
    const shop = vanWith(CLEAR_ONLY)
    queued(shop.at(60), 5, 'AbradePanel', { panel: WING, grit: 800 })
    expect(WING in evicted(shop, 6 * 24 * 60).state.things.panel).toBe(true)
    expect(WING in evicted(shop, 8 * 24 * 60).state.things.panel).toBe(false)
  })
})

describe('what is said of a job that is not known yet', () => {
  test('counts once the job is opened, whichever kiosk is back first', () => {
    const after = inAnyOrder(
      mix(shopWith(), CLEAR_CUP, CLEAR.sheet).at(120),
      [[5, 'OpenJob', { job: LATE_JOB, title: 'Trailer' }]],
      [
        [6, 'AddPanel', added({ job: LATE_JOB })],
        [7, 'MixCup', { cup: 'FFFF2222', sheet: CLEAR.sheet, totalMl: 100, job: LATE_JOB }],
        [8, 'AddNote', { job: LATE_JOB, panel: WING, text: 'Stone chips' }],
        [10, 'StartCoat', { panels: [WING], cup: CLEAR_CUP }],
        [14, 'FinishCoat', { panels: [WING] }],
        [20, 'PauseJob', { job: LATE_JOB }],
      ],
    )
    expect(stateOf(after, 'job', LATE_JOB)).toBe('paused')
    expect(panelOf(after, WING).coats).toHaveLength(1)
    expect(panelOf(after, WING).job).toBe(LATE_JOB)
  })

  test('is refused when it is live, and when it names a color that an open job has not', () => {
    const shop = addPanel(shopWith(), CLEAR_ONLY)
    for (const [type, data] of [
      ['AddPanel', added({ job: LATE_JOB })],
      ['PauseJob', { job: LATE_JOB }],
      ['AddNote', { job: LATE_JOB, text: 'Stone chips' }],
      ['MixCup', { cup: 'FFFF2222', sheet: CLEAR.sheet, totalMl: 100, job: LATE_JOB }],
    ] as const)
      expect(shop.refused(type, data)).toBe('unknownThing')
  })

  test('is let go of a week later where the job is never opened', () => {
    const shop = shopWith()
    queued(shop.at(60), 5, 'AddPanel', added({ job: LATE_JOB }))
    queued(shop, 6, 'PauseJob', { job: LATE_JOB })
    const gone = evicted(shop, 8 * 24 * 60)
    expect(stateOf(gone, 'job', LATE_JOB)).toBeUndefined()
    expect(WING in gone.state.things.panel).toBe(false)
  })

  test('waits with all that is said of its panels, so that a panel never stays or goes by when its job was let go of', () => {
    const DAY = 24 * 60
    const shop = shopWith()
    queued(shop.at(60), 5, 'PauseJob', { job: LATE_JOB })
    queued(shop.at(6 * DAY + 60), 6 * DAY, 'AddPanel', added({ job: LATE_JOB }))
    const waiting = evicted(shop.fork(), 8 * DAY)
    expect(stateOf(waiting, 'job', LATE_JOB)).toBe('unknown')
    expect(WING in waiting.state.things.panel).toBe(true)
    const gone = evicted(waiting, 14 * DAY)
    expect(stateOf(gone, 'job', LATE_JOB)).toBeUndefined()
    expect(WING in gone.state.things.panel).toBe(false)
  })
})

describe('what was named and is not known', () => {
  const USED = 'FFFF2222'

  test('is said ten minutes after it came, with what waits for it', () => {
    const shop = vanWith(CLEAR_ONLY).at(60)
    queued(shop, 5, 'StartCoat', { panels: [DOOR], cup: USED })
    queued(shop, 6, 'AbradePanel', { panel: WING, grit: 800 })
    queued(shop, 7, 'AddNote', { job: LATE_JOB, text: 'Stone chips' })
    const named = (min: number) =>
      longAwaited(shop.state, minute(min)).map(({ kind, id, entries }) => [
        kind,
        id,
        entries.length,
      ])
    expect(named(69.9)).toEqual([])
    expect(named(70)).toEqual([
      ['cup', USED, 1],
      ['job', LATE_JOB, 1],
      ['panel', WING, 1],
    ])
  })

  test('is said no more once it came, or once what waits was voided', () => {
    const shop = vanWith(CLEAR_ONLY).at(60)
    queued(shop, 5, 'StartCoat', { panels: [DOOR], cup: USED })
    const [note] = queued(shop, 7, 'AddNote', { job: LATE_JOB, text: 'Stone chips' })
    const [sanded] = queued(shop, 6, 'AbradePanel', { panel: WING, grit: 800 })
    queued(shop, 4, 'MixCup', { cup: USED, sheet: CLEAR.sheet, totalMl: 100 })
    for (const entry of [note?.id, sanded?.id]) shop.do('VoidEntry', { entry, reason: 'MISTAP' })
    expect(longAwaited(shop.state, minute(90))).toEqual([])
  })

  test('is no cup that was poured: that waits for the one that it was poured from', () => {
    const shop = shopWith().at(60)
    queued(shop, 5, 'PourCup', { cup: 'GGGG2222', from: [{ cup: USED, ml: 100 }] })
    expect(longAwaited(shop.state, minute(80)).map(({ id }) => id)).toEqual([USED])
    expect([usedSince(shop.state, USED), usedSince(shop.state, CLEAR_CUP)]).toEqual([
      minute(5),
      null,
    ])
  })
})

test('what is said of a job that nobody opened yet waits on a kiosk too, and is on the job once it is opened', () => {
  const shop = vanWith(CLEAR_ONLY).at(30)
  let copy = shop.state
  for (const [min, type, data] of [
    [7, 'AddNote', { job: LATE_JOB, text: 'Stone chips' }],
    [6, 'OpenJob', { job: LATE_JOB, title: 'Small car' }],
  ] as const) {
    queued(shop, min, type, data)
    const entry = shop.entries.at(-1)
    // Where a kiosk cannot fold an entry it asks for the server's own state.
    copy = (entry && follow(copy, entry, minute(30))) ?? shop.state
  }
  expect(copy.things.job[LATE_JOB]?.context.notes.map(({ text }) => text)).toEqual(['Stone chips'])
})
