import { accessSync, constants, statfsSync, statSync } from 'node:fs'
import { dirname } from 'node:path'
import type { DiskTrouble } from '../../machines/contract.ts'
import { LogError, type Store } from './log.ts'

/** Watches whether the disk keeps what is committed: said before somebody presses, not only after. */
export type DiskWatch = {
  readonly trouble: () => DiskTrouble | null
  /** Space that is left beside the log, MB; null where it cannot be asked. */
  readonly freeMb: () => number | null
  /** The same store: it commits nothing to a file that is gone, and what fails is remembered. */
  readonly guarded: (store: Store) => Store
  readonly stop: () => void
}

const LOOK_MS = 5_000
const MB = 1_000_000
/** A year of a busy shop's entries; below it there is time to make room. */
const LOW_MB = 500
/** Less than a snapshot and the file beside the log take. */
const FULL_MB = 8

type DiskDeps = {
  /** The log's file, which exists. */
  readonly file: string
  /** Runs again and again until it is stopped. */
  readonly every: (ms: number, run: () => void) => () => void
}

/** Which file lies at a path; null where there is none. A file of the same name made later is another. */
function identity(path: string): string | null {
  const stat = statSync(path, { throwIfNoEntry: false })
  return stat ? `${stat.dev}:${stat.ino}` : null
}

/** Also for a user who may write everywhere, a file that nobody may write to is read-only. */
function mayWrite(path: string): boolean {
  try {
    accessSync(path, constants.W_OK)
    return (statSync(path).mode & 0o222) !== 0
  } catch {
    return false
  }
}

const freeMb = (path: string): number => {
  const { bavail, bsize } = statfsSync(path)
  return (bavail * bsize) / MB
}

/** What a failed commit says of the disk; null for what is no fault of a disk. */
function troubleOf(error: unknown): DiskTrouble | null {
  if (!(error instanceof LogError)) return null
  if (error.code === 'full' || error.code === 'readOnly') return { code: error.code, params: {} }
  if (error.code === 'gone' || error.code === 'unreachable') return { code: 'gone', params: {} }
  return error.code === 'io' || error.code === 'damaged' ? { code: 'failing', params: {} } : null
}

/** @throws where the file's own disk cannot be asked */
export function watchDisk({ file, every }: DiskDeps): DiskWatch {
  const wal = `${file}-wal`
  const own = identity(file)
  let ownWal = identity(wal)
  let found: DiskTrouble | null = null
  let failed: DiskTrouble | null = null

  /** SQLite writes on to a file whose name is gone: nothing of it would be there after a restart. */
  function isGone(): boolean {
    const nowWal = identity(wal)
    ownWal ??= nowWal
    return own === null || identity(file) !== own || nowWal !== ownWal
  }

  function look(): void {
    try {
      found = isGone() ? { code: 'gone', params: {} } : diskNow()
    } catch {
      found = { code: 'gone', params: {} }
    }
  }

  function diskNow(): DiskTrouble | null {
    if (!mayWrite(file) || !mayWrite(dirname(file))) return { code: 'readOnly', params: {} }
    const free = freeMb(file)
    if (free < FULL_MB) return { code: 'full', params: {} }
    return free < LOW_MB ? { code: 'low', params: { freeMb: Math.floor(free) } } : null
  }

  function freeNow(): number | null {
    try {
      return Math.floor(freeMb(file))
    } catch {
      return null
    }
  }

  look()
  const stop = every(LOOK_MS, look)
  return {
    trouble: () => failed ?? found,
    freeMb: freeNow,
    guarded: (store) => ({
      ...store,
      async append(...what) {
        try {
          if (isGone()) throw goneError(what[0], file)
          const done = await store.append(...what)
          failed = null
          return done
        } catch (error) {
          failed = troubleOf(error)
          throw error
        }
      },
    }),
    stop,
  }
}

const goneError = (shop: string, file: string): LogError =>
  new LogError(
    { op: 'append', shop },
    'gone',
    `${file} was deleted, moved or replaced while the server ran.`,
    'Put it back and start the server again, or restore the newest backup.',
  )
