import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { sqliteStore } from '../../server/log/sqlite.ts'
import { firstEntries } from './logEntries.ts'

/** A folder of a test's own for a log file. */
export function logFolder(): { file: string; folder: string; remove: () => void } {
  const folder = mkdtempSync(join(tmpdir(), 'flashbell-log-'))
  return {
    folder,
    file: join(folder, 'shop.log'),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  }
}

/** A closed file with 40 entries of shop S1; the 20th carries a mark found nowhere else. */
export async function closedLog(file: string): Promise<void> {
  const store = sqliteStore(file)
  const contents = Array.from({ length: 40 }, (_, i) => ({
    cup: 'CCCC2222',
    data: { note: i === 19 ? 'MARKED' : 'plain', filler: 'x'.repeat(900) },
  }))
  await store.append('S1', 0, firstEntries('S1', contents))
  await store.close()
}
