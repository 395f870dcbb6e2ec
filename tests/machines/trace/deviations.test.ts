import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import type { Entry } from '../../../machines/envelope.ts'
import { deviationsIn } from '../../../machines/trace/deviations.ts'
import {
  air,
  BASE_CLEAR,
  BASE_CUP,
  CLEAR_CUP,
  coat,
  DOOR,
  mix,
  queued,
  vanWith,
} from '../../support/given.ts'
import { minute, type Shop } from '../../support/shop.ts'

/** What is told of a job's limits that were broken. */

const told = (shop: Shop) => deviationsIn(shop.entries)
const short = (shop: Shop) =>
  told(shop)
    .filter(({ kind }) => kind !== 'notJudged')
    .map(({ kind, code, excess, disposition }) => [kind, code, excess?.amount, disposition.is])

describe('a deviation says its limit, what was found, by how much and where', () => {
  test('a coat sprayed against its flash, with a reason', () => {
    const shop = coat(vanWith(BASE_CLEAR), BASE_CUP, 0, 2)
    shop.at(6).do('StartCoat', {
      panels: [DOOR],
      cup: BASE_CUP,
      override: { reason: 'the booth is needed' },
    })
    const [one] = told(shop).filter(({ kind }) => kind === 'override')
    // 8 min after minute 2 at 20 °C, and the start came at 6: 4 of 8 min are missing.
    expect(one).toMatchObject({
      code: 'flashNotOver',
      limit: minute(10),
      value: minute(6),
      excess: { amount: 240_000, unit: 'ms', share: 0.5 },
      where: { panel: DOOR, panelName: 'Rear door', stage: 'base', coat: 2, cup: BASE_CUP },
      reason: 'the booth is needed',
      disposition: { is: 'accept', reason: 'the booth is needed' },
      isVoided: false,
    })
    expect(shop.entries[(one?.position ?? 0) - 1]?.id).toBe(one?.entry)
  })

  test('air that is too cold and too damp is two of them', () => {
    const shop = air(vanWith(BASE_CLEAR), 0, 12, 0.95)
    queued(shop.at(2), 1, 'StartCoat', { panels: [DOOR], cup: BASE_CUP })
    const found = told(shop).filter(({ code }) => code === 'airOutside')
    expect(found.map(({ side, limit, value }) => [side, limit, value])).toEqual([
      ['low', 15, 12],
      ['humid', 0.85, 0.95],
    ])
    expect(found.map(({ excess }) => excess?.unit)).toEqual(['C', 'rh'])
    expect(found[0]?.excess?.amount).toBe(3)
  })

  test('what nobody could judge is no broken limit', () => {
    const shop = coat(vanWith(BASE_CLEAR), BASE_CUP, 0, 2)
    const found = told(shop)
    expect(found.map(({ kind, code }) => `${kind} ${code}`)).toEqual([
      'notJudged airOutside',
      'notJudged dewPoint',
    ])
    expect(found.every(({ limit, excess }) => limit === null && excess === null)).toBe(true)
  })
})

describe('what was decided about it', () => {
  /** A coat with a cup that is 20 min past its pot life of 60 min, said late. */
  function late(): Shop {
    const shop = coat(coat(vanWith(BASE_CLEAR), BASE_CUP, 0, 2), BASE_CUP, 12, 14)
    shop.at(90)
    queued(shop, 80, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    queued(shop, 82, 'FinishCoat', { panels: [DOOR] })
    return shop
  }

  test('nothing: it is watched', () => {
    expect(short(late())).toEqual([['outside', 'potLifeOver', 1_200_000, 'watch']])
    expect(told(late()).find(({ code }) => code === 'potLifeOver')?.excess?.share).toBeCloseTo(
      1 / 3,
    )
  })

  test('the rest of the cup was thrown away', () => {
    const shop = late()
    shop.at(91).do('EmptyCup', { cup: CLEAR_CUP, how: 'discarded' })
    expect(short(shop)).toEqual([['outside', 'potLifeOver', 1_200_000, 'discard']])
  })

  test('the panel was sent back, which goes before the cup', () => {
    const shop = late()
    shop.at(91).do('EmptyCup', { cup: CLEAR_CUP, how: 'discarded' })
    shop.at(92).do('SendBackPanel', { panel: DOOR, toStep: 1, done: 0, reason: 'soft' })
    expect(short(shop)).toEqual([['outside', 'potLifeOver', 1_200_000, 'rework']])
  })

  test('an entry taken back stays listed with its void, and says so', () => {
    const shop = late()
    const start = shop.entries.findLast(({ type }) => type === 'CoatStarted') as Entry
    const finish = shop.entries.findLast(({ type }) => type === 'CoatFinished') as Entry
    shop.at(93).do('VoidEntry', { entry: finish.id, reason: 'WRONG_PART' })
    shop.at(93).do('VoidEntry', { entry: start.id, reason: 'WRONG_PART' })
    const found = told(shop).filter(({ kind }) => kind !== 'notJudged')
    expect(found.map(({ kind, isVoided }) => [kind, isVoided])).toEqual([
      ['outside', true],
      ['void', false],
      ['void', false],
    ])
    expect(found[2]).toMatchObject({ code: 'CoatStarted', value: start.id, reason: 'WRONG_PART' })
    expect(found[2]?.where).toMatchObject({ panel: DOOR, stage: 'clear' })
  })
})

test('the same in any order of the entries, and of a mix that is no job', () => {
  const shop = coat(vanWith(BASE_CLEAR), BASE_CUP, 0, 2)
  shop.at(3).do('StartCoat', { panels: [DOOR], cup: BASE_CUP, override: { reason: 'hurry' } })
  mix(shop, 'FFFF2222', 'clear-2k')
  expect(deviationsIn(shop.entries.toReversed())).toEqual(told(shop))
  expect(deviationsIn([])).toEqual([])
})

test('the golden log tells what its entries are marked with, each mark once', () => {
  const entries = readFileSync(new URL('../../logs/0.1.0-van.jsonl', import.meta.url), 'utf8')
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as Entry)
  const found = deviationsIn(entries)
  const of = (kind: string) => found.filter((one) => one.kind === kind)
  const count = (each: (e: Entry) => number) => entries.reduce((sum, e) => sum + each(e), 0)
  expect(of('notJudged')).toHaveLength(count((e) => e.notJudged?.length ?? 0))
  expect(of('void')).toHaveLength(entries.filter(({ type }) => type === 'EntryVoided').length)
  expect(new Set(of('outside').map(({ entry, code }) => `${entry} ${code}`)).size).toBe(
    count((e) => e.outside?.length ?? 0),
  )
  expect(of('override').length).toBe(count((e) => e.override?.broken.length ?? 0))
  expect(of('notJudged').length * of('void').length).toBeGreaterThan(0)
})
