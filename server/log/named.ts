import type { Database } from 'bun:sqlite'
import { THING_KEYS, type ThingKey } from '../../machines/envelope.ts'

/**
 * What finds entries by the things that they name, and by their type: a table beside them, which takes many at
 * a time. As indexes these were seven more pages in the commit of every command, half as much again as the
 * commit itself. The last entries are not in it yet: each question looks through those too, in one statement.
 */

/** So many entries may not be in it yet: a question reads as many rows more, and none more in any later year. */
export const NAMED_EVERY = 32

/** A key is that of a thing, or `type`. */
export const NAMED = `
CREATE TABLE IF NOT EXISTS named (
  shop TEXT NOT NULL,
  key TEXT NOT NULL,
  id TEXT NOT NULL,
  at INTEGER NOT NULL,
  position INTEGER NOT NULL,
  PRIMARY KEY (shop, key, id, at, position)
) STRICT, WITHOUT ROWID;
CREATE TABLE IF NOT EXISTS named_upto (
  shop TEXT PRIMARY KEY,
  position INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
${[...THING_KEYS, 'type'].map((key) => `DROP INDEX IF EXISTS entry_${key};`).join('\n')}
`

const KEYS = [...THING_KEYS, 'type'].map((key) => `('${key}')`).join(', ')
const ID = `CASE keys.key ${THING_KEYS.map((key) => `WHEN '${key}' THEN ${key}`).join(' ')} ELSE type END`
/** In its own order: pages of a table that is filled in another are split and written again. */
const TAKE = `
WITH keys (key) AS (VALUES ${KEYS})
INSERT OR IGNORE INTO named
SELECT shop, key, id, at, position FROM (
  SELECT shop, keys.key, ${ID} AS id, at, position FROM entry CROSS JOIN keys
  WHERE shop = $shop AND position > $upTo AND position <= $position
) WHERE id IS NOT NULL ORDER BY key, id, at, position`

const upToOf = (shop: string) =>
  `(SELECT coalesce(max(position), 0) FROM named_upto WHERE shop = ${shop})`
const UP_TO = upToOf('$shop')
/** An entry that is not what the table says of it, in a damaged file, is not found by it. */
const found = (key: ThingKey | 'type') => `named n CROSS JOIN entry e
  ON e.shop = n.shop AND e.position = n.position AND e.${key} = n.id AND e.at = n.at
  WHERE n.shop = $shop AND n.key = '${key}' AND n.id = $id AND n.position <= ${UP_TO}`
const last = (key: ThingKey | 'type') => `entry e
  WHERE e.shop = $shop AND e.position > ${UP_TO} AND e.${key} = $id`

const STORED = 'SELECT e.position, e.text, e.hash'

/** What the table alone finds, in no order. */
export const inNamed = (key: ThingKey | 'type'): string =>
  `${STORED} FROM ${found(key)} AND n.at BETWEEN $fromAt AND $toAt`

/** Whether the table alone finds any. */
export const isNamed = `
SELECT 1 FROM named WHERE shop = $shop AND key = $key AND id = $id AND at BETWEEN $fromAt AND $toAt LIMIT 1`

/** All, in no order. */
export const ofKey = (key: ThingKey | 'type'): string => `
${inNamed(key)}
UNION ALL
${STORED} FROM ${last(key)} AND e.at BETWEEN $fromAt AND $toAt`

const IS_WANTED_TYPE = 'e.type = $type'
/** The plus: the id as a column is compared as a text, for which the index is not used, and all voids are walked. */
const IS_LIVE = `NOT EXISTS (SELECT 1 FROM entry v INDEXED BY entry_voided
  WHERE v.shop = $shop AND v.type = 'EntryVoided' AND json_extract(v.text, '$.data.entry') = +e.id)`
const IS_WANTED = `${IS_WANTED_TYPE} AND ${IS_LIVE}`
/** By which an entry of a thing and a type is looked for. */
export type Side = 'thing' | 'type'

/** What is not in the table yet: a few rows. */
export const lastOfRest = (key: ThingKey): string => `
${STORED}, e.at FROM ${last(key)} AND e.at <= $toAt AND ${IS_WANTED}
ORDER BY e.at DESC, e.position DESC LIMIT 1`

/** Of the table, among what names the thing, or among what is of the type: whichever of the two has fewer is soon through. */
export const lastBy = (side: Side, key: ThingKey): string => `
${STORED}, e.at FROM ${found(side === 'type' ? 'type' : key)} AND n.at BETWEEN $fromAt AND $toAt
  AND ${side === 'type' ? `e.${key} = $thing` : IS_WANTED_TYPE} AND ${IS_LIVE}
ORDER BY n.at DESC, n.position DESC LIMIT 1`

/** When the last but so many of them was; no row where there are not as many. */
export const SO_FAR_BACK = `
SELECT at FROM named WHERE shop = $shop AND key = $key AND id = $id AND at <= $toAt
ORDER BY at DESC, position DESC LIMIT 1 OFFSET $most`

/** The table of one connection. Whoever calls it holds the write lock. */
export function namedOn(db: Database) {
  const upTo = db.prepare<{ upTo: number }, { shop: string }>(`SELECT ${UP_TO} AS upTo`)
  const take = db.prepare<null, { shop: string; upTo: number; position: number }>(TAKE)
  const set = db.prepare<null, { shop: string; position: number }>(
    'INSERT OR REPLACE INTO named_upto VALUES ($shop, $position)',
  )
  const of = (shop: string): number => upTo.get({ shop })?.upTo ?? 0
  return {
    /** How many entries of a shop, from its first one on, are in it. */
    upToOf: of,
    /** @param position of the last entry that is taken */
    takeAll(shop: string, position: number): void {
      take.run({ shop, upTo: of(shop), position })
      set.run({ shop, position })
    },
  }
}

/** So many at a time: of ten years it takes half a minute, and who stops it halfway begins where it stood. */
const AT_A_TIME = 50_000

/** How far it came, in entries. */
export type CaughtUp = { readonly done: number; readonly of: number }

/**
 * Brings the table up to a log that others have written to: an older program, which had indexes, or a tool
 * that cut its last entries off.
 * @param tell hears of each part of a long one
 */
export function catchUp(
  db: Database,
  tell: (so: CaughtUp) => void = () => {},
  atATime = AT_A_TIME,
): void {
  const named = namedOn(db)
  const forget = db.transaction((shop: string) => {
    for (const table of ['named', 'named_upto'])
      db.run(`DELETE FROM ${table} WHERE shop = ?`, [shop])
  })
  const take = db.transaction(named.takeAll)
  for (const { shop, position } of headsIn(db)) {
    if (named.upToOf(shop) > position) forget.immediate(shop)
    if (position - named.upToOf(shop) <= NAMED_EVERY) continue
    for (let done = named.upToOf(shop); done < position; ) {
      if (position - done > atATime) tell({ done, of: position })
      done = Math.min(position, done + atATime)
      take.immediate(shop, done)
    }
  }
}

export const UNFOUND = `
WITH keys (key) AS (VALUES ${KEYS})
SELECT e.shop, e.position, e.id, keys.key FROM entry e CROSS JOIN keys
WHERE ${ID} IS NOT NULL AND e.position <= ${upToOf('e.shop')} AND NOT EXISTS (
  SELECT 1 FROM named n
  WHERE n.shop = e.shop AND n.key = keys.key AND n.id = ${ID} AND n.at = e.at AND n.position = e.position
) LIMIT 1`

export type Unfound = {
  readonly shop: string
  readonly position: number
  readonly id: string
  readonly key: string
}

/** The first entry that the table should find and does not: of an index SQLite's own check would say it. */
export function firstUnfound(db: Database): Unfound | null {
  const tables = db.query("SELECT 1 FROM sqlite_master WHERE name = 'named_upto'").all()
  // A file of before has indexes.
  return tables.length === 0 ? null : db.query<Unfound, []>(UNFOUND).get()
}

/** One after another by the index: DISTINCT would walk the whole log. A shop may have lost all of its entries. */
const HEADS = `
WITH RECURSIVE shops (shop) AS (
  SELECT min(shop) FROM entry
  UNION
  SELECT (SELECT min(shop) FROM entry WHERE shop > shops.shop) FROM shops WHERE shop IS NOT NULL
)
SELECT shop, coalesce((SELECT max(position) FROM entry e WHERE e.shop = s.shop), 0) AS position
FROM (SELECT shop FROM shops UNION SELECT shop FROM named_upto) s WHERE shop IS NOT NULL`

const headsIn = (db: Database) => db.query<{ shop: string; position: number }, []>(HEADS).all()
