import { THING_KEYS } from '../../machines/envelope.ts'
import { NAMED } from './named.ts'

/** "FLSH": by it a file says what it is (sqlite.org/fileformat.html, the application id). */
export const APPLICATION_ID = 0x46_4c_53_48

/**
 * Goes up with every change of a table; a file of a higher one is refused. 2: entries are found by a table
 * (named.ts), no more by indexes; a file of 1 becomes one of 2 when it is opened to be written to.
 */
export const SCHEMA_VERSION = 2

export const TABLES = ['entry', 'snapshot', 'meta'] as const

/**
 * The text is what counts; every column beside it can be derived from it, and verify does. The entries
 * of a command are found by their ids, which begin with its own: each index is one more page in a commit.
 */
export const SCHEMA = `
CREATE TABLE entry (
  shop TEXT NOT NULL,
  position INTEGER NOT NULL CHECK (position > 0),
  id TEXT NOT NULL,
  text TEXT NOT NULL,
  hash TEXT NOT NULL CHECK (length(hash) = 64),
  command TEXT NOT NULL,
  type TEXT NOT NULL,
  at INTEGER NOT NULL,
  recorded_at INTEGER NOT NULL,
  ${THING_KEYS.map((key) => `${key} TEXT,`).join('\n  ')}
  PRIMARY KEY (shop, position),
  UNIQUE (shop, id)
) STRICT;
CREATE TABLE snapshot (
  shop TEXT NOT NULL,
  fold_version TEXT NOT NULL,
  position INTEGER NOT NULL,
  json TEXT NOT NULL,
  PRIMARY KEY (shop, fold_version)
) STRICT;
CREATE TABLE meta (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;
PRAGMA application_id = ${APPLICATION_ID};
PRAGMA user_version = ${SCHEMA_VERSION};
`

/** What came and went after the first files: each gets or loses it when it is next opened. */
export const INDEXES = `
DROP INDEX IF EXISTS entry_command;
${NAMED}
CREATE INDEX IF NOT EXISTS entry_voided ON entry (shop, json_extract(text, '$.data.entry'))
  WHERE type = 'EntryVoided';
`

/**
 * The store itself refuses everything but the next entry. The insert guard stands because REPLACE,
 * on a connection without recursive_triggers, deletes the old row and fires no delete trigger: it
 * refuses each of the three keys by which a row could be replaced.
 */
export const GUARDS = `
CREATE TRIGGER IF NOT EXISTS entry_no_update BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
CREATE TRIGGER IF NOT EXISTS entry_no_delete BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'entries are never deleted'); END;
CREATE TRIGGER IF NOT EXISTS entry_at_end BEFORE INSERT ON entry
WHEN NEW.position <> 1 + coalesce((SELECT max(position) FROM entry WHERE shop = NEW.shop), 0)
  OR EXISTS (SELECT 1 FROM entry WHERE shop = NEW.shop AND id = NEW.id)
  OR (NEW.rowid > 0 AND EXISTS (SELECT 1 FROM entry WHERE rowid = NEW.rowid))
BEGIN SELECT RAISE(ABORT, 'entries are only added at the end'); END;
`
