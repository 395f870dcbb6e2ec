import type { StoreFault } from '../../machines/contract/damage.ts'
import { LogError, type LogOp, REPORT, RESTORE } from './log.ts'

/**
 * SQLite's result codes by their beginning (sqlite.org/rescode.html), and what a shop can do about
 * each.
 */
const FAULTS: readonly (readonly [begins: string, StoreFault, what: string, hint: string])[] = [
  [
    'SQLITE_FULL',
    'full',
    'The disk is full.',
    'Free some space on it, then try again; nothing that was acknowledged is lost.',
  ],
  [
    'SQLITE_READONLY',
    'readOnly',
    'The log may only be read.',
    "Let the server's user write to the log's file and folder, then start the server again.",
  ],
  [
    'SQLITE_BUSY',
    'busy',
    'Another program is writing to the log.',
    'Close it: one server at a time may use a log.',
  ],
  ['SQLITE_CORRUPT', 'damaged', 'The log file is damaged.', RESTORE],
  ['SQLITE_NOTADB', 'damaged', 'The log file is damaged, or it is not a log.', RESTORE],
  [
    'SQLITE_CANTOPEN',
    'unreachable',
    'The log file cannot be opened.',
    "Check that its folder exists and that the server's user may write there.",
  ],
  [
    'SQLITE_PERM',
    'unreachable',
    'The log file cannot be opened.',
    "Let the server's user write to the log's file and folder.",
  ],
  [
    'SQLITE_IOERR',
    'io',
    'The disk reported an error.',
    'Check its space and its health, then start the server again.',
  ],
  ['SQLITE_CONSTRAINT', 'program', 'The log refused an entry that breaks its rules.', REPORT],
]

/**
 * Whatever a store threw, as a LogError.
 * @param file the log's path, where naming it helps
 */
export function asLogError(
  op: LogOp,
  shop: string | null,
  cause: unknown,
  file?: string,
): LogError {
  if (cause instanceof LogError) return cause
  const code = cause instanceof Error && 'code' in cause ? String(cause.code) : ''
  const [, fault, what, hint] = FAULTS.find(([begins]) => code.startsWith(begins)) ?? [
    '',
    'program' as const,
    'The log failed.',
    REPORT,
  ]
  return new LogError({ op, shop }, fault, file ? `${file}: ${what}` : what, hint, cause)
}
