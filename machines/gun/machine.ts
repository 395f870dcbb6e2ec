import { assign, setup } from 'xstate'
import type { PotClock } from '../cup/machine.ts'
import { isSameColour, type Paint } from '../cup/paint.ts'
import type { Fact } from '../envelope.ts'
import { madeWhenAsked } from '../madeWhenAsked.ts'

/** What is in a gun: copied from its cup, because the gun's clock keeps running whatever happens to the cup. */
export type GunLoad = {
  readonly cup: string | null
  readonly sheet: string | null
  readonly name: string
  readonly colour: string | null
  readonly paint?: Paint
  /** It has a bell before its end. Loads of before rang at their end only. */
  readonly warns?: true
  readonly clocks: readonly PotClock[]
  readonly untilMs: number | null
}

export type GunSpec = {
  readonly name?: string
  readonly needleMm?: number
  readonly airLpm?: number
  readonly inletKpa?: number
}

/** What is in a gun, whether a clock runs on it or it was rinsed out. */
export type Material = Pick<GunLoad, 'sheet' | 'name' | 'colour' | 'paint'>

export type GunContext = {
  readonly spec: GunSpec | null
  /** What was rinsed out of it since it was cleaned: only more of the same may follow. */
  readonly rinsed: Material | null
  readonly loads: readonly (GunLoad & { readonly at: number; readonly entry: string })[]
  /** When it was last cleaned or rinsed, of what, and where, if that was said. */
  readonly cleaning?: Cleaning
}

/** Vapor of what was in a gun, in the air in which it was cleaned. */
export type Cleaning = {
  readonly at: number
  /** Null for a product that is not known. */
  readonly sheets: readonly (string | null)[]
  readonly zone?: string
}

export type GunFact =
  | Fact<'GunSaved', GunSpec>
  | Fact<'GunLoaded', { load: GunLoad }>
  | Fact<'CoatStarted', { load?: GunLoad }>
  | Fact<'CoatContinued', { load?: GunLoad }>
  | Fact<'GunCleaned', object>
  | Fact<'GunRinsed', object>

const loadIn = (event: GunFact): GunLoad | undefined =>
  'load' in event.data ? event.data.load : undefined

/** Same product and colour: a fresh cup of it needs no cleaning. */
export const isSameMaterial = (a: Material, b: Material): boolean =>
  a.sheet !== null && a.sheet === b.sheet && isSameColour(a, b)

/** Everything that is in a gun, or was rinsed out of it. */
export const materialsIn = ({ rinsed, loads }: GunContext): readonly Material[] => [
  ...(rinsed ? [rinsed] : []),
  ...loads,
]

type Loads = GunContext['loads']

/**
 * More material in a gun. Of the same cup it is one load; of another cup the
 * earlier one's clock goes on, because what is left of it is in the gun.
 */
function withLoad({ loads }: GunContext, event: GunFact): Loads {
  const load = loadIn(event)
  if (!load) return loads
  const isRunning = (held: GunLoad) => held.clocks.length > 0 || held.untilMs !== null
  const others = loads.filter((held) => held.cup !== load.cup && isRunning(held))
  return [...others, { ...load, at: event.at, entry: event.id }]
}

/** A gun in which nothing was gives no vapor: the cleaning before it stands. */
function cleaningOf(gun: GunContext, event: GunFact): { cleaning?: Cleaning } {
  const sheets = [...new Set(materialsIn(gun).map(({ sheet }) => sheet))]
  if (sheets.length === 0) return {}
  return {
    cleaning: { at: event.at, sheets, ...(event.zone === undefined ? {} : { zone: event.zone }) },
  }
}

/** What was in it leaves its name, and no clock. */
function rinsedOut(gun: GunContext, event: GunFact): Partial<GunContext> {
  const { loads, rinsed } = gun
  const held = loads.at(-1) ?? rinsed
  if (!held) return { loads: [] }
  const { sheet, name, colour, paint } = held
  return {
    loads: [],
    rinsed: { sheet, name, colour, ...(paint ? { paint } : {}) },
    ...cleaningOf(gun, event),
  }
}

type Guarded = { context: GunContext; event: GunFact }

const over = { target: 'dirty', actions: 'loadOver' } as const
const onTop = [{ guard: 'isSame', target: 'loaded', actions: 'load' }, over] as const
const cleaned = { target: 'clean', actions: 'clean' } as const

/** A gun: clean, loaded with one material, rinsed for more of it, or dirty with a second one put over the first. */
export const gunMachine = madeWhenAsked(() =>
  setup({
    types: { context: {} as GunContext, events: {} as GunFact },
    guards: {
      hasLoad: ({ event }: Guarded) => loadIn(event) !== undefined,
      isSame: ({ context, event }: Guarded) => {
        const load = loadIn(event)
        return load !== undefined && materialsIn(context).every((one) => isSameMaterial(one, load))
      },
    },
    actions: {
      save: assign({
        spec: ({ context, event }) => (event.type === 'GunSaved' ? event.data : context.spec),
      }),
      load: assign({ loads: ({ context, event }) => withLoad(context, event) }),
      loadOver: assign({
        loads: ({ context, event }) => [
          ...context.loads,
          { ...(loadIn(event) as GunLoad), at: event.at, entry: event.id },
        ],
      }),
      rinse: assign(({ context, event }) => rinsedOut(context, event)),
      clean: assign(({ context, event }) => ({
        loads: [],
        rinsed: null,
        ...cleaningOf(context, event),
      })),
    },
  }).createMachine({
    id: 'gun',
    context: { spec: null, rinsed: null, loads: [] },
    initial: 'clean',
    on: { GunSaved: { actions: 'save' } },
    states: {
      clean: {
        on: {
          GunLoaded: { guard: 'hasLoad', target: 'loaded', actions: 'load' },
          CoatStarted: { guard: 'hasLoad', target: 'loaded', actions: 'load' },
          CoatContinued: { guard: 'hasLoad', target: 'loaded', actions: 'load' },
          GunRinsed: { actions: 'clean' },
          GunCleaned: { actions: 'clean' },
        },
      },
      loaded: {
        on: {
          GunLoaded: onTop,
          CoatStarted: onTop,
          CoatContinued: onTop,
          GunRinsed: { target: 'rinsed', actions: 'rinse' },
          GunCleaned: cleaned,
        },
      },
      rinsed: {
        on: {
          GunLoaded: onTop,
          CoatStarted: onTop,
          CoatContinued: onTop,
          GunRinsed: { actions: 'rinse' },
          GunCleaned: cleaned,
        },
      },
      dirty: {
        on: {
          GunLoaded: { guard: 'hasLoad', actions: 'loadOver' },
          CoatStarted: { guard: 'hasLoad', actions: 'loadOver' },
          CoatContinued: { guard: 'hasLoad', actions: 'loadOver' },
          GunCleaned: cleaned,
        },
      },
    },
  }),
)
