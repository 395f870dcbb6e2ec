import { damage } from '../machines/contract/damage.ts'
import type { Entry } from '../machines/envelope.ts'
import { isServed, logFileIn, markFileIn, photosFolderOf } from './data.ts'
import { type LogVerdict, type LogWarning, type Verdict, verify } from './log/chain.ts'
import { inPages, type Row } from './log/log.ts'
import { missedBy } from './log/loss.ts'
import { type KeptMark, readMark } from './log/mark.ts'
import { firstUnfound } from './log/named.ts'
import { type LogReader, openToRead } from './log/readOnly.ts'
import { type Photos, photosIn } from './photos.ts'
import { readSnapshot } from './snapshot.ts'

export type VerifyOptions = {
  /** How many entries were walked, now and then. */
  readonly progress?: (entries: number) => void
  /** Where the pictures lie; without it beside the log, or beside the backups. */
  readonly photos?: string | null
}

/** A picture that an entry names. */
type Named = { readonly position: number; readonly id: string; readonly photo: string }

/**
 * Walks the log of a data folder or of a backup, shop by shop, and then the pictures that it names.
 * It may run beside the server, and changes nothing.
 * @returns the first shop or picture that is not as it was written, else the last shop
 * @throws LogError where the file cannot be read at all
 */
export async function verifyFolder(
  folder: string,
  options: VerifyOptions = {},
): Promise<LogVerdict> {
  const isLive = isServed(folder)
  const verdict = await verifyOnce(folder, isLive, options)
  // A server that was started meanwhile changed what was taken to be unchanging.
  const isDoubtful = !verdict.ok && !isLive && isServed(folder)
  return isDoubtful ? await verifyOnce(folder, true, options) : verdict
}

async function verifyOnce(
  folder: string,
  isLive: boolean,
  { progress = () => {}, photos = photosFolderOf(folder) }: VerifyOptions,
): Promise<LogVerdict> {
  // Before the log: a server that runs meanwhile moves both on.
  const kept = readMark(markFileIn(folder))
  const log = openToRead(logFileIn(folder), isLive)
  const warnings: LogWarning[] = []
  try {
    let verdict: LogVerdict = { ok: true, shop: null, head: 0, count: 0, hash: null }
    const named = new Map<string, readonly Named[]>()
    for (const shop of await log.shops()) {
      const found: Named[] = []
      verdict = told(shop, await verifyShop(log, shop, { found, progress }))
      if (!verdict.ok) return verdict
      named.set(shop, found)
    }
    const cut = kept && (await cutFault(log, kept))
    if (cut) return cut
    const damaged = indexFault(log)
    if (damaged) return damaged
    for (const [shop, found] of named) {
      if (photos === null) break
      const { fault, missing } = await photosOf(shop, found, photosIn(photos), photos)
      if (fault) return fault
      warnings.push(...missing)
    }
    return warnings.length === 0 ? verdict : { ...verdict, warnings }
  } finally {
    await log.close()
  }
}

const told = (shop: string, verdict: Verdict): LogVerdict =>
  verdict.ok
    ? {
        ok: true,
        shop,
        head: verdict.head.position,
        // Positions count from 1 without a gap, or the chain would not hold.
        count: verdict.head.position,
        hash: verdict.head.hash,
      }
    : { ...verdict, shop }

/** How many entries lie between two reports of progress. */
const REPORT_EVERY = 2_000

async function verifyShop(
  log: LogReader,
  shop: string,
  { found, progress }: { found: Named[]; progress: (entries: number) => void },
): Promise<Verdict> {
  const seen = await readSnapshot(log, shop)
  async function* walked(): AsyncGenerator<Row> {
    for await (const row of inPages((page) => log.raw(shop, page))) {
      if (row.columns.type === 'PhotoAdded') found.push(photoIn(row))
      if (row.position % REPORT_EVERY === 0) progress(row.position)
      yield row
    }
  }
  const verdict = await verify(shop, walked())
  return verdict.ok && seen ? await against(seen, verdict, log) : verdict
}

/** What is not as it should be is found by the walk itself. */
function photoIn({ position, columns, text }: Row): Named {
  try {
    const { data }: Pick<Entry, 'data'> = JSON.parse(text)
    return { position, id: columns.id, photo: String(data.photo) }
  } catch {
    return { position, id: columns.id, photo: '' }
  }
}

/**
 * A chain cannot show that entries are cut off at its end, or that all is hashed again; the last
 * snapshot knows where the log was.
 */
async function against(
  seen: { readonly shop: string; readonly head: number; readonly headHash: string },
  verdict: Verdict & { readonly ok: true },
  log: LogReader,
): Promise<Verdict> {
  const { position } = verdict.head
  if (position < seen.head) {
    const cut = damage('cut', { head: seen.head })
    return { ok: false, position: position + 1, id: null, damage: cut }
  }
  const [then] = await log.raw(seen.shop, { after: seen.head - 1, limit: 1 })
  if (!then || then.hash === seen.headHash) return verdict
  const rewritten = damage('rewritten', {})
  return { ok: false, position: seen.head, id: then.columns.id, damage: rewritten }
}

/** The mark beside the log knows of entries that are not there. */
async function cutFault(log: LogReader, kept: KeptMark): Promise<LogVerdict | null> {
  const shop = (await log.getMeta('shop')) ?? kept.mark.shop
  const missed = await missedBy(log, shop, kept)
  if (!missed) return null
  const { loss } = missed
  const position = loss.kind === 'short' ? loss.head + 1 : loss.knownHead
  return { ok: false, shop, position, id: null, damage: damage('lacks', { loss }) }
}

/**
 * A picture's name is its hash, so that the log vouches for its bytes too. Also of a voided entry:
 * nothing that was stored is dropped. One that is missing is no fault of the log, and all of them are
 * named; one with other bytes is not as it was kept.
 */
async function photosOf(shop: string, named: readonly Named[], photos: Photos, folder: string) {
  const missing: LogWarning[] = []
  const seen = new Set<string>()
  for (const { position, id, photo } of named) {
    if (seen.has(photo)) continue
    seen.add(photo)
    const found = await photos.faultOf(photo)
    if (found === null) continue
    const named = { shop, position, id, damage: found }
    if (!(await photos.isLost(photo))) return { fault: { ok: false, ...named } as const, missing }
    missing.push({ code: 'photoMissing', ...named, photo, folder })
  }
  return { fault: null, missing }
}

const ROW = /^row (\d+) /

/**
 * An index may be damaged where the entry itself is not: it would no longer be found. SQLite's
 * check names the row (sqlite.org/pragma.html#pragma_integrity_check).
 */
function indexFault(log: LogReader): LogVerdict | null {
  try {
    return indexFaultIn(log)
  } catch (cause) {
    // The check itself ends where it cannot read on.
    const said = cause instanceof Error ? cause.message : String(cause)
    return { ok: false, shop: null, position: 0, id: null, damage: damage('file', { said }) }
  }
}

function indexFaultIn({ db }: LogReader): LogVerdict | null {
  const said = db
    .query<{ integrity_check: string }, []>('PRAGMA integrity_check(1)')
    .get()?.integrity_check
  if (said === undefined || said === 'ok') return unfoundIn(db)
  const row = db
    .query<{ shop: string; position: number; id: string }, [number]>(
      'SELECT shop, position, id FROM entry WHERE rowid = ?',
    )
    .get(Number(ROW.exec(said)?.[1] ?? 0))
  const at = row ?? { shop: null, position: 0, id: null }
  return { ok: false, ...at, damage: damage('file', { said }) }
}

function unfoundIn(db: LogReader['db']): LogVerdict | null {
  const found = firstUnfound(db)
  if (found === null) return null
  const { key, ...at } = found
  return { ok: false, ...at, damage: damage('file', { said: `not found by its ${key}` }) }
}
