import * as v from 'valibot'
import { fields, id8, id40, list, number, oneOf, text, utcMs } from '../accept.ts'
import { DISPOSITIONS } from '../trace/dispositions.ts'

/** What a person says of the shop's records and of what a trace shows. */

export const TRAININGS = ['initial', 'refresher'] as const
export const FILTER_WORK = ['changed', 'checked', 'document'] as const
export const REVIEWS = ['accept', 'reject', 'edit'] as const

/** The id of a wrong one that this stands in place of: of none that is, 0 mL takes it away. */
const replaces = v.optional(text(60))

export const RECORD_COMMANDS = {
  /** Training of who sprays, and when it was completed: an id for who is not in the list of people as well. */
  RecordTraining: fields({
    person: id40,
    name: text(60),
    kind: oneOf(TRAININGS),
    doneMs: utcMs,
  }),
  /** Filters of a zone changed or looked at, or the paper about what they hold back; `nextMs`: when it is due again. */
  ServiceFilter: fields({
    zone: id40,
    what: oneOf(FILTER_WORK),
    efficiency: v.optional(number(0, 1, 'fraction')),
    doneMs: v.optional(utcMs),
    nextMs: v.optional(utcMs),
    replaces,
  }),
  /** Solvent that was used and stands in no gun's cleaning. */
  UseSolvent: fields({
    zone: v.optional(id40, 'bench'),
    solvent: text(60),
    ml: number(0, 200_000, 'mL'),
    purpose: v.optional(text(120)),
    replaces,
  }),
  /** What is done about a limit that was broken. The last word counts. `cup`: where it is of a cup without a job. */
  SettleDeviation: fields({
    job: id8,
    entry: text(60),
    code: text(40),
    cup: v.optional(id8),
    disposition: oneOf(DISPOSITIONS),
    reason: text(200),
  }),
  /** What a person found of a cause that the record spoke for; `instead`: the cause that it really was. */
  ReviewCause: fields({
    job: id8,
    panels: list(id8, 1, 60),
    /** As a trace names them: what it does not know counts for nothing there. */
    defect: text(40),
    cause: text(40),
    verdict: oneOf(REVIEWS),
    instead: v.optional(text(60)),
    reason: text(200),
  }),
} as const
