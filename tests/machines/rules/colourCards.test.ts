import { describe, expect, test } from 'vitest'
import { type CommandType, checkInput } from '../../../machines/commands.ts'
import { verdictOf, worstOf } from '../../../machines/job/cards.ts'
import { contextOf } from '../../../machines/state.ts'
import reference from '../../reference/ciede2000.json'
import { addPanel, DOOR, JOB, mix, refusalOf, said, shopWith, WING } from '../../support/given.ts'
import { BASE } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

const MID = { ...BASE, sheet: 'mid-1', name: 'Pearl midcoat', stage: 'midcoat' } as const
const ROUTE = [
  { stage: 'base', sheet: BASE.sheet, colour: 'body' },
  { stage: 'midcoat', sheet: MID.sheet, colour: 'body' },
]
const CUP = 'BBBB2222'
const TINTED = 'TTTT2222'

function job(): Shop {
  const shop = shopWith([BASE, MID])
  shop.do('OpenJob', {
    job: JOB,
    title: 'Van',
    colours: [{ key: 'body', code: 'P-1', kind: 'three-stage' }],
  })
  return addPanel(shop, ROUTE)
}

/** A card that is lighter than its panel: at L* 50 a step of 1 is about 1 of CIEDE2000. */
const card = (shop: Shop, name: string, lighter: number, more: object = {}) =>
  shop.do('MeasureColourCard', {
    job: JOB,
    colour: 'body',
    card: name,
    angles: [
      { deg: 15, panel: [50, 0, 0], card: [50 + lighter, 0, 0] },
      { deg: 45, panel: [40, 0, 0], card: [40, 0, 0] },
    ],
    ...more,
  })

const cards = (shop: Shop) => contextOf(shop.state, 'job', JOB)?.cards ?? []
const levels = (shop: Shop, atGun: boolean) =>
  shop.do('ChangeSettings', { colour: { match: 1, blend: 2, atGun } })

describe('a card beside its panel', () => {
  test('every angle has its CIEDE2000 to four decimals (Sharma, Wu and Dalal 2005, Table 1)', () => {
    const shop = job()
    const five = reference.pairs.slice(0, 5)
    const angles = five.map(({ lab1, lab2 }, i) => ({ deg: 15 + i * 15, panel: lab1, card: lab2 }))
    shop.do('MeasureColourCard', { job: JOB, colour: 'body', card: 'A', angles })
    const measured = cards(shop)[0]
    five.forEach(({ dE00 }, i) => {
      expect(measured?.angles[i]?.deltaE00).toBeCloseTo(dE00, 4)
    })
    expect(worstOf(measured as never)).toBeCloseTo(Math.max(...five.map((p) => p.dE00)), 4)
  })

  test('the worst angle decides, by the shop’s own levels; without them nothing is judged', () => {
    expect([0.9, 1, 1.01, 2, 2.01].map((de) => verdictOf(de, { match: 1, blend: 2 }))).toEqual([
      'match',
      'match',
      'blendable',
      'blendable',
      'retint',
    ])
    expect(verdictOf(5, undefined)).toBe(null)
  })

  test('the levels of its day stay with it', () => {
    const shop = job()
    card(shop, 'A', 1)
    levels(shop, false)
    card(shop, 'B', 1, { variant: 'V2', tint: 'T1' })
    shop.do('ChangeSettings', { colour: { match: 3, blend: 4, atGun: false } })
    expect(cards(shop).map((one) => [one.card, one.tint, one.levels])).toEqual([
      ['A', undefined, undefined],
      ['B', 'T1', { match: 1, blend: 2 }],
    ])
  })

  test('measured again, a card has its last figures, and is no longer the chosen one', () => {
    const shop = job()
    card(shop, 'A', 3)
    shop.do('ChooseColourCard', { job: JOB, colour: 'body', card: 'A' })
    expect(cards(shop)[0]?.isChosen).toBe(true)
    card(shop, 'A', 1)
    expect(cards(shop)).toHaveLength(1)
    expect(cards(shop)[0]?.isChosen).toBe(undefined)
  })

  test.each([
    ['six angles', { angles: [0, 1, 2, 3, 4, 5].map(angleAt) }, 'data.angles'],
    ['none', { angles: [] }, 'data.angles'],
    ['one twice', { angles: [angleAt(15), angleAt(15)] }, 'data.angles'],
    ['L* of 101', { angles: [{ deg: 15, panel: [101, 0, 0], card: [50, 0, 0] }] }, 'panel.0'],
    ['nine midcoats', { midcoats: 9 }, 'data.midcoats'],
  ])('%s is refused by name', (_, wrong, field) => {
    const data = { job: JOB, colour: 'body', card: 'A', angles: [angleAt(15)], ...wrong }
    expect(fieldOf('MeasureColourCard', data)).toContain(field)
  })

  test('a color that the job does not have, a card that nobody measured', () => {
    const shop = job()
    const angles = [angleAt(15)]
    const other = shop.send('MeasureColourCard', { job: JOB, colour: 'roof', card: 'A', angles })
    expect(refusalOf(other).message).toBe('There is no color roof here. Use one of body.')
    card(shop, 'A', 1)
    const choice = shop.send('ChooseColourCard', { job: JOB, colour: 'body', card: 'C' })
    expect(refusalOf(choice).message).toBe('There is no card C here. Use one of A.')
  })

  test('a measurement on which a choice rests is not voided', () => {
    const shop = job()
    const [entry] = card(shop, 'A', 1)
    shop.do('ChooseColourCard', { job: JOB, colour: 'body', card: 'A' })
    const answer = shop.send('VoidEntry', { entry: entry?.id, reason: 'MISTAP' })
    expect(refusalOf(answer).code).toBe('entryInUse')
  })

  test('levels the wrong way round are refused', () => {
    const colour = { match: 2, blend: 1, atGun: false }
    expect(fieldOf('ChangeSettings', { colour })).toBe('data.colour.blend')
  })
})

/** The first field that a command's own shape does not take. */
function fieldOf(type: CommandType, data: object): string {
  const checked = checkInput(type, data)
  return checked.ok ? '' : checked.error.field
}

function angleAt(deg: number) {
  return { deg, panel: [50, 0, 0], card: [51, 0, 0] }
}

describe('the let-down panel', () => {
  const midcoats = (shop: Shop, panel: string) =>
    contextOf(shop.state, 'panel', panel)?.route.find(({ stage }) => stage === 'midcoat')?.coats

  test('its chosen card sets the midcoats of every panel, in one touch', () => {
    const shop = addPanel(job(), ROUTE, { panel: WING, name: 'Side' })
    card(shop, 'A', 2, { midcoats: 2 })
    card(shop, 'B', 0, { midcoats: 4 })
    shop.do('ChooseColourCard', { job: JOB, colour: 'body', card: 'B' })
    for (const panel of [DOOR, WING])
      expect(midcoats(shop, panel)).toEqual({ least: 4, planned: 4, most: 4 })
    shop.do('ChooseColourCard', { job: JOB, colour: 'body', card: 'A' })
    expect(midcoats(shop, DOOR)).toMatchObject({ least: 2, planned: 2 })
  })

  test('a panel that was passed, and one of another color, keep their routes', () => {
    const shop = addPanel(
      job(),
      ROUTE.map((step) => ({ ...step, colour: undefined })),
      { panel: WING, name: 'Side' },
    )
    const before = midcoats(shop, WING)
    shop.do('PassPanel', { panel: DOOR, override: { reason: 'sold as it is' } })
    card(shop, 'B', 0, { midcoats: 4 })
    const facts = shop.do('ChooseColourCard', { job: JOB, colour: 'body', card: 'B' })
    expect(facts.map(({ type }) => type)).toEqual(['ColourCardChosen'])
    expect(midcoats(shop, WING)).toEqual(before)
  })
})

describe('at the gun', () => {
  const start = (shop: Shop, cup = CUP, more: object = {}) =>
    shop.fork().send('StartCoat', { panels: [DOOR], cup, ...more })

  function mixed(): Shop {
    const shop = job()
    mix(shop, CUP, BASE.sheet, { job: JOB, colour: 'body' })
    return mix(shop, TINTED, BASE.sheet, { job: JOB, colour: 'body', tint: 'T1' })
  }

  test('nobody is stopped unless the shop wants it so', () => {
    const shop = mixed()
    expect(said(start(shop))).toBe('done')
    levels(shop, false)
    card(shop, 'A', 5)
    expect(said(start(shop))).toBe('done')
  })

  test('who wants it is stopped without a card, and by one that wants tinting; a reason goes on', () => {
    const shop = mixed()
    levels(shop, true)
    expect(refusalOf(start(shop)).message).toBe(
      'Rear door: No card of color body was measured with this mix. Measure one first.',
    )
    card(shop, 'A', 5)
    expect(refusalOf(start(shop)).message).toMatch(
      /^Rear door: Card A is \d\.\d from the panel \(ΔE00\); the shop blends up to 2\. Tint it again\.$/,
    )
    expect(said(start(shop, CUP, { override: { reason: 'the owner saw it' } }))).toBe('done')
    card(shop, 'B', 1)
    expect(said(start(shop))).toBe('done')
  })

  test('a tinted cup is judged by the card of its tint, the other cup by its own', () => {
    const shop = mixed()
    levels(shop, true)
    card(shop, 'A', 1)
    card(shop, 'B', 5, { tint: 'T1' })
    expect(said(start(shop))).toBe('done')
    expect(refusalOf(start(shop, TINTED)).code).toBe('colourOff')
  })

  test('the chosen card speaks before one that was measured later', () => {
    const shop = mixed()
    levels(shop, true)
    card(shop, 'A', 1)
    card(shop, 'B', 5)
    expect(refusalOf(start(shop)).code).toBe('colourOff')
    shop.do('ChooseColourCard', { job: JOB, colour: 'body', card: 'A' })
    expect(said(start(shop))).toBe('done')
  })
})

describe('what is decided of a neighbor', () => {
  const decide = (shop: Shop, more: object) =>
    shop.send('DecideBlend', {
      job: JOB,
      body: 'van',
      on: 'right-side-door',
      beside: ['right-rear-side'],
      blend: true,
      ...more,
    })
  const wrong = (more: object) => {
    const answer = decide(job(), more)
    if (!('error' in answer)) throw new Error('was taken')
    return answer.error
  }

  test('the last word counts, and why it was dropped is kept', () => {
    const shop = job()
    decide(shop, { reachCm: 70 })
    decide(shop, { blend: false, reason: 'the card matches' })
    expect(contextOf(shop.state, 'job', JOB)?.blends).toEqual([
      {
        body: 'van',
        on: 'right-side-door',
        beside: ['right-rear-side'],
        blend: false,
        reason: 'the card matches',
      },
    ])
  })

  test('dropping it without a reason is refused', () => {
    const data = { job: JOB, body: 'van', on: 'roof', beside: ['hood'], blend: false }
    expect(fieldOf('DecideBlend', data)).toBe('data.reason')
  })

  test('a panel that the body does not have, and one that stands elsewhere', () => {
    expect(wrong({ on: 'trunk-lid' })).toMatchObject({ field: 'data.on', code: 'panelOfBody' })
    expect(wrong({ beside: ['tailgate'] })).toMatchObject({
      field: 'data.beside.0',
      code: 'panelOfBody',
    })
    expect(wrong({ beside: ['hood'] })).toMatchObject({
      field: 'data.beside.0',
      code: 'besidePanel',
    })
  })
})
