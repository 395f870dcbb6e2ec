import type { Database } from 'bun:sqlite'
import { threadOf } from '../thread.ts'
import type { Store } from './log.ts'

/**
 * A commit writes its pages behind each other into the file beside the log; from there they have to be copied to
 * their places in the log itself, a checkpoint (sqlite.org/wal.html, 3.2). SQLite does that within a commit, every
 * thousand pages, and these places lie anywhere: on a slow disk everybody waits for a second. Here a thread does it.
 */

/** As many as SQLite lets come together. */
const DUE_PAGES = 1_000
/** Where the thread does not keep up, or there is none, SQLite copies within a commit after all. */
const MOST_PAGES = 4_000
/** The thread goes on until so few are left; a commit or two make as many. */
export const FEW_PAGES = 8
/** So few are copied in one turn: they keep nobody waiting. */
const REST_PAGES = 24

type Pages = { readonly log: number; readonly checkpointed: number }

/** Tells how many pages are committed and not yet in the log itself. It only looks. */
export function pagesLeft(db: Database): () => number {
  const looked = db.prepare<Pages, []>('PRAGMA wal_checkpoint(NOOP)')
  return () => {
    const { log = 0, checkpointed = 0 } = looked.get() ?? {}
    return log - checkpointed
  }
}

const thread = threadOf<string, void>(
  new URL('./checkpointWorker.ts', import.meta.url),
  'that keeps the log short',
)

export type Checkpoints = {
  /** To be called after every commit: what is due is asked of the thread. */
  readonly look: () => void
  /**
   * To be called before the database is closed. Whoever closes it when this is done is the last to hold it, and
   * leaves no file beside it.
   */
  readonly end: () => Promise<void>
}

/** @param db a log or an index that is kept in a file, opened for writing */
export function checkpointsOf(db: Database): Checkpoints {
  db.run(`PRAGMA wal_autocheckpoint = ${MOST_PAGES}`)
  const left = pagesLeft(db)
  const { filename } = db
  let copying: Promise<void> | null = null
  let dueAt = DUE_PAGES
  let isEnded = false

  /** Asks the thread as long as it gets on: one that reads the log may hold pages back. */
  async function copied(): Promise<void> {
    let rest = left()
    for (let before = Number.POSITIVE_INFINITY; rest > REST_PAGES && rest < before; rest = left()) {
      before = rest
      await thread.ask(filename)
      if (isEnded) return
    }
    dueAt = DUE_PAGES + (rest > REST_PAGES ? rest : 0)
    // What few pages came meanwhile. Only a file of which all was copied is begun anew, else it would grow.
    if (rest > 0 && rest <= REST_PAGES) db.run('PRAGMA wal_checkpoint(PASSIVE)')
  }

  return {
    look() {
      if (copying !== null || isEnded || left() < dueAt) return
      // Where it fails nothing is lost: it is all in the file beside the log. SQLite too goes on where it could not copy.
      copying = copied()
        .catch(() => {})
        .finally(() => {
          copying = null
        })
    },
    async end() {
      isEnded = true
      await copying
    },
  }
}

/** The store with its checkpoints made by the thread. */
export function withCheckpoints(store: Store, db: Database): Store {
  const { look, end } = checkpointsOf(db)
  return {
    ...store,
    async append(...given) {
      const done = await store.append(...given)
      look()
      return done
    },
    async putSnapshot(...given) {
      await store.putSnapshot(...given)
      look()
    },
    async close() {
      await end()
      await store.close()
    },
  }
}
