import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { ThingRef } from '../../../machines/catalog.ts'
import { decideAt } from '../../../machines/decide.ts'
import { needs } from '../../../machines/needs.ts'
import {
  addPanel,
  CLEAR_CUP,
  CLEAR_ONLY,
  DOOR,
  JOB,
  panelOf,
  queued,
  said,
  shopWith,
  stateOf,
  WING,
} from '../../support/given.ts'
import { patience, tries } from '../../support/randomRuns.ts'
import { CLEAR } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

/**
 * Two kiosks and a command line without a device, all within one millisecond. Entries of one instant are
 * folded in the order of their devices: nothing may thereby come before what it was decided on.
 */

const DEVICES = ['kiosk-z', 'kiosk-a', undefined] as const
type Device = (typeof DEVICES)[number]
const by = (device: Device, seq: number) => (device === undefined ? {} : { device, seq })

/** What is folded but not taken, by anything. */
const notTaken = (shop: Shop): string[] =>
  Object.values(shop.state.things).flatMap((ofKind) =>
    Object.values(ofKind).flatMap((thing) => [...thing.notTaken]),
  )

const later: readonly [string, Device][] = [
  ['another kiosk', 'kiosk-a'],
  ['no kiosk', undefined],
]

describe('in one and the same millisecond', () => {
  test.each(later)('a coat from %s finds the cup that was mixed for it', (_, device) => {
    const shop = addPanel(shopWith(), CLEAR_ONLY).at(1)
    mixBy(shop, 'kiosk-z', 1)
    shop.do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP }, by(device, 1))
    shop.do('FinishCoat', { panels: [DOOR] }, by('kiosk-z', 2))
    expect(panelOf(shop)).toMatchObject({ open: null, coats: [{ cups: [CLEAR_CUP] }] })
    expect(notTaken(shop)).toEqual([])
  })

  test.each(later)('a job that was just opened is closed by %s', (_, device) => {
    const shop = shopWith().at(1)
    shop.do('OpenJob', { job: JOB, title: 'Van' }, by('kiosk-z', 1))
    const override = { reason: 'Called off' }
    shop.do('CloseJob', { job: JOB, override }, by(device, 1))
    expect([stateOf(shop, 'job', JOB), notTaken(shop)]).toEqual(['closed', []])
  })

  test('what is said twice is refused on whichever kiosk it is said', () => {
    const shop = addPanel(shopWith(), CLEAR_ONLY).at(1)
    mixBy(shop, 'kiosk-z', 1)
    const start = (device: Device, seq: number) =>
      said(shop.send('StartCoat', { panels: [DOOR], cup: CLEAR_CUP }, by(device, seq)))
    expect([start('kiosk-z', 2), start('kiosk-a', 1), start(undefined, 1)]).toEqual([
      'done',
      'coatRunning',
      'coatRunning',
    ])
  })
})

const mixBy = (shop: Shop, device: Device, seq: number) =>
  shop.do('MixCup', { cup: CLEAR_CUP, sheet: CLEAR.sheet, totalMl: 300 }, by(device, seq))

test('a finish that is spread back to its start stays behind it, whichever kiosk sent which', () => {
  for (const finisher of DEVICES) {
    const shop = addPanel(addPanel(shopWith(), CLEAR_ONLY), CLEAR_ONLY, { panel: WING })
    mixBy(shop, 'kiosk-z', 1)
    shop.at(10).do('StartCoat', { panels: [DOOR, WING], cup: CLEAR_CUP }, by('kiosk-z', 2))
    shop.at(10.5).do('FinishCoat', { panels: [DOOR, WING] }, by(finisher, 3))
    expect(panelOf(shop)).toMatchObject({
      open: null,
      coats: [{ startedAt: minute(10), finishedAt: minute(10) }],
    })
    expect(notTaken(shop)).toEqual([])
  }
})

test('a late fact of the same millisecond keeps its own time', () => {
  const shop = addPanel(shopWith(), CLEAR_ONLY).at(1)
  mixBy(shop, 'kiosk-z', 1)
  const data = { panels: [DOOR], cup: CLEAR_CUP }
  const [start] = queued(shop.at(30), 1, 'StartCoat', data, { device: 'kiosk-a', seq: 1 })
  expect(start?.at).toBe(minute(1))
})

/** What people press on one door with one cup, all within a millisecond. */
const PRESSES = [
  ['StartCoat', { panels: [DOOR], cup: CLEAR_CUP, override: { reason: 'Trial' } }],
  ['FinishCoat', { panels: [DOOR] }],
  ['InspectCoat', { panel: DOOR, result: 'good' }],
  ['AbradePanel', { panel: DOOR, grit: 800 }],
  ['ReachCover', { panel: DOOR }],
  ['SendBackPanel', { panel: DOOR, toStep: 0, done: 0, reason: 'A run' }],
  ['PrintLabel', { cup: CLEAR_CUP }],
  ['EmptyCup', { cup: CLEAR_CUP, how: 'used' }],
  ['LoadGun', { gun: 'gun-1', cup: CLEAR_CUP }],
  ['CleanGun', { gun: 'gun-1' }],
  ['PauseJob', { job: JOB }],
  ['ResumeJob', { job: JOB }],
  ['MixCup', { cup: CLEAR_CUP, sheet: CLEAR.sheet, totalMl: 300 }],
  ['RemovePanel', { panel: DOOR }],
] as const

type Turn = readonly [who: number, what: number]

/** The presses one after another at the given distance, and the answer to each. */
function pressed(turns: readonly Turn[], apartMs: number) {
  const shop = addPanel(shopWith(), CLEAR_ONLY).at(1)
  mixBy(shop, 'kiosk-z', 1)
  const answers = turns.map(([who, what], i) => {
    shop.now += apartMs
    const press = PRESSES[what] ?? PRESSES[0]
    return said(shop.send(press[0], press[1], by(DEVICES[who], 2 + i)))
  })
  const kinds = ['panel', 'cup', 'gun', 'job'] as const
  const stands = kinds.flatMap((kind) =>
    Object.values(shop.state.things[kind]).map((thing) => thing.value),
  )
  const { coats, open } = panelOf(shop)
  return { answers, stands, coats: coats.length, isOpen: open !== null, lost: notTaken(shop) }
}

const turns = fc.array(fc.tuple(fc.nat(DEVICES.length - 1), fc.nat(PRESSES.length - 1)), {
  minLength: 2,
  maxLength: 15,
})

test('presses of one millisecond come to the same as if they were a second apart', {
  timeout: patience,
}, () => {
  fc.assert(
    fc.property(turns, (all) => {
      const apart = pressed(all, 1_000)
      expect(apart.lost).toEqual([])
      expect(pressed(all, 0)).toEqual(apart)
    }),
    tries(100),
  )
})

test('a command is decided by the things that were found for it once, and not looked for again', () => {
  const shop = shopWith()
  const opened = shop.send('OpenJob', { job: JOB, title: 'Van' }, by('kiosk-z', 1))
  if (!('drafts' in opened)) throw new Error('refused')
  const openedAt = opened.drafts[0]?.at ?? 0
  const command = shop.parse('AddNote', { job: JOB, text: 'two nibs' }, by('kiosk-z', 2))
  // Pressed on a kiosk whose clock is 5 ms behind.
  const at = openedAt - 5
  const times = { at, enteredAt: at, isLive: true } as const
  const noteAt = (named: readonly ThingRef[]) => {
    const decided = decideAt(shop.state, { command, now: at, times, named })
    return 'drafts' in decided ? decided.drafts[0]?.at : decided
  }
  expect(noteAt(needs(command).things)).toBe(openedAt)
  expect(noteAt([])).toBe(at)
})
