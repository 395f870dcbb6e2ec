import type { Interval } from '../clock/line.ts'
import type { Stage } from '../sheet/schema.ts'
import type { StoredCheck } from './checks.ts'
import type { Paint } from './paint.ts'
import type { OffPart, Part } from './ratio.ts'

/** What is known of a cup: what is in it, its clocks, and what became of it. */

/** A pot life that runs: from when the activator went in, in which zone's air. */
export type PotClock = {
  readonly startMs: number
  /** Where it was mixed. */
  readonly zone: string
  readonly interval: Interval
  /** Where it was taken since. */
  readonly moves?: readonly CupMove[]
}
/** That a cup came into a zone; `isUse` once it has been loaded or sprayed, from when the mixing zone counts too. */
export type CupMove = { readonly fromMs: number; readonly zone: string; readonly isUse: boolean }
/** What a label says: when it was printed, and until when the cup may be used. */
export type Print = {
  readonly at: number
  readonly untilMs: number | null
  readonly copy: number
  /** The label did not print: its text was written on the cup. */
  readonly byHand?: boolean
}

/** What was done with a stored mix before it was used, and when. */
export type CupCheck = { readonly at: number; readonly done: readonly StoredCheck[] }

/** What is in a cup, as mixed or poured: copied into the entry. */
export type CupContents = {
  readonly sheet: string
  readonly sheetVersion: number
  readonly stage: Stage
  readonly name: string
  readonly totalMl: number
  readonly ratio: string
  readonly by: 'volume' | 'mass'
  readonly zone: string
  readonly colour: string | null
  readonly paint?: Paint
  /** Other jobs that it was mixed for as well. */
  readonly alsoFor?: readonly string[]
  readonly activator: string | null
  readonly reducer: string | null
  /** Those put in that the sheet has figures for, by name. */
  readonly withAdditives?: readonly string[]
  /** Where mixes with different activators or reducers were poured together: all of them, since each has its own flash. */
  readonly mixes?: readonly (Pick<CupContents, 'activator' | 'reducer'> & {
    lacksActivator?: true
    additives?: readonly string[]
  })[]
  readonly clocks: readonly PotClock[]
  /** For a mix without pot life: until when it keeps, UTC ms. */
  readonly keepUntilMs: number | null
  /** Of a pour: when its reducer went in, where it has any. */
  readonly reducedAt?: number
  readonly induction: PotClock | null
  /** What was really poured of each component, where that is known, and what of it is outside its tolerance. */
  readonly parts?: readonly Part[]
  readonly off?: readonly OffPart[]
  /** Of a pour: when the first of what is in it was mixed, and what was done with it as a stored mix. */
  readonly firstMixedAt?: number
  readonly checked?: CupCheck
  /** The earliest use-by on the labels of the cups it was poured from: it binds the new cup as well. */
  readonly untilMs: number | null
}

export type CupContext = CupContents & {
  readonly job: string | null
  readonly mixedAt: number
  readonly parents: readonly string[]
  readonly prints: readonly Print[]
  /** What went out of it into other cups; once it was measured, all that was gone by then. */
  readonly pouredMl: number
  readonly measuredAt?: number
  /** The panels that it was used on, each once: what was pressed twice counts once. */
  readonly usedOn: readonly string[]
  readonly lastUsedAt?: number
  /** Whether it was loaded or sprayed, as far as its entries say where. */
  readonly isUsed: boolean
  /** When it was emptied: it is kept for hours after. That it is empty is its state. */
  readonly emptiedAt: number | null
}
