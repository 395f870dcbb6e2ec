import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { deadlines } from '../../../machines/deadlines.ts'
import type { Entry } from '../../../machines/envelope.ts'
import { evict } from '../../../machines/evict.ts'
import { fold } from '../../../machines/fold.ts'
import { follow } from '../../../machines/follow.ts'
import type { State } from '../../../machines/state.ts'
import { addPanel, CLEAR_ONLY, DOOR, shopWith } from '../../support/given.ts'
import { patience, runs, tries } from '../../support/randomRuns.ts'
import { expectSame, START, throughJson } from '../../support/randomStates.ts'
import { CLEAR } from '../../support/sheets.ts'
import { MINUTE, type Shop } from '../../support/shop.ts'

/** Zones whose past is held in part: readings of now and of long ago, clocks that rest on them, voids. */

const HOUR_MS = 60 * MINUTE
const zone = fc.constantFrom('bench', 'booth')
/** Now, within the last two days, just beyond them, and long before. */
const backH = fc.constantFrom(0, 0, 0, 0.1, 2, 30, 47.9, 48, 48.1, 70, 400)
const press = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({
      what: fc.constant('read'),
      zone,
      backH,
      airC: fc.integer({ min: 12, max: 32 }),
    }),
  },
  { weight: 1, arbitrary: fc.record({ what: fc.constant('void'), nth: fc.nat(40) }) },
  { weight: 1, arbitrary: fc.record({ what: fc.constant('mix'), zone, backH }) },
  { weight: 1, arbitrary: fc.record({ what: fc.constant('coat'), backH }) },
  { weight: 1, arbitrary: fc.record({ what: fc.constant('move'), zone, backH }) },
  { weight: 1, arbitrary: fc.record({ what: fc.constant('load'), backH }) },
)
type Pressed = {
  readonly what: string
  readonly zone?: string
  readonly airC?: number
  readonly backH?: number
  readonly nth?: number
}
const waitH = fc.constantFrom(0.02, 0.3, 1, 9, 25, 50, 120)
const days = fc.array(fc.tuple(press, waitH), { minLength: 5, maxLength: 40, size: 'max' })

/** The cup's id for a count of cups: eight characters of the ids' alphabet. */
const cupId = (n: number): string => `C${String(n + 22).padStart(7, '2')}`.replaceAll(/[01]/g, 'Z')

function play(shop: Shop, all: readonly (readonly [Pressed, number])[]): Shop {
  let cups = 0
  for (const [{ what, zone, airC, backH = 0, nth = 0 }, hours] of all) {
    shop.now += Math.round(hours * HOUR_MS)
    const at = shop.now - Math.round(backH * HOUR_MS)
    const late = { at, enteredAt: at }
    if (what === 'read') shop.send('ReadClimate', { zone, airC, rh: 0.5 }, late)
    if (what === 'void') {
      const readings = shop.entries.filter((e) => e.type === 'ClimateRead')
      const entry = readings[nth % Math.max(1, readings.length)]?.id
      if (entry) shop.send('VoidEntry', { entry, reason: 'pressed by mistake' })
    }
    if (what === 'mix') {
      cups += 1
      shop.send('MixCup', { cup: cupId(cups), sheet: CLEAR.sheet, totalMl: 300, zone }, late)
    }
    if (what === 'coat') {
      shop.send('FinishCoat', { panels: [DOOR], ...(cups > 0 ? { cup: cupId(cups) } : {}) }, late)
    }
    if (what === 'move') shop.send('MovePanel', { panel: DOOR, zone }, late)
    if (what === 'load' && cups > 0) shop.send('LoadGun', { gun: 'gun-1', cup: cupId(cups) }, late)
  }
  return shop
}

/** A state without the times of which its zones and guns are held. */
const unmarked = ({ things }: State): object =>
  JSON.parse(JSON.stringify(things, (key, value) => (key === 'heldMs' ? undefined : value)))

/** A state from the log alone, and one that was taken on by what a copy held that forgot what was over. */
function bothWays(entries: readonly Entry[], forgets: () => boolean) {
  let whole = START
  let copy = START
  let missed = 0
  for (const entry of entries) {
    whole = fold(whole, entry)
    const next = follow(copy, entry, entry.recordedAt)
    // The log is read for what the snapshot does not hold.
    missed += next === null ? 1 : 0
    copy = next ?? evict(whole, entry.recordedAt)
    if (forgets()) copy = throughJson(evict(copy, entry.recordedAt))
  }
  return { whole, copy, missed }
}

describe('zones that hold part of their past', { timeout: patience }, () => {
  test('come to the same from the log as from snapshots that were taken on the way', () => {
    let asked = 0
    let dropped = 0
    fc.assert(
      fc.property(days, waitH, fc.infiniteStream(fc.nat(4)), (all, hours, dice) => {
        const { entries, now } = play(addPanel(shopWith(), CLEAR_ONLY), all)
        const { whole, copy, missed } = bothWays(entries, () => dice.next().value === 0)
        asked += missed
        const later = now + hours * HOUR_MS
        const [snapped, folded] = [evict(copy, later), evict(whole, later)]
        expectSame(unmarked(snapped), unmarked(folded))
        expectSame(deadlines(snapped), deadlines(folded))
        const readings = (state: State) =>
          Object.values(state.things.zone).flatMap((z) => z.entries)
        dropped += readings(whole).length - readings(folded).length
      }),
      tries(60),
    )
    expect(asked).toBeGreaterThan(0)
    expect(dropped).toBeGreaterThan(runs(60))
  })

  test('a panel that was elsewhere, as is typed in weeks later, takes along a cup that is over and what a gun holds of it', () => {
    const read = { what: 'read', zone: 'bench', airC: 12 }
    const { entries, now } = play(addPanel(shopWith(), CLEAR_ONLY), [
      [{ what: 'mix', zone: 'bench' }, 50],
      [{ what: 'coat' }, 50],
      [{ what: 'load', backH: 48 }, 50],
      [read, 50],
      [read, 120],
      [{ what: 'move', zone: 'bench', backH: 400 }, 1],
    ])
    const { whole, copy, missed } = bothWays(entries, () => true)
    expect(missed).toBeGreaterThan(0)
    expectSame(unmarked(evict(copy, now)), unmarked(evict(whole, now)))
  })
})
