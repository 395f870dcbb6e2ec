import type { Damage } from '../../machines/contract/damage.ts'
import type { LogCheck } from '../../machines/contract/watching.ts'
import type { DiskTrouble } from '../../machines/contract.ts'
import type { Clock } from '../clock.ts'
import type { Writer } from '../handle.ts'
import { inEnglish } from '../say.ts'
import { keptText, readKeptOrBare } from './keptJson.ts'
import type { SideStore } from './log.ts'

/**
 * Has the whole log looked through while the shop is at rest, and soon after a start that follows no
 * clean stop: to do it at every start would keep a shop of years waiting. Another process does it
 * (server/program.ts), so that no answer waits for it.
 */
export type WholeCheck = {
  /** What was found; null as long as all is as it was written. */
  readonly damage: () => DiskTrouble | null
  readonly last: () => LogCheck
  readonly stop: () => void
}

type Found = { readonly position: number; readonly damage: Damage }

/**
 * A look through the whole log that runs; `done` is null where it is as it was written, and of
 * position 0 where it cannot be read as a whole.
 */
export type Look = {
  readonly done: Promise<Found | null>
  readonly stop: () => void
}

type CheckDeps = {
  readonly store: SideStore
  readonly writer: Writer
  readonly clock: Clock
  /** Whether the server before this one was killed, or its computer. */
  readonly isAfterKill: boolean
  readonly look: () => Look
  readonly report: (error: unknown) => void
}

const MINUTE_MS = 60_000
/** Nobody has pressed anything for so long. */
const IDLE_MS = 10 * MINUTE_MS
/** All of a log is looked through once in so long. */
const EVERY_MS = 24 * 60 * MINUTE_MS

const keyOf = (shop: string): string => `checked ${shop}`

/** How the last look ended. */
type Past = {
  readonly atMs: number
  /** Where the log was damaged; null where it was not. */
  readonly position: number | null
}

/**
 * What was kept of it; servers of an earlier build kept the time alone. Null where nothing was, or it is
 * damaged: then all of the log is looked through once more.
 */
function pastIn(text: string | null): Past | null {
  const kept = text === null ? null : readKeptOrBare<Past | number>(text)
  if (kept === null) return null
  return typeof kept.value === 'number' ? { atMs: kept.value, position: null } : kept.value
}

const damageOf = (past: Past | null): DiskTrouble | null =>
  past === null || past.position === null
    ? null
    : { code: 'damaged', params: { position: past.position } }

/** For whoever runs the server: where the log is damaged, and how. */
const sentenceOf = ({ position, damage }: Found): string =>
  `The log is damaged at entry ${position}: ${inEnglish(0).damage(damage)}.`

export async function watchWhole(deps: CheckDeps): Promise<WholeCheck> {
  const { store, writer, clock, look, report } = deps
  let past = pastIn(await store.getMeta(keyOf(writer.shop)))
  // What was found stays said after a restart, and is looked at again: it may have been mended.
  let isOwed = deps.isAfterKill || damageOf(past) !== null
  let pressedAt = clock.now()
  let running: Look | null = null

  async function check(): Promise<void> {
    running = look()
    try {
      const found = await running.done
      if (found) report(new Error(sentenceOf(found)))
      isOwed = false
      past = { atMs: clock.now(), position: found?.position ?? null }
      await store.putMeta(keyOf(writer.shop), keptText(past))
    } finally {
      running = null
    }
  }

  function perhaps(): void {
    const now = clock.now()
    const isIdle = now - pressedAt >= IDLE_MS
    // The clock may have been put back meanwhile.
    const isDue = isIdle && Math.abs(now - (past?.atMs ?? 0)) >= EVERY_MS
    if (running === null && (isOwed || isDue)) check().catch(report)
  }

  const unfollow = writer.follow((news) => {
    if (news.kind === 'committed') pressedAt = clock.now()
  })
  const stopLooking = clock.every(MINUTE_MS, perhaps)
  return {
    damage: () => damageOf(past),
    last: () => ({ lastMs: past?.atMs ?? null, isRunning: running !== null }),
    stop() {
      unfollow()
      stopLooking()
      running?.stop()
    },
  }
}
