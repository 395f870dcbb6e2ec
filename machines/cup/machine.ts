import { assign, setup } from 'xstate'
import type { Interval } from '../clock/line.ts'
import type { Fact } from '../envelope.ts'
import type { Stage } from '../sheet/schema.ts'
import type { StoredCheck } from './checks.ts'
import type { Paint } from './paint.ts'
import type { OffPart, Part } from './ratio.ts'

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

/** What was put into a pour besides what its cups held. */
export type Added = { readonly role: string; readonly name: string; readonly ml: number }

/** A new cup's cups and what was asked of each. It has its contents once all of these are known. */
type PouredIn = {
  role: 'child'
  parents: readonly string[]
  from?: readonly { readonly cup: string; readonly ml?: number }[]
  add?: readonly Added[]
} & (CupContents | { sheet?: undefined })

export type CupFact =
  | Fact<'CupMixed', CupContents>
  | Fact<'CupPoured', PouredIn | PouredOut>
  | Fact<'CupLabelPrinted', Omit<Print, 'at'>>
  | Fact<'CupEmptied', { how: 'used' | 'discarded'; leftMl?: number }>
  | Fact<'CoatStarted', Used>
  | Fact<'CoatContinued', Used>
  | Fact<'CoatFinished', Used>
  | Fact<'GunLoaded', Used>
  | Fact<'CupMoved', { zone: string }>
  | Fact<'CupMeasured', { leftMl: number }>
  | Fact<'CupChecked', { done: readonly StoredCheck[] }>
/** Where a cup is used; null where its panel was not known yet. Entries of before did not say so: their cups stay where they were mixed. */
type Used = { readonly cupZone?: string | null }
/** `asked` is how much was named; null where all that was left was taken. */
export type PouredOut = {
  role: 'parent'
  into: string
  ml: number | null
  isAll: boolean
  asked?: number | null
}

const DAY_MS = 86_400_000

const BLANK: CupContext = {
  sheet: '',
  sheetVersion: 0,
  stage: 'clear',
  name: '',
  totalMl: 0,
  ratio: '',
  by: 'volume',
  zone: '',
  colour: null,
  activator: null,
  reducer: null,
  clocks: [],
  keepUntilMs: null,
  induction: null,
  untilMs: null,
  job: null,
  mixedAt: 0,
  parents: [],
  prints: [],
  pouredMl: 0,
  usedOn: [],
  isUsed: false,
  emptiedAt: null,
}

/** A cup as it is when it was just made: nothing printed, poured or sprayed. */
export const newCup = (contents: CupContents, job: string | null, mixedAt: number): CupContext => ({
  ...BLANK,
  ...contents,
  job,
  mixedAt,
})

type Guarded = { event: CupFact }
function contentsIn(event: CupFact): CupContents | null {
  if (event.type === 'CupMixed') return event.data
  const isChild = event.type === 'CupPoured' && event.data.role === 'child'
  return isChild && event.data.sheet !== undefined ? event.data : null
}

function born(fact: CupFact): Partial<CupContext> {
  const contents = contentsIn(fact)
  if (!contents) return {}
  const parents = fact.type === 'CupPoured' && fact.data.role === 'child' ? fact.data.parents : []
  return { ...newCup(contents, fact.job ?? null, fact.at), parents }
}

function pouredOut(cup: CupContext, fact: CupFact): Partial<CupContext> {
  if (fact.type !== 'CupPoured' || fact.data.role !== 'parent') return {}
  const { ml, isAll } = fact.data
  const pouredMl = cup.pouredMl + (ml ?? 0)
  return isAll ? { pouredMl, emptiedAt: fact.at } : { pouredMl }
}

function movedClock(clock: PotClock, move: CupMove): PotClock {
  const { zone, moves = [] } = clock
  const last = moves.at(-1)
  const isUse = move.isUse || moves.some((one) => one.isUse)
  const isThere = last ? last.zone === move.zone && last.isUse === isUse : zone === move.zone
  return isThere ? clock : { ...clock, moves: [...moves, { ...move, isUse }] }
}

/** A cup in a zone, with its clocks. The same clocks where these run on as they did. */
function taken(cup: CupContext, zone: string, fromMs: number, isUse: boolean): Partial<CupContext> {
  const moved = (clock: PotClock) => movedClock(clock, { fromMs, zone, isUse })
  const clocks = cup.clocks.map(moved)
  const isSame = clocks.every((clock, i) => clock === cup.clocks[i])
  const induction = cup.induction && moved(cup.induction)
  return { zone, isUsed: isUse, ...(isSame ? {} : { clocks }), induction }
}

/** The first load or coat takes a cup to where it is used. */
function used(cup: CupContext, { at, panel, ...event }: CupFact): Partial<CupContext> {
  const zone = 'cupZone' in event.data ? event.data.cupZone : null
  const isNew = panel !== undefined && !cup.usedOn.includes(panel)
  return {
    lastUsedAt: at,
    ...(isNew ? { usedOn: [...cup.usedOn, panel] } : {}),
    ...(typeof zone === 'string' ? taken(cup, zone, at, true) : {}),
  }
}

/** What was done adds up within a day; on another day it is done anew. */
function checked({ checked: before }: CupContext, { at, data }: CupFact): Partial<CupContext> {
  const done = 'done' in data ? data.done : []
  const isRecent = before !== undefined && at - before.at < DAY_MS
  return { checked: { at, done: [...new Set([...(isRecent ? before.done : []), ...done])] } }
}

/** The facts that a cup which is not empty takes. */
const inUse = {
  CupPoured: [
    { guard: 'isAllPoured', target: 'emptied', actions: 'pourOut' },
    { guard: 'isPoured', actions: 'pourOut' },
  ],
  CoatStarted: { actions: 'use' },
  CoatContinued: { actions: 'use' },
  CoatFinished: { actions: 'use' },
  GunLoaded: { actions: 'use' },
  CupMoved: { actions: 'move' },
  CupMeasured: { actions: 'measure' },
  CupChecked: { actions: 'check' },
  CupLabelPrinted: { actions: 'print' },
  CupEmptied: { target: 'emptied', actions: 'empty' },
} as const

/**
 * A cup: mixed with a clock that runs, or stored without one, then emptied. What was recorded late
 * on an emptied cup is kept on it: decide marked it `outside`.
 */
export const cupMachine = setup({
  types: { context: {} as CupContext, events: {} as CupFact },
  guards: {
    hasClock: ({ event }: Guarded) => (contentsIn(event)?.clocks.length ?? 0) > 0,
    hasContents: ({ event }: Guarded) => contentsIn(event) !== null,
    isAllPoured: ({ event }: Guarded) =>
      event.type === 'CupPoured' && event.data.role === 'parent' && event.data.isAll,
    isPoured: ({ event }: Guarded) => event.type === 'CupPoured' && event.data.role === 'parent',
  },
  actions: {
    born: assign(({ event }) => born(event)),
    pourOut: assign(({ context, event }) => pouredOut(context, event)),
    use: assign(({ context, event }) => used(context, event)),
    move: assign(({ context, event }) =>
      event.type === 'CupMoved' ? taken(context, event.data.zone, event.at, context.isUsed) : {},
    ),
    measure: assign(({ context, event }) =>
      event.type === 'CupMeasured'
        ? { pouredMl: context.totalMl - event.data.leftMl, measuredAt: event.at }
        : {},
    ),
    check: assign(({ context, event }) =>
      event.type === 'CupChecked' ? checked(context, event) : {},
    ),
    print: assign({
      prints: ({ context, event }) =>
        event.type === 'CupLabelPrinted'
          ? [...context.prints, { at: event.at, ...event.data }]
          : context.prints,
    }),
    empty: assign({ emptiedAt: ({ event }) => event.at }),
  },
}).createMachine({
  id: 'cup',
  context: BLANK,
  initial: 'unmixed',
  states: {
    unmixed: {
      on: {
        CupMixed: [
          { guard: 'hasClock', target: 'live', actions: 'born' },
          { target: 'stored', actions: 'born' },
        ],
        CupPoured: [
          { guard: 'hasClock', target: 'live', actions: 'born' },
          { guard: 'hasContents', target: 'stored', actions: 'born' },
        ],
      },
    },
    live: { on: inUse },
    stored: { on: inUse },
    emptied: {
      on: {
        CupPoured: { guard: 'isPoured', actions: 'pourOut' },
        CoatStarted: { actions: 'use' },
        CoatContinued: { actions: 'use' },
        CoatFinished: { actions: 'use' },
        GunLoaded: { actions: 'use' },
      },
    },
  },
})
