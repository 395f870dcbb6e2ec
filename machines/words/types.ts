import type {
  ServerErrorCode,
  ServerErrorParams,
  ServerRefusalParams,
} from '../contract/answers.ts'
import type { BackupLate, BackupTroubleParams } from '../contract/backup.ts'
import type {
  DamageParams,
  LogHealthParams,
  StartTroubleParams,
  StoreFault,
} from '../contract/damage.ts'
import type { LabelProblemCode } from '../contract/labelProblem.ts'
import type { ClockDoubt, DiskTroubleParams } from '../contract/serverStanding.ts'
import type { RuleCode, RuleParams } from '../contract/wrongField.ts'
import type { RefusalParams } from '../refusalParams.ts'
import type { RefusalCode } from '../refusals.ts'

/**
 * Sentences for what the rules say in codes: one table a language, each a file. Only the edges import
 * them: the kiosk for its shop, the server for its API and command line.
 */

/** How numbers are written: a kiosk takes its shop's units, the server SI. */
export type Figures = {
  /** How long ago an instant was: "3 min 20 s". */
  readonly ago: (atMs: number) => string
  /** How long it is until an instant; null where the screen counts it down beside the sentence. */
  readonly toGo: (atMs: number) => string | null
  /** Day and time. */
  readonly instant: (atMs: number) => string
  /** An instant as its field takes it: through the API UTC ms. */
  readonly utcMs: (atMs: number) => string
  readonly temperature: (c: number) => string
  /** A difference between two temperatures. */
  readonly degrees: (c: number) => string
  readonly humidity: (rh: number) => string
  readonly volume: (ml: number) => string
  /** A weight of the bench scale. */
  readonly grams: (g: number) => string
  /** A stage, or a way of curing, by its name. */
  readonly name: (code: string) => string
  readonly panel: (id: string, name: string | undefined) => string
  /** Limits of a field in the unit in which it is typed. */
  readonly measured: (values: readonly number[], unit: string | undefined) => Measured
}
export type Measured = { readonly values: readonly string[]; readonly unit: string | undefined }

type Phrases<P> = { readonly [C in keyof P]: (params: P[C], figures: Figures) => string }

export type Words = {
  /** What a field accepts, as it stands behind "Use". */
  readonly rules: { readonly [C in RuleCode]: (p: RuleParams[C], f: Figures) => string }
  readonly unit: (unit: string) => string
  /** @param name the field's; null where it stands beside the sentence */
  readonly wrong: (name: string | null, given: string | undefined, use: string) => string
  /** Of a body that is not read to its end: what was given is not known. */
  readonly tooLarge: (name: string | null, use: string) => string
  readonly body: string
  readonly labels: Readonly<Record<LabelProblemCode, (...names: readonly string[]) => string>>
  /** Behind the sentence of what only a lead may override. */
  readonly onlyLead: string
  readonly refusals: {
    readonly [C in RefusalCode]: (p: RefusalParams[C], f: Figures, clearsAt?: number) => string
  }
  readonly toGo: (length: string) => string
  readonly server: Phrases<Pick<ServerErrorParams, ServerErrorCode>>
  readonly serverRefusals: Phrases<ServerRefusalParams>
  /** What the server's log lacks. */
  readonly log: Phrases<LogHealthParams>
  /** What is wrong with the server's disk, and what to do. */
  readonly disk: Phrases<DiskTroubleParams>
  /** Why no backup was made, and what to do. */
  readonly backup: Phrases<BackupTroubleParams>
  /** What is wrong with an entry of a log, or a picture: a clause without its end. */
  readonly damage: Phrases<DamageParams>
  /** Why the store could not do it, and what to do. */
  readonly store: Readonly<Record<StoreFault, string>>
  /** Why a shop cannot be served, and what to do. */
  readonly start: Phrases<StartTroubleParams>
  readonly photoLost: (photo: string, folder: string) => string
  readonly backupLate: (late: BackupLate, f: Figures) => string
  /** Why the time has to be confirmed. */
  readonly doubts: Readonly<Record<ClockDoubt, string>>
  /** For the person who runs the server: both times, and what to do. */
  readonly health: {
    readonly clock: (shop: string, computer: string) => string
    readonly log: string
    readonly noBackup: string
  }
}
