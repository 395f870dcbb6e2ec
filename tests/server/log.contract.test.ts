import { openLogFile } from '../../server/log/file.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { storeOn } from '../../server/log/sqlite.ts'
import { eventLogContract, type Subject } from '../contract/event-log.ts'
import { logFolder } from '../support/logFiles.ts'
import { failingStore, lateStore } from '../support/logStores.ts'

async function inMemory(): Promise<Subject> {
  const inner = memoryStore()
  const { store, failNextAppend } = failingStore(inner)
  return { store, breakNextCommit: failNextAppend, remove: () => inner.close() }
}

/** @param namedEvery after how many entries these are found by the table beside the log, not by looking through the last ones */
async function onDisk(namedEvery?: number): Promise<Subject> {
  const { file, remove } = logFolder()
  const db = openLogFile(file)
  const store = storeOn(db, namedEvery)
  return {
    store,
    // SQLite's own refusal to write, as with a disk that became read-only under a running server.
    breakNextCommit: () => db.run('PRAGMA query_only = ON'),
    mend: () => db.run('PRAGMA query_only = OFF'),
    async remove() {
      await store.close()
      remove()
    },
  }
}

async function late(): Promise<Subject> {
  const subject = await onDisk()
  return { ...subject, store: lateStore(subject.store) }
}

async function failing(): Promise<Subject> {
  const inner = await onDisk()
  const { store, failNextAppend } = failingStore(lateStore(inner.store))
  return { store, breakNextCommit: failNextAppend, remove: inner.remove }
}

eventLogContract('in memory, with a commit that fails once', inMemory)
eventLogContract('in SQLite', () => onDisk())
eventLogContract('in SQLite, each entry found by its things at once', () => onDisk(1))
eventLogContract('in SQLite, some entries found by their things and some looked through', () =>
  onDisk(2),
)
eventLogContract('in SQLite, answering late', late)
eventLogContract('in SQLite, answering late, with a commit that fails once', failing)
