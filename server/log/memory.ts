import type { Entry, ThingKey } from '../../machines/envelope.ts'
import { emptyHead } from './chain.ts'
import {
  type Between,
  checkPage,
  closedError,
  type Head,
  LogError,
  type LogOp,
  type Page,
  REPORT,
  type Row,
  type Snapshot,
  type Store,
  sorted,
} from './log.ts'
import { checkChain, entryOf, rowsOf } from './rows.ts'

type Log = {
  readonly rows: Row[]
  readonly ids: Set<string>
  readonly byCommand: Map<string, Row[]>
}

/**
 * A store that forgets when it is closed: for tests and rehearsals. It keeps the same text as the
 * others and parses it on every read, so that nothing gets through here that a disk would change.
 */
export function memoryStore(): Store {
  const logs = new Map<string, Log>()
  const snapshots = new Map<string, Snapshot>()
  const meta = new Map<string, string>()
  let isOpen = true

  const mustBeOpen = (op: LogOp, shop: string | null) => {
    if (!isOpen) throw closedError(op, shop)
  }
  const rows = (shop: string): readonly Row[] => logs.get(shop)?.rows ?? []
  const entriesWhere = (shop: string, wanted: (row: Row) => boolean): Entry[] =>
    rows(shop)
      .filter(wanted)
      .map((row) => entryOf(shop, row))

  /** The rows that were not voided. */
  function live(shop: string): Row[] {
    const voids = entriesWhere(shop, ({ columns }) => columns.type === 'EntryVoided')
    const voided = new Set(voids.map(({ data }) => data.entry))
    return rows(shop).filter(({ columns }) => !voided.has(columns.id))
  }

  function headOf(shop: string): Head {
    const last = rows(shop).at(-1)
    if (!last) return emptyHead(shop)
    return { position: last.position, hash: last.hash, recordedAt: last.columns.recordedAt }
  }

  function page(shop: string, asked: Page): Row[] {
    mustBeOpen('read', shop)
    checkPage(shop, asked)
    return rows(shop).slice(asked.after, asked.after + asked.limit)
  }

  return {
    async head(shop) {
      mustBeOpen('head', shop)
      return headOf(shop)
    },

    async append(shop, expectedHead, entries, commands = []) {
      mustBeOpen('append', shop)
      const added = rowsOf(shop, expectedHead, entries)
      const head = headOf(shop)
      if (head.position !== expectedHead) return 'moved'
      checkChain(shop, head, added)
      const log: Log = logs.get(shop) ?? { rows: [], ids: new Set(), byCommand: new Map() }
      if (commands.some((command) => log.byCommand.has(command))) return 'known'
      const ids = new Set(added.map((row) => row.columns.id))
      if (ids.size < added.length || !ids.isDisjointFrom(log.ids))
        throw new LogError({ op: 'append', shop }, 'program', 'An id is taken.', REPORT)
      if (added.length === 0) return 'done'
      log.rows.push(...added)
      for (const id of ids) log.ids.add(id)
      // Each command asks for its own entries: looking through the whole log would be slow.
      for (const row of added) {
        const { command } = row.columns
        log.byCommand.set(command, [...(log.byCommand.get(command) ?? []), row])
      }
      logs.set(shop, log)
      return 'done'
    },

    async read(shop, asked) {
      return page(shop, asked).map((row) => entryOf(shop, row))
    },

    async raw(shop, asked) {
      return page(shop, asked)
    },

    async byCommand(shop, command) {
      mustBeOpen('find', shop)
      const found = logs.get(shop)?.byCommand.get(command) ?? []
      return found.map((row) => entryOf(shop, row))
    },

    async byThing(shop: string, key: ThingKey, id: string, between?: Between) {
      mustBeOpen('find', shop)
      const { fromAt, toAt } = between ?? { fromAt: -Infinity, toAt: Infinity }
      return entriesWhere(
        shop,
        ({ columns }) => columns[key] === id && columns.at >= fromAt && columns.at <= toAt,
      )
    },

    async byType(shop, type, { fromAt, toAt }) {
      mustBeOpen('find', shop)
      return entriesWhere(
        shop,
        ({ columns }) => columns.type === type && columns.at >= fromAt && columns.at <= toAt,
      )
    },

    async byId(shop, entryId) {
      mustBeOpen('find', shop)
      return entriesWhere(shop, (row) => row.columns.id === entryId)[0] ?? null
    },

    async voidsOf(shop, entryIds) {
      mustBeOpen('find', shop)
      const ids = new Set<unknown>(entryIds)
      const voids = entriesWhere(shop, ({ columns }) => columns.type === 'EntryVoided')
      return voids.filter(({ data }) => ids.has(data.entry))
    },

    async lastBefore(shop, key, id, type, toAt) {
      mustBeOpen('find', shop)
      const fits = ({ columns }: Row) => columns[key] === id && columns.at <= toAt
      const row = lastRow(live(shop), (one) => fits(one) && one.columns.type === type)
      return row ? entryOf(shop, row) : null
    },

    async shops() {
      mustBeOpen('shops', null)
      return sorted(logs.keys())
    },

    async getSnapshot(shop, foldVersion) {
      mustBeOpen('snapshot', shop)
      return snapshots.get(JSON.stringify([shop, foldVersion])) ?? null
    },

    async putSnapshot(shop, foldVersion, position, json) {
      mustBeOpen('snapshot', shop)
      snapshots.set(JSON.stringify([shop, foldVersion]), { position, json })
    },

    async getMeta(key) {
      mustBeOpen('meta', null)
      return meta.get(key) ?? null
    },

    async putMeta(key, value) {
      mustBeOpen('meta', null)
      meta.set(key, value)
    },

    async close() {
      isOpen = false
    },
  }
}

/** The last in time of the rows that fit; of those of one instant the one that was recorded last. */
function lastRow(all: readonly Row[], fits: (row: Row) => boolean): Row | null {
  let last: Row | null = null
  for (const row of all)
    if (row.columns.at >= (last?.columns.at ?? -Infinity) && fits(row)) last = row
  return last
}
