import { assign, setup } from 'xstate'
import type { PotClock } from '../cup/machine.ts'
import { isSameColour, type Paint } from '../cup/paint.ts'
import type { Fact } from '../envelope.ts'

/** What is in a gun: copied from its cup, because the gun's clock keeps running whatever happens to the cup. */
export type GunLoad = {
  readonly cup: string | null
  readonly sheet: string | null
  readonly name: string
  readonly colour: string | null
  readonly paint?: Paint
  readonly clocks: readonly PotClock[]
  readonly untilMs: number | null
}

export type GunSpec = {
  readonly name?: string
  readonly needleMm?: number
  readonly airLpm?: number
  readonly inletKpa?: number
}

export type GunContext = {
  readonly spec: GunSpec | null
  readonly loads: readonly (GunLoad & { readonly at: number; readonly entry: string })[]
}

export type GunFact =
  | Fact<'GunSaved', GunSpec>
  | Fact<'GunLoaded', { load: GunLoad }>
  | Fact<'CoatStarted', { load?: GunLoad }>
  | Fact<'CoatContinued', { load?: GunLoad }>
  | Fact<'GunCleaned', object>

const loadIn = (event: GunFact): GunLoad | undefined =>
  'load' in event.data ? event.data.load : undefined

/** Same product and colour: a fresh cup of it needs no cleaning. */
export const isSameMaterial = (a: GunLoad, b: GunLoad): boolean =>
  a.sheet !== null && a.sheet === b.sheet && isSameColour(a, b)

type Guarded = { context: GunContext; event: GunFact }

/** A gun: clean, loaded with one material, or dirty with a second one put over the first. */
export const gunMachine = setup({
  types: { context: {} as GunContext, events: {} as GunFact },
  guards: {
    hasLoad: ({ event }: Guarded) => loadIn(event) !== undefined,
    isSame: ({ context, event }: Guarded) => {
      const load = loadIn(event)
      return load !== undefined && context.loads.every((held) => isSameMaterial(held, load))
    },
  },
  actions: {
    save: assign({
      spec: ({ context, event }) => (event.type === 'GunSaved' ? event.data : context.spec),
    }),
    load: assign({
      loads: ({ event }) => [{ ...(loadIn(event) as GunLoad), at: event.at, entry: event.id }],
    }),
    loadOver: assign({
      loads: ({ context, event }) => [
        ...context.loads,
        { ...(loadIn(event) as GunLoad), at: event.at, entry: event.id },
      ],
    }),
    clean: assign({ loads: () => [] }),
  },
}).createMachine({
  id: 'gun',
  context: { spec: null, loads: [] },
  initial: 'clean',
  on: { GunSaved: { actions: 'save' } },
  states: {
    clean: {
      on: {
        GunLoaded: { guard: 'hasLoad', target: 'loaded', actions: 'load' },
        CoatStarted: { guard: 'hasLoad', target: 'loaded', actions: 'load' },
        CoatContinued: { guard: 'hasLoad', target: 'loaded', actions: 'load' },
        GunCleaned: { actions: 'clean' },
      },
    },
    loaded: {
      on: {
        GunLoaded: [
          { guard: 'isSame', actions: 'load' },
          { target: 'dirty', actions: 'loadOver' },
        ],
        CoatStarted: [
          { guard: 'isSame', actions: 'load' },
          { target: 'dirty', actions: 'loadOver' },
        ],
        CoatContinued: [
          { guard: 'isSame', actions: 'load' },
          { target: 'dirty', actions: 'loadOver' },
        ],
        GunCleaned: { target: 'clean', actions: 'clean' },
      },
    },
    dirty: {
      on: {
        GunLoaded: { guard: 'hasLoad', actions: 'loadOver' },
        CoatStarted: { guard: 'hasLoad', actions: 'loadOver' },
        CoatContinued: { guard: 'hasLoad', actions: 'loadOver' },
        GunCleaned: { target: 'clean', actions: 'clean' },
      },
    },
  },
})
