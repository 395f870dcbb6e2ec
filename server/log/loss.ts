import type { LogLoss } from '../../machines/contract.ts'
import type { EventLog } from './log.ts'
import type { KeptMark, Mark } from './mark.ts'

type Log = Pick<EventLog, 'head' | 'raw'>

/** What a mark knows and the log does not have; null where the log reaches it. */
export async function lossOf(log: Log, shop: string, mark: Mark): Promise<LogLoss | null> {
  const { position } = await log.head(shop)
  const known = { knownHead: mark.head, knownHash: mark.hash, knownAtMs: mark.atMs }
  if (mark.shop !== shop) return { kind: 'other', head: position, ...known }
  if (position < mark.head) return { kind: 'short', head: position, ...known }
  const [then] = await log.raw(shop, { after: mark.head - 1, limit: 1 })
  return then?.hash === mark.hash ? null : { kind: 'other', head: position, ...known }
}

/** The mark that the log does not reach: of two the later one. */
export async function missedBy(
  log: Log,
  shop: string,
  kept: KeptMark,
): Promise<{ readonly mark: Mark; readonly loss: LogLoss } | null> {
  const marks = [kept.mark, ...(kept.missed ? [kept.missed] : [])]
  for (const mark of marks.toSorted((a, b) => b.head - a.head)) {
    const loss = await lossOf(log, shop, mark)
    if (loss) return { mark, loss }
  }
  return null
}
