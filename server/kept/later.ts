import { fileURLToPath } from 'node:url'
import { longWorkEnv } from '../engine.ts'
import { lower } from '../lower.ts'

/** After the start, when labels and answers have been made ready. */
const AFTER_MS = 3_000
const LOWEST = 19
const MAKE = fileURLToPath(new URL('./make.ts', import.meta.url))

/**
 * Makes the program that the next start finds, beside what is answered and some time after this one. Where it
 * cannot be written, nothing is lost: each start then reads the sources.
 */
export function keepLater(): void {
  setTimeout(() => {
    const child = Bun.spawn([process.execPath, '--bun', MAKE], {
      ...{ stdin: 'ignore', stdout: 'ignore', stderr: 'ignore', env: longWorkEnv(process.env) },
    })
    lower(child, LOWEST)
    child.unref()
  }, AFTER_MS).unref()
}
