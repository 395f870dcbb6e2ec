import fc from 'fast-check'
import type { CommandType } from '../../machines/commands.ts'

/** What somebody in a random shop is up to. Numbers decide the rest, so that a failure shrinks. */
export type Intent = {
  readonly what: CommandType | 'next'
  readonly wait: { readonly till: 'bell' | 'seconds' | 'minutes' | 'hours'; readonly n: number }
  readonly rolls: readonly number[]
  readonly device: number
  /** Pressed while the server is away: it waits in its device's queue. */
  readonly isOffline: boolean
  /** The device's queue is sent before this. */
  readonly isBack: boolean
  /** Typed as having happened this many minutes ago. */
  readonly backMin: number
  /** A sensor that speaks just before, if its zone has been silent for a while. */
  readonly isSensed: boolean
}

/** Choices out of an intent's numbers. A roll of zero is the plainest choice. */
export class Dice {
  readonly #rolls: readonly number[]
  #next = 0

  constructor(rolls: readonly number[]) {
    this.#rolls = rolls
  }

  /** A whole number from 0 to below n. */
  below(n: number): number {
    const roll = this.#rolls[this.#next % this.#rolls.length] ?? 0
    this.#next += 1
    return roll % n
  }

  between(min: number, max: number): number {
    return min + this.below(max - min + 1)
  }

  /** True in the given number of a hundred cases, never for a roll of zero. */
  chance(percent: number): boolean {
    return this.below(100) >= 100 - percent
  }

  of<T>(items: readonly T[]): T | undefined {
    return items.length === 0 ? undefined : items[this.below(items.length)]
  }
}

/** How often each is done. What a day consists of is done most; what the walk needs is `next`. */
const WEIGHTS: { readonly [T in Intent['what']]?: number } = {
  next: 320,
  ReadClimate: 10,
  ClearZone: 2,
  PurgeZone: 1,
  StartCoat: 14,
  FinishCoat: 14,
  MixCup: 6,
  VoidEntry: 16,
  InspectCoat: 5,
  RingBell: 12,
  AcknowledgeBell: 5,
  SnoozeBell: 4,
  EscalateBell: 4,
  HoldBell: 3,
  ReportFlood: 2,
  LoadGun: 5,
  PourCup: 5,
  PrintLabel: 5,
  EmptyCup: 4,
  AbradePanel: 4,
  SendBackPanel: 4,
  RemovePanel: 1,
  AddPerson: 2,
  RetirePerson: 3,
  SaveAirSupply: 1,
  TestSound: 1,
  CommissionLevel: 1,
  ReportSleep: 2,
  ReportClockJump: 1,
  ConfirmClock: 1,
  AddNote: 1,
  AddPhoto: 1,
  CloseJob: 5,
  ReopenJob: 5,
  PauseJob: 5,
  ResumeJob: 5,
  StartCure: 6,
  RetireSheet: 1,
}

/** The same for each, but for the walk that all the others need. */
const EVEN: typeof WEIGHTS = { next: 60 }

/** @param how as a day mostly is, or evenly: so that what is seldom done is done as well */
export const intentOf = (
  types: readonly CommandType[],
  how: 'mostly' | 'evenly' = 'mostly',
): fc.Arbitrary<Intent> =>
  fc.record({
    what: fc.oneof(
      ...(['next', ...types] as const).map((what) => ({
        weight: (how === 'mostly' ? WEIGHTS : EVEN)[what] ?? 3,
        arbitrary: fc.constant(what),
      })),
    ),
    wait: fc.oneof(
      {
        weight: 14,
        arbitrary: fc.record({ till: fc.constant('seconds' as const), n: fc.nat({ max: 90 }) }),
      },
      {
        weight: 10,
        arbitrary: fc.record({ till: fc.constant('bell' as const), n: fc.nat({ max: 4 }) }),
      },
      {
        weight: 8,
        arbitrary: fc.record({
          till: fc.constant('minutes' as const),
          n: fc.integer({ min: 1, max: 20 }),
        }),
      },
      {
        weight: 1,
        arbitrary: fc.record({
          till: fc.constant('hours' as const),
          n: fc.integer({ min: 1, max: 14 }),
        }),
      },
    ),
    rolls: fc.array(fc.nat({ max: 999_983 }), { minLength: 14, maxLength: 14 }),
    device: fc.nat({ max: 3 }),
    isOffline: fc.nat({ max: 9 }).map((n) => n === 9),
    isBack: fc.nat({ max: 3 }).map((n) => n === 3),
    isSensed: fc.nat({ max: 9 }).map((n) => n > 5),
    backMin: fc.oneof(
      { weight: 9, arbitrary: fc.constant(0) },
      { weight: 1, arbitrary: fc.integer({ min: 1, max: 25 }) },
    ),
  })
