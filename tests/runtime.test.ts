import { expect, test } from 'vitest'

test('the tests run in Bun, so that the SQLite store is not skipped', () => {
  expect(typeof Bun).toBe('object')
})
