/**
 * What is found wrong with a log, with a picture that it names, or with what keeps it: codes, which the
 * edges put into words.
 */

/** What is known of a log that lacks something. */
type KnownLog = {
  /** How many entries the log had then. */
  readonly head: number
  /** How many it is known to have had before, and when, UTC ms. */
  readonly knownHead: number
  readonly knownHash: string
  readonly knownAtMs: number
}
/** `short`: it ends before what was acknowledged; `other`: it holds other entries. */
export type LogHealthParams = { short: KnownLog; other: KnownLog }
/** What a log was found to lack when its server started. */
export type LogLoss = { readonly kind: keyof LogHealthParams } & KnownLog

/** Values are as JSON writes them. */
export type DamageParams = {
  /** Another position comes where this one should be. */
  gap: { readonly came: number }
  /** The hash does not follow from the previous one and the text. */
  hash: object
  notJson: object
  notCanonical: object
  otherShop: { readonly said: string }
  otherPosition: { readonly said: string }
  otherColumn: { readonly column: string; readonly has: string; readonly said: string }
  /** Recorded before the entry in front of it. */
  recordedBefore: object
  /** The last snapshot knew of entries up to `head`. */
  cut: { readonly head: number }
  /** The last snapshot knew it by another hash. */
  rewritten: object
  /** The mark beside the log knows of more, or of others. */
  lacks: { readonly loss: LogLoss }
  /** What SQLite's own check says of the file. */
  file: { readonly said: string }
  /** The file cannot be read as a whole; what the program that tried it said. */
  unreadable: { readonly said: string }
  photoName: { readonly said: string }
  photoMissing: { readonly file: string }
  photoBytes: { readonly file: string; readonly hash: string }
  photoUnreadable: { readonly file: string; readonly said: string }
}
export type Damage = {
  [C in keyof DamageParams]: { readonly code: C; readonly params: DamageParams[C] }
}[keyof DamageParams]

export const damage = <C extends keyof DamageParams>(code: C, params: DamageParams[C]): Damage =>
  ({ code, params }) as Damage

/**
 * Why a store could not do what it was asked. `program` is a fault of ours; the rest is the shop's
 * to mend. `gone`: the log's file was deleted, moved or replaced while the server ran.
 */
export type StoreFault =
  | 'full'
  | 'readOnly'
  | 'busy'
  | 'damaged'
  | 'foreign'
  | 'newer'
  | 'unreachable'
  | 'gone'
  | 'io'
  | 'closed'
  | 'program'
  /** What is stored is whole, and the rules can make nothing of it. */
  | 'notUnderstood'

/** Why a shop cannot be served from a folder or at a port. `errno` is the system's own code, if it gave one. */
export type StartTroubleParams = {
  folderInUse: { readonly folder: string }
  folderReadOnly: { readonly folder: string; readonly errno: string }
  /** A practice shop wants a folder that nothing else is in. */
  folderForeign: { readonly folder: string }
  /** A shop was in it, of which the `left` is still there, at `at`, but not its log. */
  shopLost: {
    readonly folder: string
    readonly log: string
    readonly left: 'mark' | 'photos'
    readonly at: string
  }
  /** `setting`: where another port is named. */
  portTaken: { readonly host: string; readonly port: number; readonly setting: string }
  portRefused: {
    readonly host: string
    readonly port: number
    readonly errno: string
    readonly setting: string
  }
}
export type StartTrouble = {
  [C in keyof StartTroubleParams]: { readonly code: C; readonly params: StartTroubleParams[C] }
}[keyof StartTroubleParams]
