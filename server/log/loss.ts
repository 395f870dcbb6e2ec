import type { LogLoss } from '../../machines/contract.ts'
import type { EventLog } from './log.ts'
import type { KeptMark, Mark } from './mark.ts'

/** What a mark knows and the log does not have; null where the log reaches it. */
export async function lossOf(log: EventLog, shop: string, mark: Mark): Promise<LogLoss | null> {
  const { position } = await log.head(shop)
  const known = { knownHead: mark.head, knownHash: mark.hash, knownAtMs: mark.atMs }
  if (mark.shop !== shop) return { kind: 'other', head: position, ...known }
  if (position < mark.head) return { kind: 'short', head: position, ...known }
  const [then] = await log.raw(shop, { after: mark.head - 1, limit: 1 })
  return then?.hash === mark.hash ? null : { kind: 'other', head: position, ...known }
}

/** The mark that the log does not reach: of two the later one. */
export async function missedBy(
  log: EventLog,
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

const timeText = (ms: number): string => new Date(ms).toISOString()

/** What is missing and what to do, in one sentence for the person who runs the server. */
export function lossSentence({ kind, head, knownHead, knownAtMs }: LogLoss): string {
  const then = `It had ${knownHead} entries at ${timeText(knownAtMs)}`
  const restore =
    'Stop the server and restore the newest backup, or go on and dismiss this on a kiosk.'
  return kind === 'short'
    ? `The log ends before what was acknowledged. ${then} and has ${head} now: ${knownHead - head} are missing. ${restore}`
    : `The log is not the one that was served before: its entries differ. ${then} and has ${head} now. ${restore}`
}
