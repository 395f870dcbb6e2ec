import type { BackupOutcome, BackupProgress } from '../../machines/contract/backup.ts'
import { longWorkEnv } from '../engine.ts'
import { lower } from '../lower.ts'
import type { RunBackup } from './schedule.ts'

/** What the shop does goes first; at the very least a busy computer would never come to it. */
const NICE = 10

/**
 * Makes backups in a process of their own, at a low priority: it may take minutes for a long log, and
 * an error in it ends nothing else.
 * @param command what starts this program
 */
export const backupInChild =
  (command: readonly string[]): RunBackup =>
  ({ data, folder, keep }, progress) => {
    const kept = Object.entries(keep).flatMap(([key, count]) => [`--keep-${key}`, String(count)])
    const child = Bun.spawn([...command, 'backup', folder, '--data', data, ...kept, '--progress'], {
      stdin: 'ignore',
      stdout: 'pipe',
      stderr: 'ignore',
      env: longWorkEnv(process.env),
    })
    lower(child, NICE)
    return { outcome: outcomeIn(child.stdout, progress), kill: () => child.kill() }
  }

/** The last line says how it ended; one that never says it was stopped. */
async function outcomeIn(
  out: ReadableStream<Uint8Array>,
  progress: (progress: BackupProgress) => void,
): Promise<BackupOutcome> {
  const decoder = new TextDecoder()
  let outcome: BackupOutcome = { ok: false, trouble: { code: 'stopped', params: {} } }
  let rest = ''
  for await (const chunk of out) {
    const lines = (rest + decoder.decode(chunk, { stream: true })).split('\n')
    rest = lines.pop() ?? ''
    for (const line of lines) {
      const said: { progress: BackupProgress } | BackupOutcome = JSON.parse(line)
      if ('progress' in said) progress(said.progress)
      else outcome = said
    }
  }
  return outcome
}
