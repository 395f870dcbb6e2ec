import type { BackupLate } from './backup.ts'
import type { LogLoss } from './damage.ts'
import type { PrintingStanding } from './printing.ts'

/**
 * Why the server's time has to be confirmed by a person. `behindLog`: its computer's clock was behind
 * the last entry when it started; `unset`: the same in a new shop; `longSince`: it started weeks after
 * the last entry; `jumped`: the computer's clock made a step too large to be followed.
 */
export type ClockDoubt = 'behindLog' | 'unset' | 'longSince' | 'jumped'

/** The state of the server's clock, sent with every time that it gives. */
export type ClockStanding = {
  readonly doubt: ClockDoubt | null
  /** What the clock of the server's computer shows, UTC ms: what a person may confirm. */
  readonly wallMs: number
  /** Another number than before: the time was put right, and what was heard before is of no use. */
  readonly era: number
}

/**
 * Why the server's disk keeps nothing that is pressed; `low`: it does, and will not for long. `gone`: the
 * log's file is not where it was; `failing`: the disk reports errors; `damaged`: it keeps what is pressed, and
 * did not keep what it was given before.
 */
export type DiskTroubleParams = {
  gone: object
  readOnly: object
  full: object
  low: { readonly freeMb: number }
  failing: object
  damaged: { readonly position: number }
}
export type DiskTrouble = {
  [C in keyof DiskTroubleParams]: { readonly code: C; readonly params: DiskTroubleParams[C] }
}[keyof DiskTroubleParams]

/** How many kiosks are open, and of how many the bells can be heard. */
export type KiosksHeard = { readonly open: number; readonly sounding: number }

/** What comes with every time that the server gives: how its clock, log, disk and kiosks stand. */
export type ServerStanding = {
  readonly serverTime: number
  readonly clock: ClockStanding
  readonly loss: LogLoss | null
  readonly disk: DiskTrouble | null
  /** Null from a server of an earlier build, which does not know. */
  readonly kiosks: KiosksHeard | null
  /** Null where backups are as the shop has set them, and from a server of an earlier build. */
  readonly backup: BackupLate | null
  /** Only where something is wrong with the printers. */
  readonly printing?: PrintingStanding
}

/** As servers said it before `kind`. */
type LossOfBefore = Omit<LogLoss, 'kind'> & { readonly is: LogLoss['kind'] }

/** What a log was found to lack, also as a server of an earlier build says it. */
export function lossIn(said: LogLoss | LossOfBefore | null): LogLoss | null {
  if (said === null || 'kind' in said) return said
  const { is, ...loss } = said
  return { kind: is, ...loss }
}
