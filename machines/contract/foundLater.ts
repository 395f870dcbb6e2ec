/** A job with broken limits that came to be known too late for its close, or that no entry says. */
export type LateJob = {
  readonly job: string
  readonly title: string
  /** How many nobody has decided about. */
  readonly found: number
  readonly isClosed: boolean
}

/** GET /api/jobs/foundLater: the last first. */
export type FoundLaterAnswer = {
  readonly jobs: readonly LateJob[]
  /** Jobs with late entries that were not told anew yet: the next answer has more. */
  readonly toLook: number
  /** How many entries of the log were not looked through yet. */
  readonly behind: number
}
