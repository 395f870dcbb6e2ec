/** Lets whatever else waits be answered first: long work goes on in the next turn of the loop. */
export const nextTurn = (): Promise<void> => new Promise((done) => setImmediate(done))
