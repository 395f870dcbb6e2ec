import { describe, expect, test } from 'vitest'
import { placesOf, ticksOf, zoomed } from '../../kiosk/trace/axis.ts'
import { knownBy, lateIn, laterMarks } from '../../kiosk/trace/laterMarks.ts'
import type { Mark } from '../../kiosk/trace/mark.ts'
import { chartOf, withLater } from '../../kiosk/trace/marks.ts'
import { bellsThen, cupsThen, gunsThen } from '../../kiosk/trace/then.ts'
import { dewPointC } from '../../machines/clock/moistAir.ts'
import { deviationsIn } from '../../machines/trace/deviations.ts'
import { traced } from '../../machines/trace/trace.ts'
import {
  addPanel,
  air,
  BASE_CLEAR,
  BASE_CUP,
  CLEAR_CUP,
  coat,
  DOOR,
  mix,
  queued,
  vanWith,
  WING,
} from '../support/given.ts'
import { MINUTE, minute, type Shop } from '../support/shop.ts'

/** The timeline as marks in rows: what is drawn is what its table says. */

const chart = ({ entries }: Pick<Shop, 'entries'>) =>
  chartOf(traced(entries), entries, deviationsIn(entries))
const marksOf = (shop: Pick<Shop, 'entries'>, kind: Mark['kind']) =>
  chart(shop).marks.filter((mark) => mark.kind === kind)
/** From and to in minutes after the start. */
const minutes = ({ from, to }: Mark) => [from, to].map((ms) => ((ms ?? 0) - minute(0)) / MINUTE)
/** Base at 0 and 12 min, clear at 32: sheet BASE flashes 8 min at 20 °C, CLEAR 10. */
const sprayed = (shop = vanWith(BASE_CLEAR)) =>
  coat(coat(coat(shop, BASE_CUP, 0, 2), BASE_CUP, 12, 14), CLEAR_CUP, 32, 34)

describe('coats', () => {
  test('each is a bar, after what was too early and over what was allowed', () => {
    const shop = sprayed()
    expect(marksOf(shop, 'coat').map((m) => [m.what, m.n, ...minutes(m)])).toEqual([
      ['base', 1, 0, 2],
      ['base', 2, 12, 14],
      ['clear', 1, 32, 34],
    ])
    const [wait, band] = [marksOf(shop, 'wait')[0], marksOf(shop, 'band')[0]] as [Mark, Mark]
    expect(minutes(wait)[0]).toBe(2)
    expect(wait.to).toBe(band.from)
    expect(band.from).toBeLessThan(minute(12))
    expect(marksOf(shop, 'coat')[1]?.numbers?.[0]).toBe(10 * MINUTE)
    expect(marksOf(shop, 'coat')[1]?.flags).toEqual([])
  })

  test('one that went on too soon is marked, with what it waited and should have', () => {
    const shop = coat(vanWith(BASE_CLEAR), BASE_CUP, 0, 2)
    coat(shop, BASE_CUP, 4, 6, { override: { reason: 'hurry' } })
    const [, second] = marksOf(shop, 'coat')
    expect(second?.flags).toEqual(expect.arrayContaining(['override', 'early']))
    const [waited = 0, wanted = 0] = second?.numbers ?? []
    expect(waited).toBe(2 * MINUTE)
    expect(wanted).toBeGreaterThan(2 * MINUTE)
  })

  test('a start that nobody said is estimated', () => {
    const shop = vanWith(BASE_CLEAR).at(10)
    queued(shop, 5, 'FinishCoat', { panels: [DOOR], cup: BASE_CUP })
    expect(marksOf(shop, 'coat')[0]?.flags).toContain('estimated')
  })
})

describe('air', () => {
  test('nobody read it: one open gap, no line', () => {
    const shop = sprayed()
    queued(shop.at(40), 40, 'ReadClimate', { zone: 'bench', airC: 20, rh: 0.5 })
    const rows = chart(shop).marks.filter(({ row }) => row === 'air booth')
    expect(rows.every(({ kind }) => kind === 'gap')).toBe(true)
    for (const { flags } of rows) expect(flags).toEqual(['notRecorded'])
  })

  test('a reading holds for 30 min, then nothing is known until the next', () => {
    const shop = sprayed(air(vanWith(BASE_CLEAR), 0, 20))
    coat(air(shop, 55, 22), CLEAR_CUP, 56, 58)
    const row = chart(shop).marks.filter(
      ({ row: is, kind }) => is === 'air booth' && kind !== 'movers',
    )
    expect(row.map(({ kind, ...m }) => [kind, ...minutes(m as Mark)])).toEqual([
      ['air', 0, 30],
      ['gap', 30, 55],
      ['air', 55, expect.any(Number)],
    ])
  })

  test('air movers are drawn from on to off', () => {
    const shop = air(vanWith(BASE_CLEAR), 0, 20)
    shop.at(3).do('SetAirMovers', { zone: 'booth', on: true })
    shop.at(9).do('SetAirMovers', { zone: 'booth', on: false })
    const found = marksOf(twoBases(shop), 'movers')
    expect(found.map(minutes)).toEqual([[3, 9]])
  })

  test('the dew margin by the formula of the WMO, for as long as a part reading holds', () => {
    // 25 °C at 70 %: dew point 19.1 °C (Magnus with the constants of WMO-No. 8), so 21 °C is 1.9 °C above.
    const shop = air(vanWith(BASE_CLEAR), 0, 25, 0.7, { surfaceC: 21 })
    const [dew] = marksOf(twoBases(shop), 'dew')
    expect(dew?.numbers?.[0]).toBeCloseTo(21 - 19.1, 1)
    expect(dew?.numbers?.[0]).toBeCloseTo(21 - dewPointC(25, 0.7), 6)
    expect(dew?.flags).toEqual(['under'])
    expect(minutes(dew as Mark)).toEqual([0, 10])
    const after = chart(shop).marks.find((m) => m.row === 'dew booth' && m.kind === 'gap')
    expect(minutes(after as Mark)[0]).toBe(10)
  })

  test('a surface that nobody measured is a gap, not a margin of the air', () => {
    const shop = twoBases(air(vanWith(BASE_CLEAR), 0, 25, 0.7))
    const row = chart(shop).marks.filter(({ row: is }) => is === 'dew booth')
    expect(row.map(({ kind }) => kind)).toEqual(['gap'])
  })

  function twoBases(shop: Shop): Shop {
    const override = { reason: 'warm air' }
    return coat(coat(shop, BASE_CUP, 10, 12, { override }), BASE_CUP, 24, 26, { override })
  }
})

test('a cup is drawn from its mixing; a coat from after its end is crossed', () => {
  const van = coat(coat(vanWith(BASE_CLEAR), BASE_CUP, 0, 2), BASE_CUP, 12, 14)
  coat(van, CLEAR_CUP, 300, 302, { override: { reason: 'no other cup' } })
  const [past] = marksOf(van, 'past')
  expect(past?.row).toBe(`cup ${CLEAR_CUP}`)
  expect(past?.flags).toEqual(['late'])
  const use = marksOf(van, 'use').find(({ row }) => row === `cup ${CLEAR_CUP}`)
  expect(use?.flags).toEqual(['late'])
  expect(use?.from).toBe(minute(300))
})

test('every mark stands in a row, and every row has a mark', () => {
  const { rows, marks } = chart(sprayed(air(vanWith(BASE_CLEAR), 0, 20)))
  const ids = rows.map(({ id }) => id)
  expect(new Set(ids).size).toBe(ids.length)
  expect([...new Set(marks.map(({ row }) => row))].toSorted()).toEqual(ids.toSorted())
})

describe('what was known at a moment', () => {
  /** The second base was told 20 min late, and the clear was taken back at 50. */
  function told(): Shop {
    const shop = coat(vanWith(BASE_CLEAR), BASE_CUP, 0, 2)
    queued(shop.at(30), 12, 'StartCoat', { panels: [DOOR], cup: BASE_CUP })
    queued(shop.at(30), 14, 'FinishCoat', { panels: [DOOR] })
    shop.at(34).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    const [finish] = shop.at(36).do('FinishCoat', { panels: [DOOR] })
    shop.at(50).do('VoidEntry', { entry: finish?.id, reason: 'WRONG_PART' })
    return shop
  }

  test('is what was recorded by then', () => {
    const { entries } = told()
    const at20 = traced(knownBy(entries, minute(20)))
    expect(at20.panels[0]?.coats.map(({ nth }) => nth)).toEqual([1])
    const at31 = traced(knownBy(entries, minute(31)))
    expect(at31.panels[0]?.coats.map(({ nth }) => nth)).toEqual([1, 2])
  })

  test('a late fact is drawn apart, from when it happened to when it was told', () => {
    const { entries } = told()
    const later = laterMarks(entries, minute(20))
    expect(later.map((m) => [m.what, ...minutes(m)])).toEqual([
      ['CoatStarted', 12, 30],
      ['CoatFinished', 14, 30],
    ])
    const whole = withLater(chart({ entries: knownBy(entries, minute(20)) }), later)
    expect(whole.rows.at(-1)?.kind).toBe('later')
    expect(laterMarks(entries, minute(31))).toEqual([])
  })

  test('a void of later stands at the time of what it took back', () => {
    const { entries } = told()
    expect(laterMarks(entries, minute(40)).map((m) => [m.what, m.flags, ...minutes(m)])).toEqual([
      ['CoatFinished', ['voided'], 36, 50],
    ])
    // Before that coat nobody knew of it: nothing was taken back from what was known.
    expect(laterMarks(entries, minute(35))).toEqual([])
    expect(laterMarks(entries, minute(51))).toEqual([])
  })

  test('cups and guns stand as they stood', () => {
    const shop = vanWith(BASE_CLEAR)
    mix(shop.at(5), 'FFFF2222', 'clear-2k')
    coat(shop, BASE_CUP, 6, 8, { gun: 'gun-1' })
    shop.at(20).do('EmptyCup', { cup: BASE_CUP, how: 'used' })
    shop.at(21).do('CleanGun', { gun: 'gun-1' })
    const then = (min: number) => traced(knownBy(shop.entries, minute(min))).state
    expect(cupsThen(then(4)).map(({ id }) => id)).not.toContain('FFFF2222')
    const clear = cupsThen(then(6)).find(({ id }) => id === 'FFFF2222')
    expect(clear?.endsAt).toBeGreaterThan(minute(6))
    expect(cupsThen(then(19)).find(({ id }) => id === BASE_CUP)?.isEmpty).toBe(false)
    expect(cupsThen(then(20)).find(({ id }) => id === BASE_CUP)?.isEmpty).toBe(true)
    expect(gunsThen(then(10), ['gun-1'])[0]?.name).not.toBeNull()
    expect(gunsThen(then(22), ['gun-1'])[0]?.name).toBeNull()
  })

  test('a bell that rang is answered only by what came by then', () => {
    const shop = coat(vanWith(BASE_CLEAR), BASE_CUP, 0, 2)
    shop.at(11)
    const [bell] = [`coatReady:${DOOR}`]
    const entry = (type: string, at: number) => ({
      ...{ ...(shop.entries.at(-1) as Shop['entries'][number]), id: `${type}.${at}` },
      ...{ type, at, data: { key: bell } },
    })
    const all = [entry('BellRang', minute(10)), entry('BellAcknowledged', minute(12))]
    expect(bellsThen(all.slice(0, 1))).toMatchObject([{ bell: 'coatReady', answer: null }])
    expect(bellsThen(all)).toMatchObject([{ answer: 'BellAcknowledged', answeredAt: minute(12) }])
  })
})

describe('what came late', () => {
  test('says when it was recorded: a coat by its start or its finish, and a reading', () => {
    const shop = coat(vanWith(BASE_CLEAR), BASE_CUP, 0, 2)
    queued(shop.at(30), 12, 'StartCoat', { panels: [DOOR], cup: BASE_CUP })
    shop.at(31).do('FinishCoat', { panels: [DOOR] })
    queued(shop.at(50), 10, 'ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
    const [first, second] = marksOf(shop, 'coat')
    expect(first?.recordedAt).toBeUndefined()
    expect(second?.recordedAt).toBe(minute(30))
    expect(marksOf(shop, 'air').map(({ recordedAt }) => recordedAt)).toEqual([minute(50)])
    const ended = queued(shop.at(70), 60, 'ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
    expect(lateIn(shop.entries).get(ended[0]?.id ?? '')).toBe(minute(70))
  })

  test('is not said of a pass that one press ended: its earlier ends are reckoned back', () => {
    const shop = vanWith(BASE_CLEAR)
    addPanel(shop, BASE_CLEAR, { panel: WING, name: 'Wing' })
    const panels = [DOOR, WING]
    shop.at(10).do('StartCoat', { panels, cup: BASE_CUP })
    const ends = shop.at(16).do('FinishCoat', { panels, ordered: true })
    expect(ends.map(({ at }) => at)).toEqual([minute(15), minute(16)])
    expect(lateIn(shop.entries).size).toBe(0)
  })

  test('is not said of a press that waited some seconds', () => {
    const shop = vanWith(BASE_CLEAR).at(5)
    const [entry] = queued(shop, 4.5, 'ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
    expect(lateIn(shop.entries).has(entry?.id ?? '')).toBe(false)
  })
})

test('zones and guns are called what the shop calls them, else by their ids', () => {
  const shop = air(vanWith(BASE_CLEAR), 0, 20)
  const namesOf = (kind: string) =>
    chart(shop).rows.flatMap((row) => (row.kind === kind ? [row.name] : []))
  coat(shop, BASE_CUP, 1, 2, { gun: 'gun-1' })
  expect([namesOf('air'), namesOf('gun')]).toEqual([['booth'], ['gun-1']])
  shop.at(3).do('SaveZone', { zone: 'booth', name: 'Big booth' })
  shop.at(3).do('SaveGun', { gun: 'gun-1', name: 'Base gun, green' })
  expect([namesOf('air'), namesOf('gun')]).toEqual([['Big booth'], ['Base gun, green']])
  expect(gunsThen(traced(shop.entries).state, ['gun-1'])[0]?.called).toBe('Base gun, green')
})

describe('the axis', () => {
  const whole = { from: minute(0), to: minute(600) }

  test('has round times of the shop, never more than fit', () => {
    const ticks = ticksOf(whole, 600, 0)
    expect(ticks.length).toBeGreaterThan(1)
    expect(ticks.length).toBeLessThan(10)
    for (const at of ticks) expect(at % (30 * MINUTE)).toBe(0)
  })

  test('comes closer about its middle and never leaves the whole', () => {
    const near = zoomed(whole, whole, 0.5)
    expect(near.to - near.from).toBe(300 * MINUTE)
    expect(zoomed(near, whole, 100)).toEqual(whole)
    expect(placesOf(whole, 600)(minute(300))).toBe(300)
  })
})
