import { describe, expect, test } from 'vitest'
import { deviationsIn } from '../../../machines/trace/deviations.ts'
import { causesIn, traced } from '../../../machines/trace/trace.ts'
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
  shopWith,
  vanWith,
} from '../../support/given.ts'
import { MINUTE, minute, type Shop } from '../../support/shop.ts'
import { SimulatedJob } from '../../support/simulatedJob.ts'
import { seeded, soundPlan } from '../../support/simulatedPlan.ts'

/** Jobs that were recorded badly, each told as it is. */

const ask = (shop: Pick<Shop, 'entries'>, defect: Parameters<typeof causesIn>[1]['defect']) =>
  causesIn(traced(shop.entries), { defect, panels: [DOOR] })
const causeOf = (shop: Pick<Shop, 'entries'>, defect: Parameters<typeof ask>[1], id: string) =>
  ask(shop, defect).causes.find((cause) => cause.id === id)
/** Base twice and clear once, by the clock. */
const sprayed = () =>
  coat(coat(coat(vanWith(BASE_CLEAR), BASE_CUP, 0, 2), BASE_CUP, 12, 14), CLEAR_CUP, 32, 34)

test('nothing at all, and a job on which nothing was sprayed', () => {
  expect(traced([])).toMatchObject({ panels: [], findings: [] })
  const shop = addPanel(shopWith(), BASE_CLEAR)
  const { causes, decides, missingLayers } = ask(shop, 'solventPop')
  expect(decides).toBe(false)
  expect(causes.every(({ verdict }) => verdict === 'notRecorded')).toBe(true)
  expect(missingLayers).toEqual(['top'])
})

test('no readings: air is not recorded, which speaks neither for nor against', () => {
  const shop = sprayed()
  for (const id of ['humid', 'dewNear']) {
    expect(causeOf(shop, 'blushing', id)).toMatchObject({
      ...{ verdict: 'notRecorded', speaksFor: [], against: [], notRecorded: [id] },
    })
  }
  expect(ask(shop, 'blushing').decides).toBe(false)
})

test('a defect on a panel that was never cleared names the layer that is missing', () => {
  const shop = coat(coat(vanWith(BASE_CLEAR), BASE_CUP, 0, 2), BASE_CUP, 12, 14)
  const { missingLayers, causes } = ask(shop, 'dieback')
  expect(missingLayers).toContain('clear')
  expect(causes.find(({ id }) => id === 'cupOld')?.verdict).toBe('notRecorded')
})

describe('a coat that was taken back', () => {
  /** The second base goes on after 1 of 8 min, and was never there. */
  function voided(): Shop {
    const shop = coat(vanWith(BASE_CLEAR), BASE_CUP, 0, 2)
    shop.at(3)
    const [start] = shop.do('StartCoat', {
      ...{ panels: [DOOR], cup: BASE_CUP, override: { reason: 'hurry' } },
    })
    const [finish] = shop.at(5).do('FinishCoat', { panels: [DOOR] })
    shop.at(6).do('VoidEntry', { entry: finish?.id, reason: 'WRONG_PART' })
    shop.at(6).do('VoidEntry', { entry: start?.id, reason: 'WRONG_PART' })
    return coat(coat(shop, BASE_CUP, 14, 16), CLEAR_CUP, 40, 42)
  }

  test('causes nothing, and the coats around it wait for one another', () => {
    const shop = voided()
    const [panel] = traced(shop.entries).panels
    expect(panel?.coats.map(({ nth, wait }) => [nth, wait?.fromMs])).toEqual([
      ...[
        [1, undefined],
        [2, minute(2)],
        [1, minute(16)],
      ],
    ])
    expect(causeOf(shop, 'solventPop', 'flashShort')?.speaksFor).toEqual([])
  })

  test('is listed as what it is', () => {
    const found = deviationsIn(voided().entries).filter(({ kind }) => kind !== 'notJudged')
    expect(found.map(({ kind, isVoided }) => [kind, isVoided])).toEqual([
      ...[
        ['override', true],
        ['void', false],
        ['void', false],
      ],
    ])
  })
})

test('entries that come three days late, in any order, tell the same job', () => {
  const inTime = sprayed()
  const late = vanWith(BASE_CLEAR).at(3 * 1_440)
  const presses: [number, string, object][] = [
    [32, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP }],
    [12, 'StartCoat', { panels: [DOOR], cup: BASE_CUP }],
    [0, 'StartCoat', { panels: [DOOR], cup: BASE_CUP }],
    [34, 'FinishCoat', { panels: [DOOR] }],
    [2, 'FinishCoat', { panels: [DOOR] }],
    [14, 'FinishCoat', { panels: [DOOR] }],
  ]
  for (const [min, type, data] of presses) queued(late, min, type, data)
  const told = (shop: Shop) =>
    traced(shop.entries).panels[0]?.coats.map((c) => [c.stage, c.nth, c.startedAt, c.wait])
  expect(told(late)).toEqual(told(inTime))
})

test('a clock that stood wrong for a coat: no wait is longer than it was, none is negative', () => {
  const shop = sprayed()
  // The kiosk that pressed it was 40 min behind: the finish of the clear lies before its start.
  queued(shop.at(60), 20, 'FinishCoat', { panels: [DOOR], startedAt: minute(10) })
  shop.do('ReportClockJump', { fromMs: minute(60), toMs: minute(20) })
  const { panels, findings } = traced(shop.entries)
  for (const { wait, startedAt } of panels.flatMap(({ coats }) => coats))
    expect(wait === null || startedAt >= wait.fromMs - 60 * MINUTE).toBe(true)
  for (const { value } of findings) expect(Number.isNaN(value)).toBe(false)
  expect(
    findings.filter(({ signal }) => signal === 'flashShort').every((f) => (f.value ?? 0) >= 0),
  ).toBe(true)
})

test('the same whatever order the entries are given in', () => {
  const shop = air(sprayed(), 40, 21, 0.5)
  mix(shop, 'FFFF2222', 'clear-2k')
  expect(traced(shop.entries.toReversed()).findings).toEqual(traced(shop.entries).findings)
})

test('5,000 entries on one job are the same job', () => {
  const { entries } = new SimulatedJob(soundPlan(seeded(3)))
  const last = entries.at(-1) as (typeof entries)[number]
  const looks = Array.from({ length: 5_000 }, (_, i) => ({
    ...{ ...last, id: `look-${i}.0`, command: `look-${i}`, type: 'CoatInspected' },
    ...{ panel: 'SPPP2222', at: minute(1) + i * 1_000, seq: 10_000 + i, data: { result: 'good' } },
  }))
  const [few, many] = [traced(entries), traced([...entries, ...looks])]
  expect(many.panels[0]?.coats).toEqual(few.panels[0]?.coats)
  expect(many.findings).toEqual(few.findings)
  // One more before any coat is on is not taken, and changes nothing.
  expect(many.panels[0]?.hands.length).toBeGreaterThan(1_000)
})
