import { Database } from 'bun:sqlite'
import { answering } from '../threadSide.ts'
import { FEW_PAGES, pagesLeft } from './checkpoint.ts'

/** The thread of checkpoint.ts. */

/** Copies pages with a connection of its own, which holds the file no longer than that. */
answering(async (path: string): Promise<void> => {
  const db = new Database(path, { readwrite: true, strict: true })
  try {
    const left = pagesLeft(db)
    // Commits go on meanwhile, and one that reads the log may hold pages back: it ends where it gets no further.
    let before = Number.POSITIVE_INFINITY
    for (let rest = left(); rest > FEW_PAGES && rest < before; rest = left()) {
      before = rest
      db.run('PRAGMA wal_checkpoint(PASSIVE)')
    }
  } finally {
    // true: statements are closed too; else the file stays open, and nobody is the last to hold it.
    db.close(true)
  }
})
