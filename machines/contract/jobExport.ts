import type { Settings } from '../shop/settingsSchema.ts'

/** A job as it leaves the shop: its entries as they were written, and digests of those between them. */

/** An entry that is carried: its RFC 8785 text, and its hash in the log's chain. */
export type Carried = { readonly text: string; readonly hash: string }

/**
 * A piece of the log without a gap. A link is an entry that is carried, or the digest (SHA-256 of the text,
 * lower-case hex) of one that is not the job's. The last one is always carried.
 */
export type ChainPiece = {
  /** The position of the first link. */
  readonly from: number
  /** The hash of the entry in front of it; in front of position 1, SHA-256 of the shop's id. */
  readonly before: string
  readonly links: readonly (Carried | string)[]
}

export type JobExport = {
  readonly format: 'flashbell-job'
  readonly version: 1
  readonly shop: string
  readonly job: string
  /** The shop's log when it was made: to compare with what the shop still says of it. */
  readonly head: { readonly position: number; readonly hash: string }
  /** UTC ms, by the shop's clock. */
  readonly madeAt: number
  /** How the shop writes: its language, units and time zone. */
  readonly settings: Settings
  readonly pieces: readonly ChainPiece[]
}

/** In which forms a job is exported. */
export const EXPORT_FORMS = ['html', 'jsonl'] as const
export type ExportForm = (typeof EXPORT_FORMS)[number]
