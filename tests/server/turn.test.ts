import { expect, test } from 'vitest'
import { nextPage, TURN_MS, workTurn } from '../../server/turn.ts'

test.each([
  ['quick ones are taken in larger pages', 4, TURN_MS / 4, 8],
  ['up to as many as it may have', 20, 1, 25],
  ['as they are where they take as long as they may', 10, TURN_MS, 10],
  ['slow ones in smaller pages', 25, 5 * TURN_MS, 5],
  ['and at least one by one', 1, 10 * TURN_MS, 1],
])('pages of long work: %s', (_, page, tookMs, next) => {
  expect(nextPage(page, tookMs, 25)).toBe(next)
})

test('two that do long work at once have a turn of the loop each, one after the other', async () => {
  let turn = 0
  let isOver = false
  const count = () => {
    turn += 1
    if (!isOver) setImmediate(count)
  }
  setImmediate(count)
  const turns: string[] = []
  const work = async (who: string) => {
    for (let piece = 0; piece < 4; piece += 1) {
      await workTurn()
      turns.push(`${who} in ${turn}`)
    }
  }
  await Promise.all([work('a'), work('b'), work('c')])
  isOver = true
  const inTurns = turns.map((said) => said.split(' in ')[1])
  expect(new Set(inTurns).size).toBe(turns.length)
  expect(turns.map((said) => said[0]).join('')).toBe('abcabcabcabc')
})
