import { assign, setup } from 'xstate'
import type { Draft } from '../envelope.ts'

export type JobColour = {
  readonly key: string
  readonly code: string
  readonly kind?: string
  readonly variant?: string
}
export type JobContext = {
  readonly title: string
  readonly vehicle: string | null
  readonly colours: readonly JobColour[]
  readonly openedAt: number
  readonly closedAt: number | null
}

type Fact<T extends string, D> = Omit<Draft, 'type' | 'data'> & {
  readonly type: T
  readonly data: D
}
export type JobFact =
  | Fact<'JobOpened', { title: string; vehicle?: string; colours: readonly JobColour[] }>
  | Fact<'JobPaused', object>
  | Fact<'JobResumed', object>
  | Fact<'JobClosed', object>
  | Fact<'JobReopened', object>

/** A job: open, paused (its prompts are silent, its chemistry runs on) or closed. */
export const jobMachine = setup({
  types: { context: {} as JobContext, events: {} as JobFact },
  actions: {
    open: assign(({ event }) =>
      event.type === 'JobOpened'
        ? {
            title: event.data.title,
            vehicle: event.data.vehicle ?? null,
            colours: event.data.colours,
            openedAt: event.at,
          }
        : {},
    ),
    close: assign({ closedAt: ({ event }) => event.at }),
    reopen: assign({ closedAt: null }),
  },
}).createMachine({
  id: 'job',
  context: { title: '', vehicle: null, colours: [], openedAt: 0, closedAt: null },
  initial: 'unknown',
  states: {
    unknown: { on: { JobOpened: { target: 'open', actions: 'open' } } },
    open: { on: { JobPaused: 'paused', JobClosed: { target: 'closed', actions: 'close' } } },
    paused: { on: { JobResumed: 'open', JobClosed: { target: 'closed', actions: 'close' } } },
    closed: { on: { JobReopened: { target: 'open', actions: 'reopen' } } },
  },
})
