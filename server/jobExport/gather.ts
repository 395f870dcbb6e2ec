import type { Carried, ChainPiece, JobExport } from '../../machines/contract/jobExport.ts'
import type { Entry } from '../../machines/envelope.ts'
import type { Settings } from '../../machines/shop/settingsSchema.ts'
import { ownEntries } from '../jobEntries.ts'
import { sha256 } from '../log/canonical.ts'
import { emptyHead } from '../log/chain.ts'
import type { Row } from '../log/log.ts'
import type { Reader } from '../reading.ts'
import { traceEntries } from '../traceEntries.ts'
import { workTurn } from '../turn.ts'

/**
 * A longer stretch without an entry of the job begins another piece: a sheet that was saved years before
 * would bring the digests of all these years.
 */
const GAP_MOST = 1_000
const PAGE = 200

/** What an export is made of, beside the log. */
export type Around = {
  readonly shop: string
  /** How far the log is committed. */
  readonly head: number
  /** The hash of the entry there. */
  readonly hash: string
  /** UTC ms, by the shop's clock. */
  readonly now: number
  readonly settings: Settings
}

/** Stretches of the log, from the first of the job's entries to the last, split at wide gaps. */
function stretches(positions: readonly number[]): { from: number; to: number }[] {
  const found: { from: number; to: number }[] = []
  for (const position of positions) {
    const last = found.at(-1)
    if (last && position - last.to <= GAP_MOST) last.to = position
    // Near the beginning of the log it begins there: then the shop's id is what all rests on.
    else found.push({ from: position <= GAP_MOST ? 1 : position, to: position })
  }
  return found
}

async function* rowsOf(reader: Reader, after: number, to: number): AsyncGenerator<Row> {
  for (let at = after; at < to; ) {
    const rows = await reader.raw({ after: at, limit: Math.min(PAGE, to - at) })
    if (rows.length === 0) return
    yield* rows
    at = rows.at(-1)?.position ?? to
    // Hundreds of rows of other jobs: whoever else waits is answered between two pages.
    await workTurn()
  }
}

async function pieceOf(
  reader: Reader,
  shop: string,
  { from, to }: { from: number; to: number },
  isCarried: (position: number) => boolean,
): Promise<ChainPiece> {
  let before = emptyHead(shop).hash
  const links: (Carried | string)[] = []
  for await (const { position, text, hash } of rowsOf(reader, Math.max(0, from - 2), to)) {
    if (position < from) before = hash
    else links.push(isCarried(position) ? { text, hash } : sha256(text))
  }
  return { from, before, links }
}

/**
 * A job with everything that it is traced by, as it lies in the log.
 * @returns null for a job that the log does not know
 */
export async function jobExport(
  job: string,
  { shop, head, hash, now, settings }: Around,
  reader: Reader,
): Promise<JobExport | null> {
  const own = await ownEntries(job, head, reader)
  if (own.length === 0) return null
  const entries: readonly Entry[] = await traceEntries(own, head, reader)
  const positions = new Set(entries.map(({ position }) => position))
  const pieces: ChainPiece[] = []
  for (const stretch of stretches([...positions].sort((a, b) => a - b)))
    pieces.push(await pieceOf(reader, shop, stretch, (position) => positions.has(position)))
  return {
    ...{ format: 'flashbell-job', version: 1, shop, job, madeAt: now, settings, pieces },
    head: { position: head, hash },
  }
}
