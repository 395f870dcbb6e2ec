import type { Entry } from '../../machines/envelope.ts'
import { writtenOf } from './canonical.ts'
import { link } from './chain.ts'
import {
  type Columns,
  type Head,
  LogError,
  REPORT,
  RESTORE,
  type Row,
  type Unsealed,
} from './log.ts'

/**
 * Each column is the entry's key of the same name. An entry names at most one thing of each kind.
 */
export const columnsOf = (entry: Unsealed): Columns => ({
  id: entry.id,
  command: entry.command,
  type: entry.type,
  at: entry.at,
  recordedAt: entry.recordedAt,
  job: entry.job ?? null,
  panel: entry.panel ?? null,
  cup: entry.cup ?? null,
  gun: entry.gun ?? null,
  zone: entry.zone ?? null,
  sheet: entry.sheet ?? null,
})

/** A row that is about to be stored, with the SHA-256 of its text. */
export type NewRow = Row & { readonly digest: string }

/** @throws as writtenOf */
export const rowOf = (entry: Entry): NewRow => ({
  position: entry.position,
  ...writtenOf(entry),
  hash: entry.hash,
  columns: columnsOf(entry),
})

/** The entry a row holds. @throws LogError `damaged` where the text is no longer JSON */
export function entryOf(
  shop: string,
  row: { text: string; hash: string; position: number },
): Entry {
  try {
    return { ...JSON.parse(row.text), hash: row.hash }
  } catch (cause) {
    const what = `Entry ${row.position} of shop ${shop} cannot be read: its text was changed.`
    throw new LogError({ op: 'read', shop }, 'damaged', what, RESTORE, cause)
  }
}

/**
 * The rows of an append, checked as far as they can be without the store.
 * @throws LogError `program` where an entry is another shop's, out of place, or has no RFC 8785
 *   text
 */
export function rowsOf(shop: string, expectedHead: number, entries: readonly Entry[]): NewRow[] {
  return entries.map((entry, i) => {
    if (entry.shop !== shop) throw fault(shop, `Entry ${entry.id} is of shop ${entry.shop}.`)
    const position = expectedHead + i + 1
    if (entry.position !== position)
      throw fault(shop, `Entry ${entry.id} is at ${entry.position}, where ${position} follows.`)
    try {
      return rowOf(entry)
    } catch (cause) {
      throw fault(shop, `Entry ${entry.id} cannot be written as text.`, cause)
    }
  })
}

/**
 * Refuses what verify would later complain of. The head is the stored one: a log that was replaced
 * behind the server's back has the same position and another hash.
 * @throws LogError `program`
 */
export function checkChain(shop: string, head: Head, rows: readonly NewRow[]): void {
  let { hash, recordedAt } = head
  for (const row of rows) {
    const { id } = row.columns
    if (row.columns.recordedAt < recordedAt)
      throw fault(shop, `Entry ${id} is recorded before the one in front of it.`)
    if (row.hash !== link(hash, row.digest))
      throw fault(shop, `Entry ${id} is not sealed upon the entry in front of it.`)
    hash = row.hash
    recordedAt = row.columns.recordedAt
  }
}

const fault = (shop: string, what: string, cause?: unknown) =>
  new LogError({ op: 'append', shop }, 'program', what, REPORT, cause)
