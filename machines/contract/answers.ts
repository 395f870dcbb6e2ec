import type { BellFigures } from '../bell/figures.ts'
import type { Entry } from '../envelope.ts'
import type { Step } from '../job/steps.ts'
import type { DayCounts } from '../plan/dayCounts.ts'
import type { Forecast } from '../plan/forecastTypes.ts'
import type { LearnedFigures } from '../plan/learning.ts'
import type { Refusal } from '../refusals.ts'
import type { State } from '../state.ts'
import type { Deviation } from '../trace/deviations.ts'
import type { Notice } from '../trace/notices.ts'
import type { Told } from '../trace/trace.ts'
import type { BackupHealth, BackupTrouble } from './backup.ts'
import type { LogLoss, StartTrouble, StoreFault } from './damage.ts'
import type { PackedState } from './packedState.ts'
import type { ClockDoubt, DiskTrouble, ServerStanding } from './serverStanding.ts'
import type { WrongField, WrongFields } from './wrongField.ts'

/** What the server answers. A sentence is added at the edge, in the language that was asked for. */

export type Said<T> = T & { readonly message: string }

/** Refusals that only a server can give: they are about what it keeps, not about the shop. */
export type ServerRefusalParams = {
  commandIdReused: { id: string }
  newerLog: object
  /** The bytes of a picture go before the command that names it. */
  photoMissing: { photo: string }
}
export type ServerRefusal = {
  [C in keyof ServerRefusalParams]: {
    readonly code: C
    readonly params: Readonly<ServerRefusalParams[C]>
    readonly also: readonly never[]
    readonly overridable: false
  }
}[keyof ServerRefusalParams]

/** Errors that are about the request or the server. `reason` is the store's own; null where it gave none. */
export type ServerErrorParams = {
  crossSite: object
  unknownHost: { host: string; hosts: readonly string[] }
  notFound: {
    what: 'path' | 'job' | 'panel' | 'cup' | 'lot' | 'label' | 'photo' | 'person' | 'gun' | 'sheet'
    name: string
  }
  wrongMethod: { method: string; allow: string }
  fault: { isNothingRecorded: boolean }
  notStarted: { trouble: StartTrouble }
  notStored: { reason: StoreFault | null }
  photoNotStored: object
  noBackup: { trouble: BackupTrouble }
  noSchedule: object
  stopping: object
  unreadable: { reason: StoreFault | null }
}
export type ServerErrorCode = keyof ServerErrorParams
export type ServerError = {
  [C in ServerErrorCode]: { readonly code: C; readonly params: Readonly<ServerErrorParams[C]> }
}[ServerErrorCode]

/** Answer to one command, before it is put into words. */
export type CommandResult =
  | {
      readonly status: 200
      readonly body: {
        readonly position: number
        readonly entries: readonly Entry[]
        /** Cups, panels and jobs that were named and are not known yet: what was recorded waits for them. */
        readonly waiting?: readonly string[]
      }
    }
  | { readonly status: 409 | 403; readonly body: { readonly refusal: Refusal | ServerRefusal } }
  | { readonly status: 400 | 413; readonly body: WrongFields }
  | { readonly status: 500 | 503; readonly body: { readonly error: ServerError } }

/** Answer to one command, as it crosses HTTP. */
export type CommandAnswer =
  | Extract<CommandResult, { status: 200 }>
  | {
      readonly status: 409 | 403
      readonly body: { readonly refusal: Said<Refusal> | Said<ServerRefusal> }
    }
  | {
      readonly status: 400 | 413
      readonly body: {
        readonly error: Said<WrongField>
        readonly errors: readonly Said<WrongField>[]
      }
    }
  | { readonly status: 500 | 503; readonly body: { readonly error: Said<ServerError> } }

/** How the server's clock stands, for whoever runs it. */
export type ClockHealth =
  | { readonly code: 'ok' }
  | {
      readonly code: 'notConfirmed'
      readonly params: {
        readonly doubt: ClockDoubt
        readonly nowMs: number
        readonly wallMs: number
      }
    }
/** What its log lacks. */
export type LogHealth =
  | { readonly code: 'ok' }
  | { readonly code: LogLoss['kind']; readonly params: Omit<LogLoss, 'kind'> }

/** What is wrong with the disk that it lies on. */
export type DiskHealth = { readonly code: 'ok' } | DiskTrouble

/** GET /healthz, before it is put into words. */
export type Health = {
  readonly ok: boolean
  readonly db: 'ok' | 'failed'
  readonly build: string
  readonly foldVersion: number
  readonly head: number
  /** False where the log holds entries of a newer version: then nothing is decided. */
  readonly decides: boolean
  readonly clock: ClockHealth
  readonly log: LogHealth
  readonly disk: DiskHealth
  readonly backup: BackupHealth
}

/** GET /api/entries: a page of the log, up to its head. */
export type EntriesAnswer = { readonly head: number; readonly entries: readonly Entry[] }

/** GET /api/jobs/:id/timeline: in the order in which it happened, with what each entry led to. */
export type TimelineAnswer = EntriesAnswer & {
  readonly job: string
  readonly steps: readonly Step[]
}

/**
 * GET /api/jobs/:id/trace: the job's entries with the air, the sheets and the guns that it is told by,
 * its deviations, and for a defect that was asked about what the record says of its causes.
 */
export type TraceAnswer = EntriesAnswer & {
  readonly job: string
  readonly deviations: readonly Deviation[]
  /** What the record lacks and what may be off in it. */
  readonly notices: readonly Notice[]
  readonly verdict: Told | null
}

/** A job as it is found: also one that was closed years ago. */
export type FoundJob = {
  readonly job: string
  readonly title: string
  readonly vehicle: string | null
  readonly colours: readonly {
    readonly key: string
    readonly code: string
    readonly variant: string | null
  }[]
  /** The names of its panels. */
  readonly panels: readonly string[]
  /** UTC ms. */
  readonly openedAt: number
  /** UTC ms; null while it is open. */
  readonly closedAt: number | null
  /** UTC ms of the last that happened to it. */
  readonly lastAt: number
}

/** GET /api/day: since the shop's last midnight, UTC ms. */
export type DayAnswer = { readonly fromMs: number; readonly counts: DayCounts }

/** GET /api/learned. */
export type LearnedAnswer = {
  readonly learned: LearnedFigures
  /** How many entries of the log were not read for it yet. */
  readonly behind: number
}

/** GET /api/forecast, and what the command line prints. Times are UTC ms. */
export type ForecastAnswer = LearnedAnswer & {
  readonly head: number
  readonly forecast: Forecast
}

/** GET /api/jobs. */
export type JobsAnswer = {
  readonly jobs: readonly FoundJob[]
  readonly isMore: boolean
  /** How many entries of the log were not looked through yet: after the first start on a long log. */
  readonly behind: number
}

/** GET /api/bells. */
export type BellsAnswer = {
  /** How many days up to now the figures are of. */
  readonly days: number
  /** Only the shop's open hours count, and what rang; without set hours every hour does. */
  readonly hasHours: boolean
  readonly figures: BellFigures
}

/** GET /api/state?as=packed: what a kiosk asks for. */
export type PackedStateAnswer = Omit<StateAnswer, 'state'> & { readonly state: PackedState }

/**
 * How far a shop's clocks are ahead of UTC, and between which instants, UTC ms, that holds. A browser reads the
 * rules of time zones when it first needs them, which takes a slow device a tenth of a second before its first
 * frame; a server has read them long since.
 */
export type ClockSpan = {
  readonly timeZone: string
  readonly aheadMs: number
  readonly fromMs: number
  readonly untilMs: number
}

/** GET /api/state. */
export type StateAnswer = {
  readonly state: State
  readonly head: number
  /** `position:hash8`: where the tail goes on from. */
  readonly tail: string
  readonly build: string
  readonly foldVersion: number
  /** Null where the clocks change about now; missing from a server of an earlier build. */
  readonly clockSpan?: ClockSpan | null
} & ServerStanding
