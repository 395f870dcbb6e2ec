import type { DiskTrouble } from '../../machines/contract.ts'
import type { Clock } from '../clock.ts'
import type { Writer } from '../handle.ts'
import type { SideStore } from './log.ts'

/**
 * Has the whole log looked through while the shop is at rest, and soon after a start that follows no
 * clean stop: to do it at every start would keep a shop of years waiting. Another process does it
 * (server/main.ts), so that no answer waits for it.
 */
export type WholeCheck = {
  /** What was found; null as long as all is as it was written. */
  readonly damage: () => DiskTrouble | null
  readonly stop: () => void
}

/** A look through the whole log that runs; `done` is null where it is as it was written. */
export type Look = {
  readonly done: Promise<{ readonly position: number; readonly why: string } | null>
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

export async function watchWhole(deps: CheckDeps): Promise<WholeCheck> {
  const { store, writer, clock, look, report } = deps
  let checkedAt = Number(await store.getMeta(keyOf(writer.shop)))
  let isOwed = deps.isAfterKill
  let pressedAt = clock.now()
  let running: Look | null = null
  let damage: DiskTrouble | null = null

  async function check(): Promise<void> {
    running = look()
    try {
      const found = await running.done
      damage = found && { code: 'damaged', params: { position: found.position } }
      if (found) report(new Error(`The log is damaged at entry ${found.position}: ${found.why}.`))
      isOwed = false
      checkedAt = clock.now()
      await store.putMeta(keyOf(writer.shop), String(checkedAt))
    } finally {
      running = null
    }
  }

  function perhaps(): void {
    const now = clock.now()
    const isIdle = now - pressedAt >= IDLE_MS
    // The clock may have been put back meanwhile.
    const isDue = isIdle && Math.abs(now - checkedAt) >= EVERY_MS
    if (running === null && (isOwed || isDue)) check().catch(report)
  }

  const unfollow = writer.follow((news) => {
    if (news.kind === 'committed') pressedAt = clock.now()
  })
  const stopLooking = clock.every(MINUTE_MS, perhaps)
  return {
    damage: () => damage,
    stop() {
      unfollow()
      stopLooking()
      running?.stop()
    },
  }
}
