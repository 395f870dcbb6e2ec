import { inEnglish } from '../say.ts'
import { emptyHead, verify } from './chain.ts'
import { type EventLog, type Head, LogError, RESTORE, type Row } from './log.ts'

/** So many of the newest entries are checked at every start: what a failing disk or a cut damages first. */
const CHECKED = 200

/**
 * The newest rows of a log, checked against the chain and their columns.
 * @throws LogError `damaged` where one is not as it was written
 */
export async function checkedEnd(log: EventLog, shop: string): Promise<readonly Row[]> {
  const { position } = await log.head(shop)
  if (position === 0) return []
  const after = Math.max(0, position - CHECKED)
  const rows = await log.raw(shop, { after, limit: CHECKED })
  const verdict = await verify(shop, rows, await headAt(log, shop, after))
  if (verdict.ok) return rows
  const what = `Entry ${verdict.position} of shop ${shop} is not as it was written: ${inEnglish(0).damage(verdict.damage)}.`
  throw new LogError({ op: 'read', shop }, 'damaged', what, RESTORE)
}

async function headAt(log: EventLog, shop: string, position: number): Promise<Head> {
  if (position === 0) return emptyHead(shop)
  const [row] = await log.raw(shop, { after: position - 1, limit: 1 })
  return row
    ? { position, hash: row.hash, recordedAt: row.columns.recordedAt }
    : { ...emptyHead(shop), position }
}
