import { expect, test } from 'vitest'
import { compared, comparedChart, firstCoatAt } from '../../kiosk/trace/compare.ts'
import { BASE_CLEAR, BASE_CUP, CLEAR_CUP, coat, vanWith } from '../support/given.ts'
import { MINUTE, type Shop } from '../support/shop.ts'

/** Jobs beside one another, each from its first coat on. */

const job = (name: string, { entries }: Shop) => compared(name, `Van ${name}`, entries)
/** Base at these minutes, clear later. */
const sprayed = (from: number) => {
  const shop = coat(
    coat(vanWith(BASE_CLEAR), BASE_CUP, from, from + 2),
    BASE_CUP,
    from + 12,
    from + 14,
  )
  return coat(shop, CLEAR_CUP, from + 32, from + 34)
}

test('time is counted from the first coat of each', () => {
  const { rows, marks, from, to } = comparedChart([job('A', sprayed(0)), job('B', sprayed(25))])
  expect(rows.map(({ name }) => name)).toEqual(['Van A · Rear door', 'Van B · Rear door'])
  const starts = (row: number) =>
    marks
      .filter((m) => m.kind === 'coat' && m.row === rows[row]?.id)
      .map((m) => [m.from / MINUTE, (m.to ?? 0) / MINUTE])
  expect(starts(0)).toEqual([
    [0, 2],
    [12, 14],
    [32, 34],
  ])
  expect(starts(1)).toEqual(starts(0))
  expect([from, to]).toEqual([0, 34 * MINUTE])
})

test('what was waited for and allowed is beside it; cups, air and bells are not', () => {
  const { marks } = comparedChart([job('A', sprayed(0))])
  expect(new Set(marks.map(({ kind }) => kind))).toEqual(new Set(['coat', 'wait', 'band']))
})

test('a job on which nothing was sprayed has no row, and alone makes no drawing of endless length', () => {
  const blank = job('A', vanWith(BASE_CLEAR))
  expect(firstCoatAt(blank.all)).toBeNull()
  expect(comparedChart([blank])).toEqual({ rows: [], marks: [], from: 0, to: 10 * MINUTE })
  expect(comparedChart([blank, job('B', sprayed(0))]).rows).toHaveLength(1)
})
