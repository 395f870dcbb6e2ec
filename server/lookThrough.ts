import { damage } from '../machines/contract/damage.ts'
import { longWorkEnv } from './engine.ts'
import type { LogVerdict } from './log/chain.ts'
import type { Look } from './log/wholeCheck.ts'
import { lower } from './lower.ts'

/** How `verify` ends where it cannot say which entry is not as it was written. */
const UNREADABLE = 1

/** Only when nothing else wants the processor. */
const LOWEST = 19

/**
 * Looks through a whole log in another process, by the command that a person would use.
 * @param flashbell the words that start the command line of this program
 * @param data the folder of the log
 */
export function lookThrough(flashbell: readonly string[], data: string): Look {
  const child = Bun.spawn([...flashbell, 'verify', '--data', data], {
    ...{ stdin: 'ignore', stdout: 'pipe', stderr: 'pipe', env: longWorkEnv(process.env) },
  })
  lower(child, LOWEST)
  return { done: verdictOf(child), stop: () => child.kill() }
}

async function verdictOf(child: Bun.Subprocess<'ignore', 'pipe', 'pipe'>) {
  const [said, error] = await Promise.all([
    new Response(child.stdout).text(),
    new Response(child.stderr).text(),
  ])
  const code = await child.exited
  // It looked, and the file cannot be read as a whole: no entry can be named.
  if (said === '' && code === UNREADABLE)
    return { position: 0, damage: damage('unreadable', { said: error.trim() }) }
  // Stopped, with the server or by somebody else: nothing is known.
  if (said === '') throw new Error('The log could not be looked through; it is tried again.')
  const verdict: LogVerdict = JSON.parse(said)
  return verdict.ok ? null : verdict
}
