import type { Entry } from '../../machines/envelope.ts'
import { entryText, sha256 } from '../../server/log/canonical.ts'
import { emptyHead, link } from '../../server/log/chain.ts'
import { openLogFile } from '../../server/log/file.ts'
import type { Columns } from '../../server/log/log.ts'
import { catchUp } from '../../server/log/named.ts'
import { columnsOf } from '../../server/log/rows.ts'
import { codeOf, DAY_MS, type DayShape, playDay, SHOP } from './bigDay.ts'
import { MINUTE, START_MS } from './serverShop.ts'

/**
 * A log of any length: one real day, its ids and times moved on day by day, sealed entry by entry, so
 * that `verify` accepts it. Some seconds for a hundred thousand entries.
 */

/** What a text is cut into: what stays, and what is another one on every day. */
type Part = string | { readonly is: 'day' | 'position' } | { readonly ms: number }
type Template = { readonly parts: readonly Part[]; readonly columns: Columns }

export type BigLog = {
  readonly shop: string
  /** How many days it has; the first is 1. */
  readonly days: number
  readonly entries: number
  /** Late on its last day, UTC ms: everybody has gone home. */
  readonly endMs: number
}

/**
 * @param file a path where nothing lies yet
 * @param shape `entries` is the least that it gets: days are whole. `beforeMs`: it ends in the day before this
 *   instant, UTC ms. A server that opens it with its own clock would else find itself months later, take that for a
 *   clock that jumped, and let go of nothing.
 */
export async function writeBigLog(
  file: string,
  shape: DayShape & { readonly entries: number; readonly beforeMs?: number },
): Promise<BigLog> {
  const played = await playDay(shape)
  const code = codeOf(played.day, 4)
  const day = templates(played.entries, code)
  const days = Math.max(1, Math.ceil((shape.entries - played.setUp.length) / day.length))
  const wantedMs = shape.beforeMs === undefined ? 0 : shape.beforeMs - endOf(days)
  const laterMs = Math.floor(wantedMs / DAY_MS) * DAY_MS
  const db = openLogFile(file)
  try {
    // Whoever writes here loses nothing that cannot be made again.
    db.run('PRAGMA synchronous = OFF')
    db.run('PRAGMA cache_size = -131072')
    db.run('INSERT OR REPLACE INTO meta VALUES (?, ?)', ['shop', SHOP])
    const put = putter(db)
    const putDay = db.transaction((of: number) => {
      for (const one of day) put.moved(one, codeOf(of, 4), laterMs + (of - 1) * DAY_MS)
    })
    db.transaction(() => {
      for (const one of templates(played.setUp, code)) put.moved(one, null, laterMs)
    })()
    for (let of = 1; of <= days; of += 1) putDay(of)
    catchUp(db)
    return { shop: SHOP, days, entries: put.position(), endMs: endOf(days) + laterMs }
  } finally {
    db.run('PRAGMA wal_checkpoint(TRUNCATE)')
    db.close(true)
  }
}

/** Midnight of a day that begins at eight. */
const endOf = (day: number): number => START_MS + day * DAY_MS + 16 * 60 * MINUTE

function templates(entries: readonly Entry[], code: string): Template[] {
  const moving = new RegExp(
    `(?<=[JPCd])${code}|(?<=[:,[])1[67]\\d{11}(?!\\d)|(?<="(?:position|seq)":)\\d+`,
    'g',
  )
  return entries.map((entry) => {
    const text = entryText(entry)
    const parts: Part[] = []
    let from = 0
    for (const { 0: found, index } of text.matchAll(moving)) {
      parts.push(text.slice(from, index))
      from = index + found.length
      if (found === code) parts.push({ is: 'day' })
      else parts.push(found.length === 13 ? { ms: Number(found) } : { is: 'position' })
    }
    return { parts: [...parts, text.slice(from)], columns: columnsOf(entry) }
  })
}

function putter(db: ReturnType<typeof openLogFile>) {
  let position = 0
  let { hash } = emptyHead(SHOP)
  const names: readonly (keyof Columns)[] = [
    ...(['id', 'command', 'type', 'at', 'recordedAt'] as const),
    ...(['job', 'panel', 'cup', 'gun', 'zone', 'sheet'] as const),
  ]
  const fields = names.map((name) => (name === 'recordedAt' ? 'recorded_at' : name)).join(', ')
  const insert = db.prepare(
    `INSERT INTO entry (shop, position, text, hash, ${fields})
     VALUES (?, ?, ?, ?, ${names.map(() => '?').join(', ')})`,
  )
  function put(text: string, columns: Columns): void {
    position += 1
    hash = link(hash, sha256(text))
    insert.run(SHOP, position, text, hash, ...names.map((name) => columns[name]))
  }
  return {
    position: () => position,
    /** @param code of the day in its ids; null for what was set up before the first one */
    moved({ parts, columns }: Template, code: string | null, byMs: number): void {
      const next = String(position + 1)
      const said = parts.map((part) => {
        if (typeof part === 'string') return part
        if ('ms' in part) return String(part.ms + byMs)
        return part.is === 'day' ? (code ?? '') : next
      })
      put(said.join(''), movedColumns(columns, code, byMs))
    },
  }
}

const DAY_IN_ID = /(?<=^[JPCd]).{4}/

function movedColumns(columns: Columns, code: string | null, byMs: number): Columns {
  const ofDay = (id: string) => (code === null ? id : id.replace(DAY_IN_ID, code))
  const moved = (id: string | null) => (id === null ? null : ofDay(id))
  const { id, command, at, recordedAt, job, panel, cup } = columns
  return {
    ...columns,
    id: ofDay(id),
    command: ofDay(command),
    at: at + byMs,
    recordedAt: recordedAt + byMs,
    ...{ job: moved(job), panel: moved(panel), cup: moved(cup) },
  }
}
