import type { Records } from '../records/records.ts'

/** GET /api/records: days as they were asked for, and where they begin and end, UTC ms. */
export type RecordsAnswer = {
  readonly from: string
  readonly to: string
  readonly fromMs: number
  readonly toMs: number
  readonly records: Records
}
