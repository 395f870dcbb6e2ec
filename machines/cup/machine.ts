import { assign, setup } from 'xstate'
import type { Interval } from '../clock/line.ts'
import type { Fact } from '../envelope.ts'
import type { Stage } from '../sheet/schema.ts'
import type { Paint } from './paint.ts'

/** A pot life that runs: from when the activator went in, in which zone's air. */
export type PotClock = {
  readonly startMs: number
  readonly zone: string
  readonly interval: Interval
}
/** What a label says: when it was printed, and until when the cup may be used. */
export type Print = {
  readonly at: number
  readonly untilMs: number | null
  readonly copy: number
  /** The label did not print: its text was written on the cup. */
  readonly byHand?: boolean
}

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
  readonly activator: string | null
  readonly reducer: string | null
  /** Where mixes with different activators or reducers were poured together: all of them, since each has its own flash. */
  readonly mixes?: readonly Pick<CupContents, 'activator' | 'reducer'>[]
  readonly clocks: readonly PotClock[]
  /** For a mix without pot life: until when it keeps, UTC ms. */
  readonly keepUntilMs: number | null
  readonly induction: PotClock | null
  /** The earliest use-by on the labels of the cups it was poured from: it binds the new cup as well. */
  readonly untilMs: number | null
}

export type CupContext = CupContents & {
  readonly job: string | null
  readonly mixedAt: number
  readonly parents: readonly string[]
  readonly prints: readonly Print[]
  readonly pouredMl: number
  /** The panels that it was used on, each once: what was pressed twice counts once. */
  readonly usedOn: readonly string[]
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
  | Fact<'CoatStarted', object>
  | Fact<'CoatContinued', object>
  | Fact<'CoatFinished', object>
  | Fact<'GunLoaded', object>
/** `asked` is how much was named; null where all that was left was taken. */
export type PouredOut = {
  role: 'parent'
  into: string
  ml: number | null
  isAll: boolean
  asked?: number | null
}

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
    use: assign({
      usedOn: ({ context, event }) =>
        event.panel === undefined || context.usedOn.includes(event.panel)
          ? context.usedOn
          : [...context.usedOn, event.panel],
    }),
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
