import { describe, expect, test } from 'vitest'
import { said, shopWith } from '../../support/given.ts'
import { SHEETS } from '../../support/randomSheets.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import { Shop } from '../../support/shop.ts'

/** A sheet that contradicts itself was typed wrong: the field is named, and nothing is saved. */

const at20 = (minutes: number) => [{ atC: 20, minutes }]
const ACTIVATOR = { name: 'slow', fromC: 20, toC: 30 }
const save = (more: object, own: object = CLEAR) =>
  new Shop().send('SaveSheet', { sheet: { ...own, ...more } })
const answerTo = (more: object, own: object = CLEAR): { field: string; message: string } => {
  try {
    new Shop().parse('SaveSheet', { sheet: { ...own, ...more } })
    return { field: '', message: '' }
  } catch (error) {
    const message = (error as Error).message
    return { field: message.split(': ')[0] ?? '', message }
  }
}

describe('a sheet that contradicts itself is not taken', () => {
  test.each<[what: string, more: object, field: string]>([
    ['a coldest air above the warmest', { limits: { minC: 35, maxC: 15 } }, 'limits.maxC'],
    [
      'an activator from a warmer to a colder air',
      { activators: [{ ...ACTIVATOR, fromC: 31 }] },
      'activators.0.toC',
    ],
    ['a reducer the same', { reducers: [{ ...ACTIVATOR, toC: 19.5 }] }, 'reducers.0.toC'],
    [
      'two activators of one name',
      { activators: [ACTIVATOR, { ...ACTIVATOR, fromC: 10 }] },
      'activators.1.name',
    ],
    [
      'more water than volatiles',
      { components: [{ ...BASE.components[0], volatile: 0.5, water: 0.6 }] },
      'components.0.volatile',
    ],
  ])('%s', (_, more, field) => {
    expect(answerTo(more).field).toBe(`data.sheet.${field}`)
    expect(answerTo(more).message).toContain('Use ')
  })

  test('the sentence names the field, what was given and what is accepted', () => {
    expect(answerTo({ limits: { minC: 35, maxC: 15 } }).message).toBe(
      "data.sheet.limits.maxC: 15 won't work. Use a temperature no lower than minC, 35 °C.",
    )
  })

  test('coats least above planned: as before', () => {
    expect(answerTo({ coats: { least: 3, planned: 2, most: 3 } }).field).toBe('data.sheet.coats')
  })
})

describe('a sheet that may be meant as it is, is taken', () => {
  test.each<[string, object]>([
    [
      'a band that ends before the window shuts',
      { recoatWithin: at20(480), recoatAgainAfter: at20(60) },
    ],
    ['a band where it must be sanded', { recoatWithin: 'mustSand', recoatAgainAfter: at20(60) }],
    ['a flash longer than the window', { flashBetween: at20(500) }],
    ['a floor above the flash', { flashBy: 'appearance', floorMin: 11 }],
    ['a mix that is over before it has stood', { induction: at20(61) }],
    [
      'two waits over one stage',
      { over: [{ stage: 'base' }, { stage: 'base', recoatWithin: at20(60) }] },
    ],
    ['one warm and one cold limit that are the same', { limits: { minC: 20, maxC: 20 } }],
    ['an activator for one temperature', { activators: [{ ...ACTIVATOR, toC: 20 }] }],
  ])('%s', (_, more) => {
    expect(said(save(more))).toBe('done')
  })

  test('and so are all the sheets of the other tests', () => {
    expect(shopWith(SHEETS).entries.filter((e) => e.type === 'SheetSaved')).toHaveLength(
      SHEETS.length,
    )
  })
})
