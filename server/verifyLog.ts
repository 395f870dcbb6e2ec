import { Database } from 'bun:sqlite'
import type { Entry } from '../machines/envelope.ts'
import { logFileIn, markFileIn, photosFolderIn } from './data.ts'
import { type Verdict, verify } from './log/chain.ts'
import { inPages, type Store } from './log/log.ts'
import { missedBy } from './log/loss.ts'
import { type KeptMark, readMark } from './log/mark.ts'
import { sqliteStore } from './log/sqlite.ts'
import { type Photos, photosIn } from './photos.ts'
import { inEnglish } from './say.ts'
import { readSnapshot } from './snapshot.ts'

export type LogVerdict =
  | {
      readonly ok: true
      readonly shop: string | null
      readonly head: number
      readonly count: number
      /** Of the last entry: to compare with one that is known from elsewhere. */
      readonly hash: string | null
    }
  | {
      readonly ok: false
      readonly shop: string | null
      readonly position: number
      readonly id: string | null
      readonly why: string
    }

/**
 * Walks the log of a data folder, shop by shop, and then the pictures that it names. It may run
 * beside the server.
 * @returns the first shop or picture that is not as it was written, else the last shop
 * @throws LogError where the file cannot be read at all
 */
export async function verifyFolder(folder: string): Promise<LogVerdict> {
  // Before the log: a server that runs meanwhile moves both on.
  const mark = readMark(markFileIn(folder))
  const store = sqliteStore(logFileIn(folder))
  try {
    let verdict: LogVerdict = { ok: true, shop: null, head: 0, count: 0, hash: null }
    for (const shop of await store.shops()) {
      verdict = told(shop, await verifyShop(store, shop))
      if (!verdict.ok) return verdict
    }
    const cut = mark && (await cutFault(store, mark))
    if (cut) return cut
    return indexFault(folder) ?? (await photoFault(store, folder)) ?? verdict
  } finally {
    await store.close()
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

async function verifyShop(store: Store, shop: string): Promise<Verdict> {
  const seen = await readSnapshot(store, shop)
  const verdict = await verify(
    shop,
    inPages((page) => store.raw(shop, page)),
  )
  return verdict.ok && seen ? await against(seen, verdict, store) : verdict
}

/**
 * A chain cannot show that entries are cut off at its end, or that all is hashed again; the last
 * snapshot knows where the log was.
 */
async function against(
  seen: { readonly shop: string; readonly head: number; readonly headHash: string },
  verdict: Verdict & { readonly ok: true },
  store: Store,
): Promise<Verdict> {
  const { position } = verdict.head
  if (position < seen.head) {
    const why = `it is missing: there were entries up to ${seen.head} when the last snapshot was kept`
    return { ok: false, position: position + 1, id: null, why }
  }
  const [then] = await store.raw(seen.shop, { after: seen.head - 1, limit: 1 })
  if (!then || then.hash === seen.headHash) return verdict
  const why = 'its hash is not the one that it had when the last snapshot was kept'
  return { ok: false, position: seen.head, id: then.columns.id, why }
}

/** The mark beside the log knows of entries that are not there. */
async function cutFault(store: Store, kept: KeptMark): Promise<LogVerdict | null> {
  const shop = (await store.getMeta('shop')) ?? kept.mark.shop
  const missed = await missedBy(store, shop, kept)
  if (!missed) return null
  const { loss } = missed
  const position = loss.kind === 'short' ? loss.head + 1 : loss.knownHead
  return { ok: false, shop, position, id: null, why: inEnglish(0).loss(loss) }
}

const EVER = { fromAt: 0, toAt: Number.MAX_SAFE_INTEGER }

/**
 * A picture's name is its hash, so that the log vouches for its bytes too. Also of a voided entry:
 * nothing that was stored is dropped.
 */
async function photoFault(store: Store, folder: string): Promise<LogVerdict | null> {
  const photos = photosIn(photosFolderIn(folder))
  for (const shop of await store.shops()) {
    const fault = await photoFaultOf(await store.byType(shop, 'PhotoAdded', EVER), photos)
    if (fault) return { ok: false, shop, ...fault }
  }
  return null
}

async function photoFaultOf(added: readonly Entry[], photos: Photos) {
  const seen = new Set<string>()
  for (const { position, id, data } of added.toSorted((a, b) => a.position - b.position)) {
    const photo = String(data.photo)
    if (seen.has(photo)) continue
    seen.add(photo)
    const why = await photos.faultOf(photo)
    if (why !== null) return { position, id, why }
  }
  return null
}

const ROW = /^row (\d+) /

/**
 * An index may be damaged where the entry itself is not: it would no longer be found. SQLite's
 * check names the row (sqlite.org/pragma.html#pragma_integrity_check).
 */
function indexFault(folder: string): LogVerdict | null {
  using db = new Database(logFileIn(folder), { readonly: true, strict: true })
  const said = db
    .query<{ integrity_check: string }, []>('PRAGMA integrity_check(1)')
    .get()?.integrity_check
  if (said === undefined || said === 'ok') return null
  const row = db
    .query<{ shop: string; position: number; id: string }, { row: number }>(
      'SELECT shop, position, id FROM entry WHERE rowid = $row',
    )
    .get({ row: Number(ROW.exec(said)?.[1] ?? 0) })
  const why = `the file is damaged: ${said}`
  return row ? { ok: false, ...row, why } : { ok: false, shop: null, position: 0, id: null, why }
}
