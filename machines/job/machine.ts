import { assign, setup } from 'xstate'
import type { Fact } from '../envelope.ts'
import { madeWhenAsked } from '../madeWhenAsked.ts'
import {
  type BlendChoice,
  type CardMeasured,
  type ColourCard,
  withBlend,
  withCard,
  withChosen,
} from './cards.ts'

export type JobColour = {
  readonly key: string
  readonly code: string
  readonly kind?: string
  readonly variant?: string
}
/** What was written or photographed of a job, or of one of its panels. */
export type JobNote = {
  readonly entry: string
  readonly at: number
  readonly by: string | null
  readonly panel: string | null
  readonly text: string | null
  /** SHA-256 of the picture. */
  readonly photo: string | null
}
export type JobContext = {
  readonly notes: readonly JobNote[]
  readonly title: string
  readonly vehicle: string | null
  readonly colours: readonly JobColour[]
  /** The warmest that its vehicle may become, °C; null where no limit is known, absent where nobody was asked. */
  readonly heatLimitC?: number | null
  /** Absent until there is one, as in the states of before. */
  readonly cards?: readonly ColourCard[]
  readonly blends?: readonly BlendChoice[]
  /** The entries by which people have decided about its deviations and causes. */
  readonly decided?: readonly string[]
  readonly openedAt: number
  readonly closedAt: number | null
}

export type JobFact =
  | Fact<'JobOpened', { title: string; vehicle?: string; colours: readonly JobColour[] }>
  | Fact<'HeatLimitSet', { maxC: number | null }>
  | Fact<'BlendDecided', BlendChoice>
  | Fact<'ColourCardMeasured', CardMeasured>
  | Fact<'ColourCardChosen', { colour: string; card: string }>
  | Fact<'NoteAdded', { panel?: string; text: string }>
  | Fact<'PhotoAdded', { panel?: string; photo: string; caption?: string }>
  | Fact<'DeviationSettled', { entry: string; code: string; disposition: string }>
  | Fact<'CupShared', object>
  | Fact<'CauseReviewed', { defect: string; cause: string; verdict: string }>
  | Fact<'JobPaused', object>
  | Fact<'JobResumed', object>
  | Fact<'JobClosed', object>
  | Fact<'JobReopened', object>

function noteOf(event: JobFact): JobNote[] {
  if (event.type !== 'NoteAdded' && event.type !== 'PhotoAdded') return []
  const { panel = null } = event.data
  const text = event.type === 'NoteAdded' ? event.data.text : (event.data.caption ?? null)
  const photo = event.type === 'PhotoAdded' ? event.data.photo : null
  return [{ entry: event.id, at: event.at, by: event.by, panel, text, photo }]
}

/** What is decided of its color, and of its vehicle. */
const decided = {
  HeatLimitSet: { actions: 'limit' },
  BlendDecided: { actions: 'colour' },
  ColourCardMeasured: { actions: 'colour' },
  ColourCardChosen: { guard: 'hasCard', actions: 'colour' },
} as const
function colourOf(context: JobContext, event: JobFact): Partial<JobContext> {
  const { cards = [], blends = [] } = context
  switch (event.type) {
    case 'BlendDecided':
      return { blends: withBlend(blends, event.data) }
    case 'ColourCardMeasured':
      return { cards: withCard(cards, { ...event.data, at: event.at }) }
    case 'ColourCardChosen':
      return { cards: withChosen(cards, event.data) }
    default:
      return {}
  }
}

/** A defect shows weeks later: a closed job takes notes too. */
const noted = {
  NoteAdded: { actions: 'note' },
  PhotoAdded: { actions: 'note' },
  DeviationSettled: { actions: 'say' },
  CauseReviewed: { actions: 'say' },
  // Kept among its entries: it leaves no note.
  CupShared: { actions: 'note' },
} as const

/** A job: open, paused (its prompts are silent, its chemistry runs on) or closed. */
export const jobMachine = madeWhenAsked(() =>
  setup({
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
      note: assign({ notes: ({ context, event }) => [...context.notes, ...noteOf(event)] }),
      say: assign({
        decided: ({ context, event }) => [...(context.decided ?? []), event.id],
      }),
      limit: assign(({ event }) =>
        event.type === 'HeatLimitSet' ? { heatLimitC: event.data.maxC } : {},
      ),
      colour: assign(({ context, event }) => colourOf(context, event)),
      close: assign({ closedAt: ({ event }) => event.at }),
      reopen: assign({ closedAt: null }),
    },
    guards: {
      hasCard: ({ context, event }) =>
        event.type === 'ColourCardChosen' &&
        (context.cards ?? []).some(
          ({ colour, card }) => colour === event.data.colour && card === event.data.card,
        ),
    },
  }).createMachine({
    id: 'job',
    context: { title: '', vehicle: null, colours: [], notes: [], openedAt: 0, closedAt: null },
    initial: 'unknown',
    states: {
      unknown: { on: { JobOpened: { target: 'open', actions: 'open' } } },
      open: {
        on: {
          ...noted,
          ...decided,
          JobPaused: 'paused',
          JobClosed: { target: 'closed', actions: 'close' },
        },
      },
      paused: {
        on: {
          ...noted,
          ...decided,
          JobResumed: 'open',
          JobClosed: { target: 'closed', actions: 'close' },
        },
      },
      closed: { on: { ...noted, JobReopened: { target: 'open', actions: 'reopen' } } },
    },
  }),
)
