import { Database } from 'bun:sqlite'
import { join } from 'node:path'

export type RawStore = {
  /** One durable commit of some rows. */
  readonly commit: (texts: readonly string[]) => void
  readonly close: () => void
}

/**
 * The limit of the machine's disk: rows of a log in SQLite, each with its stream and its version in that,
 * synchronous=FULL, one immediate transaction a commit, nothing of ours.
 * @param folder on the disk that is meant
 */
export function rawStore(folder: string, name = 'raw.db'): RawStore {
  const db = new Database(join(folder, name), { create: true, strict: true })
  db.run('PRAGMA journal_mode=WAL')
  db.run('PRAGMA synchronous=FULL')
  db.run(`CREATE TABLE events(seq INTEGER PRIMARY KEY AUTOINCREMENT, stream TEXT NOT NULL,
    version INTEGER NOT NULL, type TEXT NOT NULL, data TEXT NOT NULL, at INTEGER NOT NULL,
    UNIQUE(stream, version))`)
  const insert = db.prepare(
    'INSERT INTO events(stream, version, type, data, at) VALUES ($stream, $version, $type, $data, $at)',
  )
  let count = 0
  const commit = db.transaction((texts: readonly string[]) => {
    for (const data of texts) {
      count += 1
      const [stream, version] = [`stream-${count % 500}`, Math.floor(count / 500)]
      insert.run({ stream, version, type: 'Happened', data, at: 1_700_000_000_000 + count })
    }
  })
  return { commit: (texts) => commit.immediate(texts), close: () => db.close(true) }
}
