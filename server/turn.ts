/** Lets whatever else waits be answered first: what a command's own path goes on with in the next turn of the loop. */
export const nextTurn = (): Promise<void> => new Promise((done) => setImmediate(done))

/** The end of the line in which all long work of this process stands. */
let line: Promise<void> = Promise.resolve()

/**
 * The turn of a piece of long work: of all that is asked for at once, whoever asks, one piece is done in a turn of
 * the loop, in the order in which they came. Two that shared one would keep others waiting for both.
 */
export function workTurn(): Promise<void> {
  line = line.then(nextTurn)
  return line
}

/** As long may work go on before others get their turn, ms: the rest of the 50 that nobody should wait longer than is left to its last piece. */
export const TURN_MS = 10
/** As long may it that only reads, ms: an answer that reads in several steps waits for a piece of it before each. */
export const READ_MS = 4

/**
 * @param turn what it waits for
 * @param mostMs as long may go on without one
 * @returns what is called between the pieces of long work: it waits a turn where they took too long
 */
export function inTurns(turn = workTurn, mostMs = READ_MS): () => Promise<void> {
  let since = performance.now()
  return async () => {
    if (performance.now() - since < mostMs) return
    await turn()
    since = performance.now()
  }
}

/**
 * How many things the next page has, so that it takes a turn and not more: what one costs is known first
 * when some were done.
 * @param page how many this one had
 * @param tookMs until all of them were done
 * @param most as many has none
 */
export function nextPage(page: number, tookMs: number, most: number): number {
  if (tookMs > TURN_MS) return Math.max(1, Math.floor((page * TURN_MS) / tookMs))
  return tookMs < TURN_MS / 2 ? Math.min(most, page * 2) : page
}

/** Does a long reckoning part by part, with others in between where it takes long. @returns what it comes to */
export async function partByPart<T>(parts: Generator<void, T>): Promise<T> {
  const othersTurn = inTurns()
  for (;;) {
    const part = parts.next()
    if (part.done) return part.value
    await othersTurn()
  }
}
