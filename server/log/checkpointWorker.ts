import { Database } from 'bun:sqlite'
import { answering } from '../threadSide.ts'
import { FEW_PAGES, pagesLeft } from './checkpoint.ts'

/** The thread of checkpoint.ts. */

/** Commits go on meanwhile. */
const ROUNDS = 10

/** Copies pages with a connection of its own, which holds the file no longer than that. */
answering(async (path: string): Promise<void> => {
  const db = new Database(path, { readwrite: true, strict: true })
  try {
    const left = pagesLeft(db)
    for (let round = 0; round < ROUNDS && left() > FEW_PAGES; round += 1)
      db.run('PRAGMA wal_checkpoint(PASSIVE)')
  } finally {
    // true: statements are closed too; else the file stays open, and nobody is the last to hold it.
    db.close(true)
  }
})
