import { Database } from 'bun:sqlite'
import { mkdirSync, rmSync } from 'node:fs'
import { dirname, join } from 'node:path'
import type { Entry } from '../../machines/envelope.ts'
import { checkpointsOf } from '../log/checkpoint.ts'
import type { SideIndex } from './follow.ts'

/** What an index is made of; its version goes up with every change of a table or of what is kept. */
export type Made = { readonly schema: string; readonly version: number }

/**
 * A file that can be made again from the log at any time. An older or damaged one is thrown away.
 * @param path null keeps it in memory
 * @throws where neither the file nor a new one in its place can be opened
 */
export function openIndexFile(path: string | null, made: Made): Database {
  if (path === null) return blank(new Database(':memory:', { strict: true }), made)
  mkdirSync(dirname(path), { recursive: true })
  try {
    return openedAs(path, made)
  } catch {
    for (const end of ['', '-wal', '-shm']) rmSync(`${path}${end}`, { force: true })
    return openedAs(path, made)
  }
}

function blank(db: Database, { schema, version }: Made): Database {
  db.run(schema)
  db.run(UPTO)
  db.run(`PRAGMA user_version = ${version}`)
  return db
}

function openedAs(path: string, made: Made): Database {
  const db = new Database(path, { create: true, strict: true })
  try {
    db.run('PRAGMA journal_mode = WAL')
    db.run('PRAGMA synchronous = NORMAL')
    const version = db.query<{ user_version: number }, []>('PRAGMA user_version').get()
    if (version?.user_version === 0) return blank(db, made)
    if (version?.user_version !== made.version) throw new Error('of another version')
    return db
  } catch (cause) {
    db.close()
    throw cause
  }
}

const UPTO = `
CREATE TABLE upto (one INTEGER PRIMARY KEY CHECK (one = 1), position INTEGER NOT NULL, hash TEXT NOT NULL) STRICT;
`

/**
 * What every index has beside what it is asked: entries are taken all or none, and all is forgotten at once.
 * @param tables its own
 * @param takeAll puts the next entries of the log into these
 */
export function indexOn(
  db: Database,
  tables: readonly string[],
  takeAll: (entries: readonly Entry[]) => void,
): SideIndex {
  const read = db.prepare<{ position: number; hash: string }, []>('SELECT position, hash FROM upto')
  const set = db.prepare('INSERT OR REPLACE INTO upto VALUES (1, $position, $hash)')
  const take = db.transaction((entries: readonly Entry[]) => {
    takeAll(entries)
    const last = entries.at(-1)
    if (last) set.run({ position: last.position, hash: last.hash })
  })
  const { look, end } = checkpointsOf(db)
  return {
    read: () => read.get(),
    take: (entries) => {
      take(entries)
      look()
    },
    clear: db.transaction(() => {
      for (const table of [...tables, 'upto']) db.run(`DELETE FROM ${table}`)
    }),
    close: () => {
      void end()
      db.close()
    },
  }
}

/**
 * An index in a file of a folder. Where that cannot be written to it works all the same: it is then made
 * at each start.
 * @param folder null keeps it in memory
 */
export function indexIn<I>(
  folder: string | null,
  file: string,
  open: (path: string | null) => I,
  report: (error: unknown) => void,
): I {
  if (folder === null) return open(null)
  try {
    return open(join(folder, file))
  } catch (error) {
    report(error)
    return open(null)
  }
}
