import { appendFileSync, existsSync, readFileSync } from 'node:fs'
import { isMainThread } from 'node:worker_threads'

/**
 * Loaded before a server: notes how long the turns of its answering thread are, in that thread's own processor
 * time. On a busy machine a question waits for a processor too; this does not hold such waits. Linux alone tells it.
 */

const EVERY_MS = 1
/** Shorter ones keep nobody waiting. */
const WORTH_NOTING_MS = 5

const own = `/proc/${process.pid}/task/${process.pid}/schedstat`
const file = process.env.FLASHBELL_TURNS
if (isMainThread && file !== undefined && existsSync(own)) {
  const ranMs = () => Number(readFileSync(own, 'latin1').split(' ')[0]) / 1e6
  let before = ranMs()
  const look = () => {
    const now = ranMs()
    if (now - before > WORTH_NOTING_MS) appendFileSync(file, `${now - before}\n`)
    before = now
  }
  setInterval(look, EVERY_MS).unref()
}
