import { effect, signal } from '@preact/signals'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { breathingZones } from '../../kiosk/frame/breathing.ts'
import { chipOf } from '../../kiosk/lanes/chip.ts'
import { cupsOf, loadedGunsOf } from '../../kiosk/lanes/cups.ts'
import { type Lane, lanesKept, lanesOf } from '../../kiosk/lanes/lanes.ts'
import { atMoments, Moment } from '../../kiosk/lanes/moment.ts'
import { nextUp } from '../../kiosk/lanes/nextUp.ts'
import { en } from '../../kiosk/words/all.ts'
import type { State } from '../../machines/state.ts'
import { dayOf, intents } from '../support/randomDay.ts'
import { patience, tries } from '../support/randomRuns.ts'
import { CLEAR } from '../support/sheets.ts'
import { MINUTE, minute, Shop } from '../support/shop.ts'

/** What a screen shows is calculated when its moment comes, not at every tick, and never too late. */

const JOB = 'VANREAR2'
const CUP = 'K7QDM2XV'
const panelOf = (n: number) => `P222222${'23456789'[n]}`

/** Panels with one coat each, finished a minute apart from minute 1 on; their flash is 10 min. */
function sprayed(panels: number): Shop {
  const shop = new Shop()
  const at20 = (minutes: number) => [{ atC: 20, minutes }]
  const sheet = { ...CLEAR, flashBetween: at20(10), recoatWithin: at20(60), potLife: at20(600) }
  shop.do('SaveSheet', { sheet })
  shop.do('OpenJob', { job: JOB, title: 'Delivery van' })
  for (let n = 0; n < panels; n += 1)
    shop.do('AddPanel', {
      job: JOB,
      panel: panelOf(n),
      name: `Door ${n}`,
      operation: 'repair',
      route: [{ stage: 'clear', sheet: CLEAR.sheet }],
    })
  shop.do('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 500 })
  for (let n = 0; n < panels; n += 1) {
    shop.at(n)
    shop.do('StartCoat', { panels: [panelOf(n)], cup: CUP })
    shop.at(n + 1)
    shop.do('FinishCoat', { panels: [panelOf(n)] })
  }
  return shop
}

/** A Wall that follows a ticking time, and how often it was calculated. */
function wallOf(state: State, startMs: number) {
  const now = signal(startMs)
  const shop = signal(state)
  const kept = lanesKept()
  let calculations = 0
  const lanes = atMoments(now, (moment) => {
    calculations += 1
    return kept(shop.value, moment)
  })
  let drawings = 0
  const stop = effect(() => {
    lanes.value
    drawings += 1
  })
  return { now, shop, lanes, stop, counts: () => ({ calculations, drawings }) }
}

describe('lanes as time passes', () => {
  test('a tick between two moments calculates nothing and draws nothing', () => {
    const wall = wallOf(sprayed(5).state, minute(5) + 1_000)
    const before = wall.counts()
    for (let tick = 0; tick < 100; tick += 1) wall.now.value += 500
    expect(wall.counts()).toEqual(before)
    wall.stop()
  })

  test('a flash that ends is shown at its very moment, and only that lane is calculated again', () => {
    const wall = wallOf(sprayed(3).state, minute(10))
    const before = wall.lanes.peek()
    expect(before.map(({ waits }) => waits.for)).toEqual(['flash', 'flash', 'flash'])
    wall.now.value = minute(11) - 1
    expect(wall.lanes.peek()).toBe(before)
    wall.now.value = minute(11)
    const after = wall.lanes.peek()
    expect(after.map(({ waits }) => waits.for)).toEqual(['coat', 'flash', 'flash'])
    expect(after[1]).toBe(before[1])
    expect(after[2]).toBe(before[2])
    wall.stop()
  })

  test('a clock that is set back takes back what had come', () => {
    const wall = wallOf(sprayed(1).state, minute(12))
    expect(wall.lanes.peek()[0]?.waits.for).toBe('coat')
    wall.now.value = minute(8)
    expect(wall.lanes.peek()[0]?.waits.for).toBe('flash')
    wall.now.value = minute(12)
    expect(wall.lanes.peek()[0]?.waits.for).toBe('coat')
    wall.stop()
  })

  test('a change of the shop is shown at once, and judged by the present time', () => {
    const shop = sprayed(1)
    const wall = wallOf(shop.state, minute(2))
    wall.now.value = minute(9)
    shop.at(9)
    // The air was 10 °C colder all the time: the flash is longer.
    shop.do('ReadClimate', { zone: 'booth', airC: 10, rh: 0.5 }, { at: minute(0), reason: 'late' })
    wall.shop.value = shop.state
    expect(wall.lanes.peek()).toEqual(lanesOf(shop.state, minute(9)))
    wall.stop()
  })
})

type View = (state: State, moment: Moment) => unknown
const VIEWS: Readonly<Record<string, View>> = {
  lanes: (state, moment) => {
    const lanes: readonly Lane[] = lanesKept()(state, moment)
    return lanes.map((lane) => {
      const { counting, big, ...chip } = chipOf(lane, en, moment.ms)
      return { lane, chip: { ...chip, big: counting ? null : big, counting } }
    })
  },
  cups: cupsOf,
  guns: loadedGunsOf,
  next: nextUp,
  breathing: breathingZones,
}

test('whatever happened in a shop: what is shown stays the same for as long as it says', {
  timeout: patience,
}, () => {
  let changes = 0
  const follow = (name: string, state: State, steps: readonly number[]) => {
    const view = VIEWS[name] as View
    let ms = state.recordedAt
    let moment = new Moment(ms)
    let shown = view(state, moment)
    // By milliseconds, seconds and minutes, to and fro.
    for (const step of steps) {
      ms += step * (step % 3 === 0 ? MINUTE : step % 2 === 0 ? 1_000 : 7)
      const fresh = view(state, new Moment(ms))
      if (moment.holdsAt(ms)) expect(shown, name).toEqual(fresh)
      else {
        moment = new Moment(ms)
        shown = view(state, moment)
        changes += 1
      }
    }
  }
  const someSteps = fc.array(fc.integer({ min: -400, max: 4_000 }))
  fc.assert(
    fc.property(intents, someSteps, (all, steps) => {
      const { state } = dayOf(all)
      for (const name of Object.keys(VIEWS)) follow(name, state, steps)
    }),
    tries(40),
  )
  expect(changes).toBeGreaterThan(0)
})

test('minutes left and minutes over change at their own moment', () => {
  const endMs = minute(30)
  for (const [at, minutes, untilMs] of [
    [minute(0), 30, minute(1)],
    [minute(0.5), 30, minute(1)],
    [minute(29) + 1, 1, minute(30)],
    [minute(30), 0, minute(30) + 1],
    [minute(30) + 1, 1, minute(31) + 1],
    [minute(31), 1, minute(31) + 1],
  ] as const) {
    const moment = new Moment(at)
    expect(moment.minutesFrom(endMs)).toBe(minutes)
    expect([moment.holdsAt(untilMs - 1), moment.holdsAt(untilMs)]).toEqual([true, false])
  }
})

test('a tick between the moments of many calculations asks none of them', () => {
  const now = signal(minute(0))
  let asked = 0
  const stops = [3, 1, 2].map((at) => {
    const isOver = atMoments(now, (moment) => {
      asked += 1
      return moment.isPast(minute(at))
    })
    return effect(() => void isOver.value)
  })
  expect(asked).toBe(3)
  const counts = [0.9, 1, 1.5, 2, 3, 4, 0.5].map((at) => {
    const before = asked
    now.value = minute(at)
    return asked - before
  })
  // Set back before all of them, all are asked again.
  expect(counts).toEqual([0, 1, 0, 1, 1, 0, 3])
  for (const stop of stops) stop()
})

test('what nobody watched for a while is right when it is asked again', () => {
  const now = signal(minute(0))
  const isOver = atMoments(now, (moment) => moment.isPast(minute(5)))
  const stop = effect(() => void isOver.value)
  stop()
  now.value = minute(6)
  expect(isOver.peek()).toBe(true)
  const again = effect(() => void isOver.value)
  now.value = minute(4)
  expect(isOver.peek()).toBe(false)
  again()
})
