import type { Database } from 'bun:sqlite'
import { THING_KEYS, type ThingKey } from '../../machines/envelope.ts'
import type { Between, Columns, Head, Page, Snapshot } from './log.ts'
import { inNamed, isNamed, ofKey } from './named.ts'

/** What the store asks SQLite, prepared once. */

/** An entry as it lies in the log. */
export type Stored = { position: number; text: string; hash: string }

const THINGS = THING_KEYS.join(', ')
const COLUMNS = `id, command, type, at, recorded_at AS recordedAt, ${THINGS}`
const STORED = 'SELECT position, text, hash FROM entry'
/**
 * Asked for every command that arrives. The ids of its entries are its own and a number behind a dot; a
 * slash is the next letter. The plus: SQLite would rather walk the whole log than sort what it found.
 */
const OF_COMMAND = `WHERE shop = $shop
  AND id > $command || '.' AND id < $command || '/' AND command = $command`
export const BY_COMMAND = `${STORED} ${OF_COMMAND} ORDER BY +position`
const HAS_COMMAND = `SELECT 1 FROM entry ${OF_COMMAND} LIMIT 1`
/** The ids are a JSON list. */
export const VOIDS_OF = `${STORED} INDEXED BY entry_voided
  WHERE shop = $shop AND type = 'EntryVoided'
    AND json_extract(text, '$.data.entry') IN (SELECT value FROM json_each($ids))
  ORDER BY position`

function forEachKey<T>(make: (key: ThingKey) => T): { readonly [K in ThingKey]: T } {
  return {
    job: make('job'),
    panel: make('panel'),
    cup: make('cup'),
    gun: make('gun'),
    zone: make('zone'),
    sheet: make('sheet'),
  }
}

/** @param db of openLogFile */
export function statementsOn(db: Database) {
  type Asked = { shop: string; id: string } & Between
  const byKey = (sqlOf: (key: ThingKey | 'type') => string) => ({
    ...forEachKey((key) => db.prepare<Stored, Asked>(sqlOf(key))),
    type: db.prepare<Stored, Asked>(sqlOf('type')),
  })
  return {
    head: db.prepare<Head, { shop: string }>(
      `SELECT position, hash, recorded_at AS recordedAt FROM entry
       WHERE shop = $shop ORDER BY position DESC LIMIT 1`,
    ),
    version: db.prepare<{ data_version: number }, []>('PRAGMA data_version'),
    insert: db.prepare<
      null,
      { shop: string; position: number; text: string; hash: string } & Columns
    >(
      `INSERT INTO entry (shop, position, text, hash, id, command, type, at, recorded_at, ${THINGS})
       VALUES ($shop, $position, $text, $hash, $id, $command, $type, $at, $recordedAt,
         ${THING_KEYS.map((key) => `$${key}`).join(', ')})`,
    ),
    read: db.prepare<Stored, { shop: string } & Page>(
      `${STORED} WHERE shop = $shop AND position > $after ORDER BY position LIMIT $limit`,
    ),
    raw: db.prepare<Stored & Columns, { shop: string } & Page>(
      `SELECT position, text, hash, ${COLUMNS} FROM entry
       WHERE shop = $shop AND position > $after ORDER BY position LIMIT $limit`,
    ),
    hasCommand: db.prepare<object, { shop: string; command: string }>(HAS_COMMAND),
    byCommand: db.prepare<Stored, { shop: string; command: string }>(BY_COMMAND),
    ofKey: byKey(ofKey),
    isNamed: db.prepare<object, Asked & { key: string }>(isNamed),
    inNamed: byKey(inNamed),
    byId: db.prepare<Stored, { shop: string; id: string }>(
      `${STORED} WHERE shop = $shop AND id = $id`,
    ),
    voidsOf: db.prepare<Stored, { shop: string; ids: string }>(VOIDS_OF),
    // One after another by the index: DISTINCT would walk the whole log.
    shopAfter: db.prepare<{ shop: string }, { after: string }>(
      'SELECT shop FROM entry WHERE shop > $after ORDER BY shop LIMIT 1',
    ),
    getSnapshot: db.prepare<Snapshot, { shop: string; foldVersion: string }>(
      'SELECT position, json FROM snapshot WHERE shop = $shop AND fold_version = $foldVersion',
    ),
    putSnapshot: db.prepare<null, { shop: string; foldVersion: string } & Snapshot>(
      'INSERT OR REPLACE INTO snapshot VALUES ($shop, $foldVersion, $position, $json)',
    ),
    getMeta: db.prepare<{ value: string }, { key: string }>(
      'SELECT value FROM meta WHERE key = $key',
    ),
    putMeta: db.prepare<null, { key: string; value: string }>(
      'INSERT OR REPLACE INTO meta VALUES ($key, $value)',
    ),
  }
}
