import { expect, test } from 'vitest'
import { oursAtMost, part, ratioAtLeast, rowOf, tableOf } from '../bench/table.ts'
import { BUSY, playDay } from '../support/bigDay.ts'
import { patience } from '../support/randomRuns.ts'

const OPTIONS = { alerts: 1, minutes: 1, entries: 1 }

test('a row is never dropped: one that was not reached says why, one that was measured before stays', async () => {
  const broken = part(
    'disk',
    { 'a commit': ratioAtLeast(0.6), 'a read': oursAtMost(5) },
    async (put) => {
      put('a commit', { ours: 3, unit: 'us', limit: { what: 'raw', value: 2 } })
      await Promise.reject(new Error('the disk is gone\nat line 3'))
    },
  )
  const rows = await broken.measure(OPTIONS)
  expect(rows.map(({ what, verdict }) => [what, verdict])).toEqual([
    ['a commit', 'met'],
    ['a read', 'not measured'],
  ])
  expect(rows[1]?.ours).toBe('not measured: the disk is gone')
})

test('a row that its part forgot says so', async () => {
  const [row] = await part('disk', { 'a commit': null }, async () => {}).measure(OPTIONS)
  expect(row?.ours).toBe('not measured: the part ended without it')
})

test('a target of the ratio is judged by the ratio, one of our figure by that, both bounds included', () => {
  const verdict = (
    ...[target, measured]: [Parameters<typeof rowOf>[2], Parameters<typeof rowOf>[3]]
  ) => rowOf('disk', 'a commit', target, measured).verdict
  const limit = { what: 'raw', value: 100 }
  expect(verdict(ratioAtLeast(0.6), { ours: 60, unit: '/s', limit })).toBe('met')
  expect(verdict(ratioAtLeast(0.6), { ours: 59, unit: '/s', limit })).toBe('missed')
  expect(verdict(ratioAtLeast(0.6), { ours: 59, unit: '/s', limit, ratio: 0.7 })).toBe('met')
  expect(verdict(oursAtMost(200), { ours: 200, unit: 'us', limit })).toBe('met')
  expect(verdict(oursAtMost(200), { ours: 201, unit: 'us', limit })).toBe('missed')
  expect(verdict(null, { ours: 201, unit: 'us' })).toBe('no target')
})

test('a figure that is not a number does not meet a target', () => {
  const row = rowOf('disk', 'a commit', oursAtMost(5), { ours: Number.NaN, unit: 'ms' })
  expect(row.verdict).toBe('not measured')
  const noRatio = rowOf('disk', 'a commit', ratioAtLeast(0.6), { ours: 3, unit: 'ms' })
  expect(noRatio.verdict).toBe('not measured')
})

test('the table is Markdown with a cell for each column', () => {
  const row = rowOf('disk', 'a | b', ratioAtLeast(0.6, 0.85), { ours: 1_234, unit: 'us' })
  const lines = tableOf([row]).split('\n')
  expect(lines.map((line) => line.split('|').length)).toEqual([9, 9, 9])
  expect(lines[2]).toContain('ratio at least 0.6, goal 0.85')
})

test('the day of a busy shop that long logs are made of is one that the rules accept', {
  timeout: patience,
}, async () => {
  const { entries } = await playDay({ ...BUSY, jobs: 8 })
  expect(entries.length).toBeGreaterThan(500)
})
