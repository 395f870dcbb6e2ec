import { Database } from 'bun:sqlite'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/** One durable row of 300 bytes a commit, without anything of ours: the limit of the machine's disk. */
export function rawCommitter(): {
  readonly commit: (count: number) => void
  readonly close: () => void
} {
  const folder = mkdtempSync(join(tmpdir(), 'flashbell-raw-'))
  const db = new Database(join(folder, 'raw.db'), { create: true, strict: true })
  db.run('PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL')
  db.run('CREATE TABLE rows(position INTEGER PRIMARY KEY, text TEXT NOT NULL)')
  const insert = db.query('INSERT INTO rows(text) VALUES ($text)')
  const one = db.transaction(() => insert.run({ text: 'x'.repeat(300) }))
  return {
    commit(count) {
      for (let i = 0; i < count; i += 1) one.immediate()
    },
    close() {
      db.close()
      rmSync(folder, { recursive: true, force: true })
    },
  }
}
