import type { LogCheck } from '../../machines/contract/watching.ts'
import type { DiskTrouble, LogLoss } from '../../machines/contract.ts'
import type { Clock } from '../clock.ts'
import type { Writer } from '../handle.ts'
import type { DiskWatch } from './disk.ts'
import type { EventLog } from './log.ts'
import { missedBy } from './loss.ts'
import { type KeptMark, type Mark, openMark, readMark } from './mark.ts'

/** Keeps the mark beside a shop's log, and knows what the log was found to lack. */
export type LogWatch = {
  /** What is missing, until somebody dismisses it; null where nothing is. */
  readonly loss: () => LogLoss | null
  /** What is wrong with the disk under the log; null where nothing is. */
  readonly disk: () => DiskTrouble | null
  /** Space that is left for it, MB; null where it cannot be asked. */
  readonly freeMb: () => number | null
  /** How the last look through all of it ended; null where nobody looks. */
  readonly check: () => LogCheck | null
  readonly dismiss: () => void
  readonly close: () => void
}

const SYNC_MS = 1_000
/** A shop that is open but records nothing still counts as open. */
const ALIVE_MS = 600_000

type WatchDeps = {
  readonly path: string
  readonly log: EventLog
  readonly writer: Writer
  readonly disk: Pick<DiskWatch, 'trouble' | 'freeMb'>
  readonly check: LogWatch['check']
  readonly clock: Clock
  readonly report: (error: unknown) => void
}

const isFull = (error: unknown): boolean =>
  error instanceof Error && 'code' in error && error.code === 'ENOSPC'

/** @throws where the mark cannot be read or written */
export async function watchLog(deps: WatchDeps): Promise<LogWatch> {
  const { path, log, writer, disk, check, clock, report } = deps
  const before = readMark(path)
  const found = before && (await missedBy(log, writer.shop, before))
  let missed: Mark | null = found?.mark ?? null
  let loss: LogLoss | null = found?.loss ?? null
  const file = openMark(path)
  let lastMs = before?.mark.atMs ?? 0
  let markTrouble: DiskTrouble | null = null

  function put(head: number, hash: string): void {
    // An unconfirmed time must not be what the next start is compared with.
    if (clock.standing().doubt === null) lastMs = clock.now()
    const mark: Mark = { shop: writer.shop, head, hash, atMs: lastMs }
    file.put({ mark, missed } satisfies KeptMark)
  }
  const putNow = () => {
    const { head, headHash } = writer.state()
    put(head, headHash)
  }
  /** A disk that does not take the mark will not take the log: reported once, tried until it is kept. */
  async function noted(write: () => void | Promise<void>): Promise<void> {
    try {
      await write()
    } catch (error) {
      if (markTrouble === null) report(error)
      markTrouble = { code: isFull(error) ? 'full' : 'failing', params: {} }
    }
  }
  async function sync(): Promise<void> {
    // A second sync says nothing of what the first one lost: it is written again.
    if (markTrouble) putNow()
    await file.sync()
    markTrouble = null
  }
  putNow()
  const unfollow = writer.follow((news) => {
    const last = news.kind === 'committed' ? news.entries.at(-1) : undefined
    if (last) void noted(() => put(last.position, last.hash))
    else if (news.kind === 'replaced') void noted(putNow)
  })
  const stopSync = clock.every(SYNC_MS, () => void noted(sync))
  const stopAlive = clock.every(ALIVE_MS, () => void noted(putNow))
  return {
    loss: () => loss,
    disk: () => disk.trouble() ?? markTrouble,
    freeMb: disk.freeMb,
    check,
    dismiss() {
      missed = null
      loss = null
      putNow()
    },
    close() {
      unfollow()
      stopSync()
      stopAlive()
      void noted(() => {
        putNow()
        file.close()
      })
    },
  }
}
