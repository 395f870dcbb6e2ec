import { expect, test } from 'vitest'
import { drawOne } from '../../server/warmLabels.ts'

test('what is drawn ahead of the first label takes the codes, the fonts and the bitmap to a PNG', async () => {
  const png = await drawOne()
  // The first bytes of every PNG file (RFC 2083, 3.1).
  expect([...png.slice(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10])
})
