import { setPriority } from 'node:os'
import type { Look } from './log/wholeCheck.ts'
import type { LogVerdict } from './verifyLog.ts'

/** Only when nothing else wants the processor. */
const LOWEST = 19

/**
 * Looks through a whole log in another process, by the command that a person would use.
 * @param flashbell the words that start the command line of this program
 * @param data the folder of the log
 */
export function lookThrough(flashbell: readonly string[], data: string): Look {
  const child = Bun.spawn([...flashbell, 'verify', '--data', data], {
    ...{ stdin: 'ignore', stdout: 'pipe', stderr: 'ignore' },
  })
  try {
    setPriority(child.pid, LOWEST)
  } catch {
    // It has ended already, or this system knows no priorities: it looks all the same.
  }
  return { done: verdictOf(child), stop: () => child.kill() }
}

async function verdictOf(child: Bun.Subprocess<'ignore', 'pipe', 'ignore'>) {
  const said = await new Response(child.stdout).text()
  await child.exited
  // Stopped with the server, or the file cannot be read at all: nothing is known.
  if (said === '') throw new Error('The log could not be looked through; it is tried again.')
  const verdict: LogVerdict = JSON.parse(said)
  return verdict.ok ? null : verdict
}
