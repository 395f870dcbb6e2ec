/** Lets whatever else waits be answered first: long work goes on in the next turn of the loop. */
export const nextTurn = (): Promise<void> => new Promise((done) => setImmediate(done))

/**
 * Runs pieces of long work, one in a turn of the loop however many are asked for at once, in the order
 * in which they were.
 * @returns what runs the next piece, and gives its outcome
 */
export function oneATurn(): <T>(work: () => Promise<T>) => Promise<T> {
  let turn: Promise<unknown> = Promise.resolve()
  return (work) => {
    const done = turn.then(work)
    turn = done.then(nextTurn, nextTurn)
    return done
  }
}
