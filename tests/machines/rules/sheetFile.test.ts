import { describe, expect, test } from 'vitest'
import { currentSheets } from '../../../machines/plan/route.ts'
import { usualRoute } from '../../../machines/plan/usualRoute.ts'
import { previewOf, sheetFileOf } from '../../../machines/sheet/file.ts'
import { settingsOf } from '../../../machines/shop/settings.ts'
import { contextOf } from '../../../machines/state.ts'
import { shopWith } from '../../support/given.ts'
import { BASE, CLEAR, SEALER } from '../../support/sheets.ts'
import { Shop } from '../../support/shop.ts'

const file = (...sheets: readonly object[]) => ({ format: 'flashbell-sheets', version: 1, sheets })
const versionsOf = (shop: Shop, sheet: string) =>
  contextOf(shop.state, 'sheet', sheet)?.versions.map(({ version }) => version)

describe('sheets as a file', () => {
  test('come into another shop as they were, and out of it the same', () => {
    const one = shopWith()
    const other = new Shop()
    const written = JSON.parse(JSON.stringify(sheetFileOf(one.state)))
    other.do('ImportSheets', written)
    expect(sheetFileOf(other.state)).toEqual(sheetFileOf(one.state))
    expect(previewOf(other.state, sheetFileOf(one.state).sheets).map(({ is }) => is)).toEqual([
      'same',
      'same',
      'same',
    ])
  })

  test('are looked at first: which are new, changed in which fields, or as they are', () => {
    const shop = shopWith([BASE, CLEAR])
    const changed = { ...CLEAR, keepDays: 3, flashBetween: [{ atC: 20, minutes: 12 }] }
    const { sheets } = sheetFileOf(shopWith([BASE, changed, SEALER]).state)
    expect(
      previewOf(shop.state, sheets).map(({ sheet, is, fields }) => [sheet, is, fields]),
    ).toEqual([
      ['clear-2k', 'changed', ['flashBetween', 'keepDays']],
      ['sealer-2k', 'new', []],
      ['base-solvent', 'same', []],
    ])
  })

  test('make a new version of what is changed, and none of what is the same', () => {
    const shop = shopWith([BASE, CLEAR])
    const entries = shop.do('ImportSheets', file(BASE, { ...CLEAR, keepDays: 3 }, SEALER))
    expect(entries.map(({ type, sheet }) => [type, sheet])).toEqual([
      ['SheetSaved', 'clear-2k'],
      ['SheetSaved', 'sealer-2k'],
    ])
    expect([versionsOf(shop, 'base-solvent'), versionsOf(shop, 'clear-2k')]).toEqual([[1], [1, 2]])
  })

  test('bring a retired sheet back, and leave it out while it is retired', () => {
    const shop = shopWith([BASE, CLEAR])
    shop.do('RetireSheet', { sheet: BASE.sheet })
    expect(sheetFileOf(shop.state).sheets.map(({ sheet }) => sheet)).toEqual(['clear-2k'])
    expect(shop.do('ImportSheets', file(BASE))).toHaveLength(1)
    expect(contextOf(shop.state, 'sheet', BASE.sheet)?.retiredAt).toBeNull()
  })

  test.each([
    [
      'one of them is wrong',
      file(BASE, { ...CLEAR, medium: 'oil' }),
      'data.sheets.1.medium: "oil"',
    ],
    ['it is of another version', { ...file(BASE), version: 2 }, 'data.version: 2'],
    ['it is another file', { ...file(BASE), format: 'other' }, 'data.format: "other"'],
    ['one is in it twice', file(BASE, BASE), 'data.sheets'],
    ['none is in it', file(), 'data.sheets'],
  ])('are taken all or none: %s', (_, data, sentence) => {
    const shop = new Shop()
    expect(() => shop.do('ImportSheets', data)).toThrow(sentence)
    expect(sheetFileOf(shop.state).sheets).toEqual([])
  })
})

describe('a route kept as the usual one', () => {
  const OWN = [
    { stage: 'prep', work: 'degrease' },
    { stage: 'base', sheet: BASE.sheet, colour: 'old', coats: { planned: 3 } },
    { stage: 'clear', sheet: CLEAR.sheet },
  ]
  const routeIn = (shop: Shop, operation: 'repair' | 'blend', isPlastic = false) =>
    usualRoute(
      operation,
      isPlastic,
      currentSheets(shop.state),
      'body',
      settingsOf(shop.state).usualRoutes,
    )
  const keep = (shop: Shop, route: readonly object[], isPlastic = false) =>
    shop.do('ChangeSettings', { usualRoutes: [{ operation: 'repair', isPlastic, route }] })

  test('is taken for its operation, in the color of the job', () => {
    const shop = shopWith()
    keep(shop, OWN)
    expect(routeIn(shop, 'repair')).toMatchObject([
      { stage: 'prep', work: 'degrease' },
      { stage: 'base', sheet: BASE.sheet, colour: 'body', coats: { planned: 3 } },
      { stage: 'clear', sheet: CLEAR.sheet },
    ])
    expect(routeIn(shop, 'blend')).not.toMatchObject([{ work: 'degrease' }])
    expect(routeIn(shop, 'repair', true)).not.toMatchObject([{ work: 'degrease' }])
  })

  test('is kept for each operation and for plastic, the last word of each, and dropped again', () => {
    const shop = shopWith()
    keep(shop, OWN)
    keep(shop, OWN.slice(1), true)
    keep(shop, OWN.slice(2))
    expect(
      settingsOf(shop.state).usualRoutes?.map(({ isPlastic, route }) => [isPlastic, route.length]),
    ).toEqual([
      [true, 2],
      [false, 1],
    ])
    keep(shop, [])
    expect(settingsOf(shop.state).usualRoutes).toHaveLength(1)
  })

  test('takes another sheet of its stage where its own is out of use', () => {
    const shop = shopWith()
    keep(shop, OWN)
    shop.do('SaveSheet', { sheet: { ...BASE, sheet: 'base-new' } })
    shop.do('RetireSheet', { sheet: BASE.sheet })
    expect(routeIn(shop, 'repair')[1]?.sheet).toBe('base-new')
  })
})
