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

/** As long may work go on before others get their turn, ms: the rest of the 50 that nobody should wait longer than is left to its last piece. */
export const TURN_MS = 20

/** @returns what is called between the pieces of long work: it waits a turn where they took too long */
export function inTurns(): () => Promise<void> {
  let since = performance.now()
  return async () => {
    if (performance.now() - since < TURN_MS) return
    await nextTurn()
    since = performance.now()
  }
}
