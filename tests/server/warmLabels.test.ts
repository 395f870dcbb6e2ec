import { expect, test } from 'vitest'
import { warmUp } from '../../labels/warmUp.ts'
import { warmNow } from '../../server/warmLabels.ts'

test('what is drawn ahead of the first label takes the codes, the fonts and the bitmap to a PNG', async () => {
  const png = await warmNow()
  // The first bytes of every PNG file (RFC 2083, 3.1).
  expect([...png.slice(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10])
})

test('between any two of its steps a waiting request has its turn', async () => {
  let steps = 0
  for await (const _ of warmUp()) steps += 1
  let [turns, isDone] = [0, false]
  const others = () => {
    if (isDone) return
    turns += 1
    setImmediate(others)
  }
  setImmediate(others)
  await warmNow()
  isDone = true
  expect(steps).toBeGreaterThan(4)
  expect(turns).toBeGreaterThanOrEqual(steps)
})
