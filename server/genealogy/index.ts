import type { CoatOf, CupOf, LotOf } from '../../machines/contract/genealogy.ts'
import type { Entry, Json } from '../../machines/envelope.ts'
import { indexOn, openIndexFile } from '../sideIndex/file.ts'
import type { SideIndex } from '../sideIndex/follow.ts'

/**
 * Which lots went into which cup, which cup was poured into which, and which coat was sprayed from which:
 * each by index, in both directions, in a file of its own that can be made again from the log.
 */
export type Genealogy = SideIndex & {
  /** The cups that a lot went into. */
  readonly cupsOfLot: (lot: string) => string[]
  /** The cups that one was poured into, and that it was poured from. */
  readonly children: (cup: string) => string[]
  readonly parents: (cup: string) => string[]
  /** What was sprayed from a cup, on a panel; without names. */
  readonly coatsOfCup: (cup: string) => Coat[]
  readonly coatsOfPanel: (panel: string) => Coat[]
  readonly cup: (cup: string) => CupOf
  /** A coat with the names of its panel and job. */
  readonly named: (coat: Coat) => CoatOf
  readonly lots: (find: string, page: { skip: number; limit: number }) => LotUse[]
  /** The jobs that some of the last cups of a sheet were sprayed on, each with when that was last, UTC ms. */
  readonly jobsOfSheet: (sheet: string, cups: number) => Map<string, number>
}

type Coat = Omit<CoatOf, 'panelName' | 'jobTitle'>
type LotUse = LotOf & { readonly cups: number; readonly lastAt: number }

const VERSION = 2
const SCHEMA = `
CREATE TABLE mixed (
  entry TEXT PRIMARY KEY, cup TEXT NOT NULL, at INTEGER NOT NULL, job TEXT, sheet TEXT, name TEXT,
  activator TEXT, reducer TEXT
) STRICT, WITHOUT ROWID;
CREATE INDEX mixed_cup ON mixed (cup);
CREATE INDEX mixed_sheet ON mixed (sheet, at);
CREATE TABLE lot (
  entry TEXT NOT NULL, n INTEGER NOT NULL, key TEXT NOT NULL, lot TEXT NOT NULL, component TEXT,
  cup TEXT NOT NULL, at INTEGER NOT NULL, PRIMARY KEY (entry, n)
) STRICT, WITHOUT ROWID;
CREATE INDEX lot_key ON lot (key, cup);
CREATE INDEX lot_cup ON lot (cup);
CREATE TABLE poured (
  entry TEXT NOT NULL, parent TEXT NOT NULL, child TEXT NOT NULL, PRIMARY KEY (entry, parent)
) STRICT, WITHOUT ROWID;
CREATE INDEX poured_parent ON poured (parent);
CREATE INDEX poured_child ON poured (child);
CREATE TABLE coat (
  entry TEXT PRIMARY KEY, at INTEGER NOT NULL, panel TEXT NOT NULL, job TEXT, stage TEXT, cup TEXT NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX coat_cup ON coat (cup, at);
CREATE INDEX coat_panel ON coat (panel, at);
CREATE TABLE name (
  entry TEXT PRIMARY KEY, kind TEXT NOT NULL, id TEXT NOT NULL, name TEXT NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX name_of ON name (kind, id);
`
const TABLES = ['mixed', 'lot', 'poured', 'coat', 'name'] as const

/** As it is compared: how it was typed on another day makes no other lot. */
const keyOf = (lot: string): string => lot.trim().toLowerCase()

const textOf = (value: Json | undefined): string | null =>
  typeof value === 'string' && value !== '' ? value : null

function lotsIn(value: Json | undefined): LotOf[] {
  if (!Array.isArray(value)) return []
  return value.flatMap((one: Json): LotOf[] => {
    if (typeof one === 'string') return [{ lot: one, component: null }]
    if (typeof one !== 'object' || one === null || Array.isArray(one)) return []
    const { lot, name } = one as { readonly [key: string]: Json }
    const said = textOf(lot)
    return said === null ? [] : [{ lot: said, component: textOf(name) }]
  })
}

/** A coat begins with its start, or with a finish that brings its own; another cup continues it. */
function isOfCoat({ type, data }: Entry): boolean {
  if (type === 'CoatStarted' || type === 'CoatContinued') return true
  const isOwnStart = 'startedAt' in data || 'estimatedStartAt' in data
  return type === 'CoatFinished' && isOwnStart
}

/** @param path the file; null keeps it in memory */
export function openGenealogy(path: string | null): Genealogy {
  const db = openIndexFile(path, { schema: SCHEMA, version: VERSION })
  const put = {
    mixed: db.prepare('INSERT OR REPLACE INTO mixed VALUES (?, ?, ?, ?, ?, ?, ?, ?)'),
    lot: db.prepare('INSERT OR REPLACE INTO lot VALUES (?, ?, ?, ?, ?, ?, ?)'),
    poured: db.prepare('INSERT OR REPLACE INTO poured VALUES (?, ?, ?)'),
    coat: db.prepare('INSERT OR REPLACE INTO coat VALUES (?, ?, ?, ?, ?, ?)'),
    name: db.prepare('INSERT OR REPLACE INTO name VALUES (?, ?, ?, ?)'),
  }
  const drop = TABLES.map((table) => db.prepare(`DELETE FROM ${table} WHERE entry = ?`))
  const idsBy = (table: string, wanted: string, by: string) => {
    const asked = db.prepare<{ id: string }, [string]>(
      `SELECT DISTINCT ${wanted} AS id FROM ${table} WHERE ${by} = ?`,
    )
    return (id: string) => asked.all(id).map((row) => row.id)
  }
  const coatsBy = (by: 'cup' | 'panel') => {
    const asked = db.prepare<Coat, [string]>(
      `SELECT entry, at, panel, job, stage, cup FROM coat WHERE ${by} = ? ORDER BY at DESC`,
    )
    return (id: string) => asked.all(id)
  }
  const lotsOf = db.prepare<LotOf, [string]>(
    'SELECT DISTINCT lot, component FROM lot WHERE cup = ?',
  )
  const mixedOf = db.prepare<Omit<CupOf, 'lots' | 'parents'>, [string]>(
    `SELECT cup, name, sheet, activator, reducer, at AS mixedAt, job FROM mixed WHERE cup = ?
     ORDER BY at DESC LIMIT 1`,
  )
  const nameOf = db.prepare<{ name: string }, [string, string]>(
    'SELECT name FROM name WHERE kind = ? AND id = ? ORDER BY entry DESC LIMIT 1',
  )
  const found = db.prepare<LotUse, { find: string; limit: number; skip: number }>(
    `SELECT max(lot) AS lot, component, count(DISTINCT cup) AS cups, max(at) AS lastAt FROM lot
     WHERE instr(key, $find) > 0 GROUP BY key, component ORDER BY lastAt DESC LIMIT $limit OFFSET $skip`,
  )
  const cupsOfSheet = db.prepare<{ cup: string }, { sheet: string; most: number }>(
    'SELECT cup FROM mixed WHERE sheet = $sheet ORDER BY at DESC LIMIT $most',
  )
  const coatsOfCup = coatsBy('cup')
  const parents = idsBy('poured', 'parent', 'child')
  const cupsOfLot = idsBy('lot', 'cup', 'key')

  function takeOne(entry: Entry): void {
    const { id, type, at, data, job = null, panel, cup, sheet = null } = entry
    if (type === 'EntryVoided') for (const one of drop) one.run(String(data.entry))
    if (type === 'JobOpened' && job) put.name.run(id, 'job', job, textOf(data.title) ?? job)
    if (type === 'PanelAdded' && panel) put.name.run(id, 'panel', panel, textOf(data.name) ?? panel)
    if (cup === undefined) return
    const isChild = type === 'CupPoured' && data.role === 'child'
    if (type === 'CupMixed' || isChild) {
      const options = [textOf(data.activator), textOf(data.reducer)]
      const of = sheet ?? textOf(data.sheet)
      put.mixed.run(id, cup, at, job, of, textOf(data.name), ...options)
    }
    for (const [n, { lot, component }] of lotsIn(data.lots).entries())
      put.lot.run(id, n, keyOf(lot), lot.trim(), component, cup, at)
    const parents = isChild ? data.parents : type === 'GunPouredBack' ? data.cups : null
    if (Array.isArray(parents))
      for (const parent of parents) put.poured.run(id, String(parent), cup)
    if (panel && isOfCoat(entry)) put.coat.run(id, at, panel, job, textOf(data.stage), cup)
  }

  return {
    ...indexOn(db, TABLES, (entries) => {
      for (const entry of entries) takeOne(entry)
    }),
    cupsOfLot: (lot) => cupsOfLot(keyOf(lot)),
    children: idsBy('poured', 'child', 'parent'),
    parents,
    coatsOfCup,
    coatsOfPanel: coatsBy('panel'),
    cup: (cup) => ({
      ...(mixedOf.get(cup) ?? {
        ...{ cup, name: null, sheet: null, activator: null, reducer: null },
        ...{ mixedAt: null, job: null },
      }),
      lots: lotsOf.all(cup),
      parents: parents(cup),
    }),
    named: (coat) => ({
      ...coat,
      panelName: nameOf.get('panel', coat.panel)?.name ?? null,
      jobTitle: coat.job === null ? null : (nameOf.get('job', coat.job)?.name ?? null),
    }),
    jobsOfSheet(sheet, most) {
      const jobs = new Map<string, number>()
      for (const { cup } of cupsOfSheet.all({ sheet, most }))
        for (const { job, at } of coatsOfCup(cup))
          if (job !== null) jobs.set(job, Math.max(at, jobs.get(job) ?? 0))
      return jobs
    },
    lots: (find, page) => found.all({ find: keyOf(find), ...page }),
  }
}
