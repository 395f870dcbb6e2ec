import type { FoundJob } from '../../machines/contract.ts'
import type { Entry, Json } from '../../machines/envelope.ts'
import { type JobQuery, searchText } from '../../machines/job/search.ts'
import { openIndexFile, upToOf } from '../sideIndex/file.ts'
import type { SideIndex } from '../sideIndex/follow.ts'

/**
 * Every job of a log with what it is found by, in a file of its own that can be made again from the log at any
 * time. Forty thousand jobs are ten years of a shop that opens sixteen a day; their texts are looked through
 * in some milliseconds.
 */
export type JobIndex = SideIndex & {
  /** The jobs that are asked for, the last worked on first. */
  readonly find: (query: JobQuery, page: FoundPage) => FoundJob[]
}

export type FoundPage = { readonly skip: number; readonly limit: number }

/** Goes up with every change of a table or of what is kept of an entry: an older file is made anew. */
const VERSION = 1

const SCHEMA = `
CREATE TABLE fact (
  entry TEXT PRIMARY KEY, job TEXT NOT NULL, position INTEGER NOT NULL, type TEXT NOT NULL,
  at INTEGER NOT NULL, panel TEXT, data TEXT NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX fact_job ON fact (job, at, position);
CREATE TABLE job (
  job TEXT PRIMARY KEY, opened_at INTEGER NOT NULL, last_at INTEGER NOT NULL, found TEXT NOT NULL,
  text TEXT NOT NULL
) STRICT;
CREATE INDEX job_last ON job (last_at DESC);
CREATE TABLE touched (job TEXT PRIMARY KEY, last_at INTEGER NOT NULL) STRICT, WITHOUT ROWID;
`

/** What says something that a job is found by. */
const KEPT = ['JobOpened', 'JobClosed', 'JobReopened', 'PanelAdded'] as const

type Fact = {
  readonly type: string
  readonly at: number
  readonly panel: string | null
  readonly data: string
}
type Row = { readonly found: string }

/**
 * @param path the file; null keeps it in memory
 * @throws where neither the file nor a new one in its place can be opened
 */
export function openJobIndex(path: string | null): JobIndex {
  const db = openIndexFile(path, { schema: SCHEMA, version: VERSION })
  const upTo = upToOf(db)
  const sql = {
    addFact: db.prepare(
      'INSERT OR REPLACE INTO fact VALUES ($entry, $job, $position, $type, $at, $panel, $data)',
    ),
    jobOfFact: db.prepare<{ job: string }, { entry: string }>(
      'SELECT job FROM fact WHERE entry = $entry',
    ),
    dropFact: db.prepare('DELETE FROM fact WHERE entry = $entry'),
    factsOf: db.prepare<Fact, { job: string }>(
      'SELECT type, at, panel, data FROM fact WHERE job = $job ORDER BY at, position',
    ),
    touch: db.prepare(
      `INSERT INTO touched VALUES ($job, $at)
       ON CONFLICT (job) DO UPDATE SET last_at = max(last_at, excluded.last_at)`,
    ),
    lastOf: db.prepare<{ last_at: number }, { job: string }>(
      'SELECT last_at FROM touched WHERE job = $job',
    ),
    putJob: db.prepare(
      'INSERT OR REPLACE INTO job VALUES ($job, $openedAt, $lastAt, $found, $text)',
    ),
    dropJob: db.prepare('DELETE FROM job WHERE job = $job'),
  }

  /** Its row, made anew of what is kept of it. A job whose opening is not known (yet) has none. */
  function renew(job: string): void {
    const facts = sql.factsOf.all({ job })
    const lastAt = sql.lastOf.get({ job })?.last_at ?? 0
    const found = foundJob(job, facts, lastAt)
    if (!found) {
      sql.dropJob.run({ job })
      return
    }
    const { title, vehicle, colours, panels, openedAt } = found
    const named = colours.flatMap(({ key, code, variant }) => [key, code, variant ?? ''])
    const text = searchText([job, title, vehicle ?? '', ...named, ...panels])
    sql.putJob.run({ job, openedAt, lastAt, found: JSON.stringify(found), text })
  }

  const take = db.transaction((entries: readonly Entry[]) => {
    const changed = new Set<string>()
    for (const entry of entries) {
      const { id, type, at, position, data, job = null, panel = null } = entry
      if (type === 'EntryVoided') {
        const of = sql.jobOfFact.get({ entry: String(data.entry) })?.job
        sql.dropFact.run({ entry: String(data.entry) })
        if (of !== undefined) changed.add(of)
      }
      if (job === null) continue
      sql.touch.run({ job, at })
      changed.add(job)
      if (KEPT.some((one) => one === type))
        sql.addFact.run({ entry: id, job, position, type, at, panel, data: JSON.stringify(data) })
    }
    for (const job of changed) renew(job)
    const last = entries.at(-1)
    if (last) upTo.set(last.position, last.hash)
  })

  return {
    read: upTo.read,
    take: (entries) => {
      take(entries)
    },
    clear: db.transaction(() => {
      for (const table of ['fact', 'job', 'touched', 'upto']) db.run(`DELETE FROM ${table}`)
    }),
    find({ words, within }, { skip, limit }) {
      const { fromMs, toMs } = within ?? { fromMs: 0, toMs: Number.MAX_SAFE_INTEGER }
      const each = words.map(() => 'AND instr(text, ?) > 0').join(' ')
      return db
        .query<Row, (string | number)[]>(
          `SELECT found FROM job WHERE opened_at < ? AND last_at >= ? ${each}
           ORDER BY last_at DESC, job LIMIT ? OFFSET ?`,
        )
        .all(toMs, fromMs, ...words, limit, skip)
        .map(({ found }): FoundJob => JSON.parse(found))
    },
    close: () => db.close(),
  }
}

const dataOf = ({ data }: Fact): Readonly<Record<string, Json>> => JSON.parse(data)
const textOf = (value: Json | undefined): string => (typeof value === 'string' ? value : '')

function coloursIn(value: Json | undefined): FoundJob['colours'] {
  if (!Array.isArray(value)) return []
  return value.flatMap((one) => {
    if (typeof one !== 'object' || one === null || Array.isArray(one)) return []
    const { key, code, variant } = one as Readonly<Record<string, Json>>
    return [{ key: textOf(key), code: textOf(code), variant: textOf(variant) || null }]
  })
}

function foundJob(job: string, facts: readonly Fact[], lastAt: number): FoundJob | null {
  const opening = facts.find(({ type }) => type === 'JobOpened')
  if (!opening) return null
  const { title, vehicle, colours } = dataOf(opening)
  const turned = facts.findLast(({ type }) => type === 'JobClosed' || type === 'JobReopened')
  const panels = facts.filter(({ type }) => type === 'PanelAdded').map((one) => dataOf(one).name)
  return {
    job,
    title: textOf(title),
    vehicle: textOf(vehicle) || null,
    colours: coloursIn(colours),
    panels: [...new Set(panels.map(textOf))].filter((name) => name !== ''),
    openedAt: opening.at,
    closedAt: turned?.type === 'JobClosed' ? turned.at : null,
    lastAt,
  }
}
