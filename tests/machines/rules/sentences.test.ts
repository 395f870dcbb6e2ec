import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { REFUSALS } from '../../../machines/refusals.ts'
import {
  inWords,
  partsOf,
  RULES_FILE,
  tablesIn,
  titlesIn,
  wrongWith,
} from '../../support/rulesTable.ts'
import { testTable } from '../../support/tableTests.ts'

/** Every sentence of the rules has a test that shows it, and every figure one that shows its edge. */

const WHOLE = inWords(readFileSync(RULES_FILE, 'utf8'))
const PARTS = tablesIn(join(import.meta.dirname, 'sentences'))

testTable(WHOLE, PARTS)

describe('the table itself', () => {
  test('knows a title from what stands beside it', () => {
    const source = [
      "test('one', () => {})",
      "// test('two', () => {})",
      "test.each([[1]])(\n  'three %d',\n  () => {})",
      "expect(said('four', 1)).toBe(2)",
      "test('it\\'s five', { timeout: 1 }, () => {})",
    ].join('\n')
    expect(titlesIn(source)).toEqual(['one', 'three %d', "it's five"])
  })

  test('says what is not there', () => {
    const here = 'machines/rules/sentences.test'
    expect(wrongWith({ file: here, title: 'says what is not there' })).toBeNull()
    expect(wrongWith({ file: here, title: 'another' })).toContain('no test "another"')
    expect(wrongWith({ file: 'machines/rules/none.test', title: 'x' })).toContain('no such file')
    const garage = 'scenarios/coats/garage.json'
    expect(wrongWith({ file: garage, title: 'cured, and not one override' })).toBeNull()
    expect(wrongWith({ file: garage, title: 'another' })).toContain('no line')
  })

  test('takes no line that it does not know', () => {
    expect(() => partsOf('One.\n  ? what')).toThrow('not a line of a table')
    expect(() => partsOf('  = a: b')).toThrow('not a line of a table')
    expect(partsOf('One,\n  = a: b\n+ and two.\n  ~ says why')).toMatchObject([
      { text: 'One,', isNewSentence: true, by: [{ file: 'a', title: 'b' }] },
      { text: 'and two.', isNewSentence: false, explains: 'says why' },
    ])
  })
})

describe('the codes that the rules name', () => {
  const starred = [...WHOLE.matchAll(/`?\b([a-z]+[A-Z]\w+)(\*?)/g)]
  const known = starred.filter(([, code = '']) => code in REFUSALS)
  const names = (isStarred: boolean) => [
    ...new Set(known.filter(([, , star]) => (star === '*') === isStarred).map(([, code]) => code)),
  ]

  test('a star in the rules is an override in the table, and no star is none', () => {
    const canBe = (code: string) => REFUSALS[code as keyof typeof REFUSALS].overridableBy !== null
    expect(names(true).length).toBeGreaterThanOrEqual(20)
    expect(names(true).filter((code) => !canBe(code as string))).toEqual([])
    // What is named with a star in one place is overridden, also where it stands without one.
    const never = names(false).filter((code) => !names(true).includes(code))
    expect(never.filter((code) => canBe(code as string))).toEqual([])
  })

  test('a START’s reasons stand in the table in the order of the rules', () => {
    const [, list = ''] = WHOLE.match(/A START's order: ([^.]*)\./) ?? []
    const order = list.split(', ').map((code) => code.replace('*', ''))
    expect(order).toHaveLength(26)
    expect(Object.keys(REFUSALS).filter((code) => order.includes(code))).toEqual(order)
  })
})
