import type { BackupsAnswer } from './backup.ts'
import type { LogLoss } from './damage.ts'
import type { ClockStanding, DiskTrouble } from './serverStanding.ts'

/** How the last look through the whole log ended. */
export type LogCheck = {
  /** When, by the shop's time, UTC ms; null where all of it was never looked through. */
  readonly lastMs: number | null
  readonly isRunning: boolean
}

/** A kiosk that is open, as it says of itself. */
export type KioskHeard = {
  readonly device: string
  /** The zone that it stands in; null where none was chosen. */
  readonly zone: string | null
  readonly sounds: boolean
  /** Since when it sounds, or does not, UTC ms. */
  readonly sinceMs: number
}

/** GET /api/watching: how what keeps the shop's record stands, for the page in Setup. */
export type WatchingAnswer = {
  readonly nowMs: number
  readonly log: {
    readonly entries: number
    readonly loss: LogLoss | null
    /** Null where nobody looks, as on a server without a folder. */
    readonly check: LogCheck | null
  }
  readonly disk: {
    readonly trouble: DiskTrouble | null
    /** Space that is left for the log, MB; null where it cannot be asked. */
    readonly freeMb: number | null
  }
  /** Null where none are made, as in a practice shop. */
  readonly backup: BackupsAnswer | null
  readonly clock: ClockStanding
  readonly kiosks: readonly KioskHeard[]
  /** The label that was printed last; null where none was. */
  readonly label: { readonly atMs: number; readonly cup: string } | null
}
