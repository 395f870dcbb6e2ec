import type { Database } from 'bun:sqlite'
import type { Entry, ThingKey } from '../../machines/envelope.ts'
import { inTurns } from '../turn.ts'
import { emptyHead } from './chain.ts'
import { withCheckpoints } from './checkpoint.ts'
import { asLogError } from './faults.ts'
import { openLogFile } from './file.ts'
import { LAST_MOST, lastNamedOn } from './lastNamed.ts'
import {
  type Appended,
  type Between,
  type Columns,
  checkPage,
  closedError,
  type Head,
  type LogOp,
  type Row,
  type Store,
  sorted,
} from './log.ts'
import { NAMED_EVERY, namedOn } from './named.ts'
import { checkChain, entryOf, type NewRow, rowsOf } from './rows.ts'
import { type Stored, statementsOn } from './statements.ts'

/** A head, and what `PRAGMA data_version` said when it was written. */
type Last = {
  readonly shop: string
  readonly head: Head
  readonly version: number
  /** How many entries are found by `named`, and those behind them; null where another process wrote some. */
  readonly namedUpTo: number
  readonly tail: readonly NewRow[] | null
}

/** The embedded store: one SQLite file, one writing process. Takes and throws what openLogFile does. */
export function sqliteStore(...file: Parameters<typeof openLogFile>): Store {
  const db = openLogFile(...file)
  return withCheckpoints(storeOn(db), db)
}

/**
 * The store on a database that openLogFile opened. It closes the database when it is closed.
 * @param namedEvery after how many entries these are put where they are found by things and types
 * @param lastMost how many are looked through at a time for the last of a thing and a type
 */
export function storeOn(db: Database, namedEvery = NAMED_EVERY, lastMost = LAST_MOST): Store {
  const sql = statementsOn(db)
  const named = namedOn(db)
  const lastNamed = lastNamedOn(db, lastMost)
  let isOpen = true

  /** What does not wait runs to its end in one turn: no other call of this process comes between. */
  async function attempt<T>(
    op: LogOp,
    shop: string | null,
    work: () => T | Promise<T>,
  ): Promise<T> {
    if (!isOpen) throw closedError(op, shop)
    try {
      const done = work()
      return done instanceof Promise ? await done : done
    } catch (cause) {
      throw asLogError(op, shop, cause)
    }
  }

  const parsed = (shop: string, found: readonly Stored[]): Entry[] =>
    found.map((row) => entryOf(shop, row))
  const headOf = (shop: string): Head => sql.head.get({ shop }) ?? emptyHead(shop)
  /** What this connection appended last. It is the head until another one writes: then SQLite counts on. */
  let last: Last | null = null
  /** The same of a transaction that has not ended yet. */
  let appended: Last | null = null
  const versionNow = (): number => sql.version.get()?.data_version ?? 0

  /** Not async: bun:sqlite would commit at the first await. */
  const appendRows = db.transaction(
    (
      shop: string,
      expectedHead: number,
      rows: readonly NewRow[],
      commands: readonly string[],
    ): Appended => {
      const version = versionNow()
      const isLast = last?.shop === shop && last.version === version
      const head = isLast && last ? last.head : headOf(shop)
      if (head.position !== expectedHead) return 'moved'
      if (commands.some((command) => sql.hasCommand.get({ shop, command }) !== null)) return 'known'
      checkChain(shop, head, rows)
      for (const { position, text, hash, columns } of rows)
        sql.insert.run({ shop, position, text, hash, ...columns })
      const end = rows.at(-1)
      if (!end) return 'done'
      const upTo = isLast && last ? last.namedUpTo : named.upToOf(shop)
      const before = isLast && last ? last.tail : upTo === head.position ? [] : null
      const isDue = end.position - upTo >= namedEvery
      if (isDue) named.takeAll(shop, end.position)
      const [namedUpTo, tail] = isDue ? [end.position, []] : [upTo, before && [...before, ...rows]]
      // Read under the write lock: it counts what others commit, and nobody else can before this does.
      appended = { shop, head: headAt(end), version, namedUpTo, tail }
      return 'done'
    },
  )

  /** What names a thing or is of a type. What this process appended last it knows itself. */
  function found(key: ThingKey | 'type', shop: string, id: string, between: Between): Stored[] {
    const known = last?.shop === shop && last.version === versionNow() ? last : null
    if (known === null || known.tail === null) return sql.ofKey[key].all({ shop, id, ...between })
    // Of a new thing there is none: the join takes ten times as long to say so.
    const isInTable = sql.isNamed.get({ shop, key, id, ...between }) !== null
    const inTable = isInTable ? sql.inNamed[key].all({ shop, id, ...between }) : []
    // Another process may just have written: what it put into the table is no longer behind it.
    const before = inTable.filter(({ position }) => position <= known.namedUpTo)
    const isOf = ({ columns }: NewRow) =>
      columns[key] === id && columns.at >= between.fromAt && columns.at <= between.toAt
    return [...before, ...known.tail.filter(isOf)]
  }

  return {
    head: (shop) => attempt('head', shop, () => headOf(shop)),

    append: (shop, expectedHead, entries, commands = []) =>
      attempt('append', shop, () => {
        const rows = rowsOf(shop, expectedHead, entries)
        // Immediate: a deferred transaction that reads first fails at once when another process
        // writes.
        const done = appendRows.immediate(shop, expectedHead, rows, commands)
        if (done === 'done' && rows.length > 0) last = appended
        return done
      }),

    read: (shop, page) =>
      attempt('read', shop, () => {
        checkPage(shop, page)
        return parsed(shop, sql.read.all({ shop, ...page }))
      }),

    raw: (shop, page) =>
      attempt('read', shop, () => {
        checkPage(shop, page)
        return sql.raw.all({ shop, ...page }).map(toRow)
      }),

    byCommand: (shop, command) =>
      attempt('find', shop, () => parsed(shop, sql.byCommand.all({ shop, command }))),

    byThing: (shop: string, key: ThingKey, id: string, between: Between = ALWAYS) =>
      attempt('find', shop, () => parsed(shop, inOrder(found(key, shop, id, between)))),

    byType: (shop, type, between) =>
      attempt('find', shop, () => parsed(shop, inOrder(found('type', shop, type, between)))),

    byId: (shop, id) =>
      attempt('find', shop, () => {
        const found = sql.byId.get({ shop, id })
        return found && entryOf(shop, found)
      }),

    voidsOf: (shop, entryIds) =>
      attempt('find', shop, () =>
        parsed(shop, sql.voidsOf.all({ shop, ids: JSON.stringify(entryIds) })),
      ),

    lastBefore: (shop, key, id, type, toAt) =>
      attempt('find', shop, async () => {
        const turn = inTurns()
        const found = await lastNamed({ shop, key, id, type, toAt }, async () => {
          await turn()
          if (!isOpen) throw closedError('find', shop)
        })
        return found && entryOf(shop, found)
      }),

    shops: () =>
      attempt('shops', null, () => {
        const found: string[] = []
        for (let next = sql.shopAfter.get({ after: '' }); next; ) {
          found.push(next.shop)
          next = sql.shopAfter.get({ after: next.shop })
        }
        return sorted(found)
      }),

    getSnapshot: (shop, foldVersion) =>
      attempt('snapshot', shop, () => sql.getSnapshot.get({ shop, foldVersion })),

    putSnapshot: (shop, foldVersion, position, json) =>
      attempt('snapshot', shop, () => {
        sql.putSnapshot.run({ shop, foldVersion, position, json })
      }),

    getMeta: (key) => attempt('meta', null, () => sql.getMeta.get({ key })?.value ?? null),

    putMeta: (key, value) =>
      attempt('meta', null, () => {
        sql.putMeta.run({ key, value })
      }),

    async close() {
      if (!isOpen) return
      isOpen = false
      try {
        // true: statements are closed too, otherwise the file stays open until they are collected.
        db.close(true)
      } catch (cause) {
        throw asLogError('close', null, cause)
      }
    },
  }
}

const ALWAYS: Between = { fromAt: Number.MIN_SAFE_INTEGER, toAt: Number.MAX_SAFE_INTEGER }

/** Mostly there is none, of a new thing: SQLite's own sorter costs then four times the look. */
const inOrder = (found: Stored[]): Stored[] =>
  found.length < 2 ? found : found.sort((a, b) => a.position - b.position)

const headAt = ({ position, hash, columns }: NewRow): Head => ({
  ...{ position, hash, recordedAt: columns.recordedAt },
})

const toRow = ({ position, text, hash, ...columns }: Stored & Columns): Row => ({
  position,
  text,
  hash,
  columns,
})
