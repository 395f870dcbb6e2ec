import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { FILTER_LEAST, REFRESHER_YEARS } from '../../machines/records/upkeep.ts'

/** What records warn of is what was read, with its source beside it. */

const read = JSON.parse(
  readFileSync(new URL('../reference/records-us.json', import.meta.url), 'utf8'),
) as Readonly<Record<'refresherYears' | 'filterLeast', { value: number; source: string }>>

test('a refresher within five years (EPA Region 10), filters of 98 % (Iowa Waste Reduction Center)', () => {
  expect(REFRESHER_YEARS).toBe(read.refresherYears.value)
  expect(FILTER_LEAST).toBe(read.filterLeast.value)
  for (const { source } of [read.refresherYears, read.filterLeast]) expect(source).toBeTruthy()
})
