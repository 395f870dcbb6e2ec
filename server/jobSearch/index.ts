import type { LateJob } from '../../machines/contract/foundLater.ts'
import type { FoundJob } from '../../machines/contract.ts'
import type { Entry, Json } from '../../machines/envelope.ts'
import { type JobQuery, searchText } from '../../machines/job/search.ts'
import { indexOn, openIndexFile } from '../sideIndex/file.ts'
import type { SideIndex } from '../sideIndex/follow.ts'

/**
 * Every job of a log with what it is found by, in a file of its own that can be made again from the log at any
 * time. Forty thousand jobs are ten years of a shop that opens sixteen a day; their texts are looked through
 * in some milliseconds.
 */
export type JobIndex = SideIndex & {
  /** The jobs that are asked for, the last worked on first. */
  readonly find: (query: JobQuery, page: FoundPage) => FoundJob[]
  /** Jobs that something late was told about and that were not looked at since, the last first. */
  readonly toLook: (most: number) => { readonly job: string; readonly position: number }[]
  /** What was found of one; `position` as `toLook` gave it. */
  readonly looked: (seen: Omit<LateJob, 'title'> & { readonly position: number }) => void
  /** Those of which something was found that nobody has decided about, the last first. */
  readonly foundLater: (most: number) => LateJob[]
}

export type FoundPage = { readonly skip: number; readonly limit: number }

/** Goes up with every change of a table or of what is kept of an entry: an older file is made anew. */
const VERSION = 2

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
CREATE INDEX touched_last ON touched (last_at);
CREATE TABLE late (
  job TEXT PRIMARY KEY, position INTEGER NOT NULL, looked INTEGER NOT NULL, found INTEGER NOT NULL,
  is_closed INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
`
const TABLES = ['fact', 'job', 'touched', 'late'] as const

/** What says something that a job is found by. */
const KEPT = ['JobOpened', 'JobClosed', 'JobReopened', 'PanelAdded'] as const

/** A press takes its way to the log within this: it is not told late. */
const PRESSED_MS = 10_000
/** What is said of a job afterwards breaks no limit. */
const SAID: readonly string[] = ['DeviationSettled', 'CauseReviewed', 'NoteAdded', 'PhotoAdded']
/** What tells of the air, for whoever sprayed in it. */
const OF_AIR: readonly string[] = ['ClimateRead', 'AirMoversSet', 'DayRangeSet']

/** What may show that a limit was broken which no entry says: what was told late, or taken back. */
const isLate = ({ type, at, recordedAt }: Entry): boolean =>
  type === 'EntryVoided' || (!SAID.includes(type) && recordedAt - at > PRESSED_MS)

type Fact = {
  readonly type: string
  readonly at: number
  readonly panel: string | null
  readonly data: string
}
type Row = { readonly found: string }
type Late = { readonly job: string; readonly found: number; readonly is_closed: number }

/**
 * @param path the file; null keeps it in memory
 * @throws where neither the file nor a new one in its place can be opened
 */
export function openJobIndex(path: string | null): JobIndex {
  const db = openIndexFile(path, { schema: SCHEMA, version: VERSION })
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
    late: db.prepare(
      `INSERT INTO late VALUES ($job, $position, 0, 0, 0)
       ON CONFLICT (job) DO UPDATE SET position = excluded.position`,
    ),
    lateAgain: db.prepare('UPDATE late SET position = $position WHERE job = $job'),
    // Of a reading: whatever was worked on since it was taken.
    lateSince: db.prepare(
      `INSERT INTO late SELECT job, $position, 0, 0, 0 FROM touched WHERE last_at >= $at
       ON CONFLICT (job) DO UPDATE SET position = excluded.position`,
    ),
    toLook: db.prepare<{ job: string; position: number }, { most: number }>(
      'SELECT job, position FROM late WHERE looked < position ORDER BY position DESC LIMIT $most',
    ),
    looked: db.prepare(
      'UPDATE late SET looked = $position, found = $found, is_closed = $isClosed WHERE job = $job',
    ),
    foundLater: db.prepare<Late, { most: number }>(
      `SELECT job, found, is_closed FROM late WHERE found > 0 ORDER BY position DESC LIMIT $most`,
    ),
    jobOf: db.prepare<Row, { job: string }>('SELECT found FROM job WHERE job = $job'),
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

  const takeAll = (entries: readonly Entry[]) => {
    const changed = new Set<string>()
    for (const entry of entries) {
      const { id, type, at, position, data, job = null, panel = null } = entry
      if (type === 'EntryVoided') {
        const of = sql.jobOfFact.get({ entry: String(data.entry) })?.job
        sql.dropFact.run({ entry: String(data.entry) })
        if (of !== undefined) changed.add(of)
      }
      if (job === null) {
        if (OF_AIR.includes(type) && isLate(entry)) sql.lateSince.run({ position, at })
        continue
      }
      if (isLate(entry)) sql.late.run({ job, position })
      else sql.lateAgain.run({ job, position })
      sql.touch.run({ job, at })
      changed.add(job)
      if (KEPT.some((one) => one === type))
        sql.addFact.run({ entry: id, job, position, type, at, panel, data: JSON.stringify(data) })
    }
    for (const job of changed) renew(job)
  }

  return {
    ...indexOn(db, TABLES, takeAll),
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
    toLook: (most) => sql.toLook.all({ most }),
    looked({ job, position, found, isClosed }) {
      sql.looked.run({ job, position, found, isClosed: Number(isClosed) })
    },
    foundLater: (most) =>
      sql.foundLater.all({ most }).map(({ job, found, is_closed }): LateJob => {
        const row = sql.jobOf.get({ job })
        const { title } = row ? (JSON.parse(row.found) as FoundJob) : { title: job }
        return { job, title, found, isClosed: is_closed === 1 }
      }),
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
