import { assign, setup } from 'xstate'
import type { Fact } from '../envelope.ts'
import { madeWhenAsked } from '../madeWhenAsked.ts'
import { movedClock, type PouredBack, tookBack } from './back.ts'
import type { StoredCheck } from './checks.ts'
import type { CupContents, CupContext, PotClock, Print } from './context.ts'

export type { CupCheck, CupContents, CupContext, CupMove, PotClock, Print } from './context.ts'

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
  | Fact<'GunPouredBack', PouredBack>
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
  GunPouredBack: { actions: 'takeBack' },
  CupMeasured: { actions: 'measure' },
  CupChecked: { actions: 'check' },
  CupLabelPrinted: { actions: 'print' },
  CupEmptied: { target: 'emptied', actions: 'empty' },
} as const

/**
 * A cup: mixed with a clock that runs, or stored without one, then emptied. What was recorded late
 * on an emptied cup is kept on it: decide marked it `outside`.
 */
export const cupMachine = madeWhenAsked(() =>
  setup({
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
      takeBack: assign(({ context, event }) =>
        event.type === 'GunPouredBack' ? tookBack(context, event.data, event.at) : {},
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
          GunPouredBack: { actions: 'takeBack' },
        },
      },
    },
  }),
)
