import { assign, emit, type SnapshotFrom, setup } from 'xstate'
import { madeWhenAsked } from '../madeWhenAsked.ts'
import {
  BELLS,
  type BellKind,
  ESCALATE_MS,
  maySnooze,
  nextPlayInMs,
  type Reach,
  reachesOf,
  SILENCE_MS,
  type SoundName,
} from './kinds.ts'

/**
 * A bell: the notice that a deadline has come. This is the one machine that runs live, in the
 * kiosk, and may wait; deadlines themselves stay data and reach it as DUE. It says "play A now" by
 * emitting `play`; who plays it, and when its turn comes among other bells, is the kiosk's business.
 */

/** What the log already knows of a bell when a kiosk starts after the deadline. */
export type Known = {
  readonly isAcknowledged?: boolean
  readonly snoozes?: number
  readonly snoozedUntilMs?: number
}

/** `atMs` is kiosk time, UTC ms. */
export type BellEvent =
  | { type: 'DUE'; atMs: number; known?: Known }
  /** The deadline moved on: it has not come after all. */
  | { type: 'NOT_DUE' }
  /** Among all bells it is this one's turn to sound. */
  | { type: 'TURN'; atMs: number }
  | { type: 'ACKNOWLEDGE' }
  | { type: 'SNOOZE'; atMs: number; forMs: number }
  | { type: 'UNSNOOZE'; atMs: number }
  /** Quiet on this kiosk, not acknowledged. */
  | { type: 'SILENCE'; atMs: number }
  | { type: 'UNSILENCE'; atMs: number }
  /** The deadline is gone: the coat was started, the cup was emptied, the disposition is recorded. */
  | { type: 'CLEAR' }
  /** Somebody looked at the badge of a missed bell. */
  | { type: 'VIEW' }

export type BellSaid =
  | { type: 'play'; key: string; sound: SoundName }
  | { type: 'hush'; key: string }

export type BellContext = {
  readonly key: string
  readonly kind: BellKind
  readonly raisedAtMs: number
  readonly plays: number
  readonly nextInMs: number
  readonly snoozes: number
  readonly snoozedUntilMs: number
  readonly snoozeInMs: number
  readonly silencedUntilMs: number
  readonly escalateMs: readonly [number, number]
  readonly reach: Reach
}

const restMs = (c: BellContext, atMs: number) =>
  nextPlayInMs(BELLS[c.kind].sound, atMs - c.raisedAtMs)
const isAlarm = (c: BellContext) => BELLS[c.kind].class !== 'prompt'

const bell = setup({
  types: {
    context: {} as BellContext,
    events: {} as BellEvent,
    emitted: {} as BellSaid,
    input: {} as {
      key: string
      kind: BellKind
      /** The shop's own times; without them those of ESCALATE_MS. */
      escalateMs?: readonly [number, number]
    },
    tags: {} as 'wantsTurn',
  },
  delays: {
    untilNextPlay: ({ context }) => context.nextInMs,
    silence: SILENCE_MS,
    firstReach: ({ context }) => context.escalateMs[0],
    secondReach: ({ context }) => context.escalateMs[1],
    snooze: ({ context }) => context.snoozeInMs,
  },
  guards: {
    isKnownAcknowledged: (_, p: { known: Known | undefined }) => p.known?.isAcknowledged === true,
    isStillSnoozed: (_, p: { known: Known | undefined; atMs: number }) =>
      (p.known?.snoozedUntilMs ?? 0) > p.atMs,
    soundsAgain: ({ context }, p: { atMs: number }) => restMs(context, p.atMs) !== null,
    maySnooze: ({ context }, p: { forMs: number }) =>
      maySnooze(context.kind, context.snoozes, p.forMs),
    isAlarm: ({ context }) => isAlarm(context),
    /** After a silence an alarm goes on at once; so does a bell that nobody has heard yet. */
    isOwedSound: ({ context }) => isAlarm(context) || context.plays === 0,
    wouldBeMissed: ({ context }) => isAlarm(context) && !BELLS[context.kind].latches,
  },
  actions: {
    noteKnown: assign((_, p: { known: Known | undefined; atMs: number }) => ({
      snoozes: p.known?.snoozes ?? 0,
      snoozedUntilMs: p.known?.snoozedUntilMs ?? 0,
      snoozeInMs: Math.max(0, (p.known?.snoozedUntilMs ?? 0) - p.atMs),
    })),
    raise: assign(({ context }, p: { atMs: number }) => ({
      raisedAtMs: p.atMs,
      plays: 0,
      reach: reachesOf(context.kind)[0],
    })),
    reach: assign(({ context }, p: { step: 1 | 2 }) => ({
      reach: reachesOf(context.kind)[p.step],
    })),
    play: emit(({ context }) => ({
      type: 'play' as const,
      key: context.key,
      sound: BELLS[context.kind].sound,
    })),
    hush: emit(({ context }) => ({ type: 'hush' as const, key: context.key })),
    countPlay: assign(({ context }) => ({ plays: context.plays + 1 })),
    planNext: assign(({ context }, p: { atMs: number }) => ({
      nextInMs: restMs(context, p.atMs) ?? 0,
    })),
    noteSnooze: assign(({ context }, p: { atMs: number; forMs: number }) => ({
      snoozes: context.snoozes + 1,
      snoozedUntilMs: p.atMs + p.forMs,
      snoozeInMs: p.forMs,
    })),
    noteSilence: assign((_, p: { atMs: number }) => ({ silencedUntilMs: p.atMs + SILENCE_MS })),
  },
})

const at = ({ event }: { event: { atMs: number } }) => ({ atMs: event.atMs })
const due = ({ event }: { event: { atMs: number; known?: Known } }) => ({
  atMs: event.atMs,
  known: event.known,
})
const silenceEnd = ({ context }: { context: BellContext }) => ({ atMs: context.silencedUntilMs })
const snoozeEnd = ({ context }: { context: BellContext }) => ({ atMs: context.snoozedUntilMs })

/** One play. Then a rest until the next, or, played as often as it may, only the picture. */
const sounded = [
  {
    guard: { type: 'soundsAgain', params: at },
    target: '#bell.ringing.sounding.resting',
    actions: ['play', 'countPlay', { type: 'planNext', params: at }],
  },
  { target: '#bell.ringing.sounding.shown', actions: ['play', 'countPlay'] },
] as const

const silenced = {
  target: '#bell.ringing.sounding.silenced',
  actions: ['hush', { type: 'noteSilence', params: at }],
} as const

const wanting = { guard: 'isOwedSound', target: 'wanting' } as const
const shown = { target: 'shown' } as const

/** After a silence: a sound that is owed at once, else what is left of the rest, or the picture alone. */
const heardAgain = <P extends typeof at | typeof silenceEnd>(params: P) =>
  [
    wanting,
    {
      guard: { type: 'soundsAgain', params },
      target: 'resting',
      actions: { type: 'planNext', params },
    },
    shown,
  ] as const

/**
 * waiting -> due -> sounding -> acknowledged | snoozed -> cleared. `due` waits for its turn among
 * the bells; `sounding` rests between plays, waits for its next turn, is silenced, or is only shown.
 * An alarm that ended by itself before anybody answered is `missed` until somebody looks at it.
 */
export const bellMachine = madeWhenAsked(() =>
  bell.createMachine({
    id: 'bell',
    context: ({ input }) => ({
      key: input.key,
      kind: input.kind,
      raisedAtMs: 0,
      plays: 0,
      nextInMs: 0,
      snoozes: 0,
      snoozedUntilMs: 0,
      snoozeInMs: 0,
      silencedUntilMs: 0,
      escalateMs: input.escalateMs ?? ESCALATE_MS,
      reach: reachesOf(input.kind)[0],
    }),
    initial: 'waiting',
    states: {
      waiting: {
        on: {
          DUE: [
            { guard: { type: 'isKnownAcknowledged', params: due }, target: 'acknowledged' },
            {
              guard: { type: 'isStillSnoozed', params: due },
              target: 'snoozed',
              actions: { type: 'noteKnown', params: due },
            },
            {
              target: 'ringing',
              actions: [
                { type: 'noteKnown', params: due },
                { type: 'raise', params: at },
              ],
            },
          ],
          CLEAR: 'cleared',
        },
      },
      ringing: {
        initial: 'due',
        exit: 'hush',
        after: {
          firstReach: { guard: 'isAlarm', actions: { type: 'reach', params: { step: 1 } } },
          secondReach: { guard: 'isAlarm', actions: { type: 'reach', params: { step: 2 } } },
        },
        on: {
          ACKNOWLEDGE: 'acknowledged',
          SNOOZE: {
            guard: { type: 'maySnooze', params: ({ event }) => ({ forMs: event.forMs }) },
            target: 'snoozed',
            actions: {
              type: 'noteSnooze',
              params: ({ event }) => ({ atMs: event.atMs, forMs: event.forMs }),
            },
          },
          NOT_DUE: 'waiting',
          CLEAR: [{ guard: 'wouldBeMissed', target: 'missed' }, { target: 'cleared' }],
        },
        states: {
          due: { tags: 'wantsTurn', on: { TURN: sounded, SILENCE: silenced } },
          sounding: {
            initial: 'resting',
            states: {
              resting: { after: { untilNextPlay: 'wanting' }, on: { SILENCE: silenced } },
              wanting: { tags: 'wantsTurn', on: { TURN: sounded, SILENCE: silenced } },
              silenced: {
                after: {
                  silence: heardAgain(silenceEnd),
                },
                on: { UNSILENCE: heardAgain(at) },
              },
              /** Played as often as it may: from here on it is only seen. */
              shown: {},
            },
          },
        },
      },
      snoozed: {
        after: {
          snooze: { target: 'ringing', actions: { type: 'raise', params: snoozeEnd } },
        },
        on: {
          UNSNOOZE: { target: 'ringing', actions: { type: 'raise', params: at } },
          ACKNOWLEDGE: 'acknowledged',
          NOT_DUE: 'waiting',
          CLEAR: [{ guard: 'wouldBeMissed', target: 'missed' }, { target: 'cleared' }],
        },
      },
      /** Acknowledged is not over: the bell stays on the screen until its deadline is gone. */
      acknowledged: { on: { NOT_DUE: 'waiting', CLEAR: 'cleared' } },
      missed: { on: { VIEW: 'cleared' } },
      cleared: { type: 'final' },
    },
  }),
)

export type BellSnapshot = SnapshotFrom<typeof bellMachine>
export type BellState =
  | 'waiting'
  | 'due'
  | 'sounding'
  | 'acknowledged'
  | 'snoozed'
  | 'missed'
  | 'cleared'

/** The state of a bell in one word. */
export function bellState(snapshot: BellSnapshot): BellState {
  if (snapshot.matches({ ringing: 'due' })) return 'due'
  return typeof snapshot.value === 'string' ? snapshot.value : 'sounding'
}
