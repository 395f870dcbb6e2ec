import type { BackupTrouble } from '../../machines/contract/backup.ts'
import { LogError } from '../log/log.ts'

/** Why a backup could not be made, thrown. */
export class BackupError extends Error {
  readonly trouble: BackupTrouble

  constructor(trouble: BackupTrouble, cause?: unknown) {
    super(trouble.code, { cause })
    this.trouble = trouble
  }
}

/** By the codes of the system (errno) and of SQLite (sqlite.org/rescode.html). */
const FULL = /^(?:ENOSPC|EDQUOT|SQLITE_FULL|full)/
const READ_ONLY = /^(?:EROFS|EACCES|EPERM|SQLITE_READONLY|SQLITE_PERM|readOnly)/
const MISSING = /^(?:ENOENT|ENOTDIR|SQLITE_CANTOPEN)/

/** @param folder where the backup was to be written */
export function troubleOf(error: unknown, folder: string): BackupTrouble {
  if (error instanceof BackupError) return error.trouble
  const reason = error instanceof Error ? error.message : String(error)
  const code = error instanceof Error && 'code' in error ? String(error.code) : ''
  if (FULL.test(code)) return { code: 'full', params: { folder } }
  // Of the log, which is only read: what it says is about the log's own file.
  if (error instanceof LogError) return { code: 'log', params: { fault: error.code } }
  if (READ_ONLY.test(code)) return { code: 'readOnly', params: { folder } }
  if (MISSING.test(code)) return { code: 'folderMissing', params: { folder } }
  return { code: 'failed', params: { reason } }
}
