import { type Random, randomOf } from './labelImage.ts'

/**
 * Drills: real faults at random moments. Each prints its seed, how often it tried and what came of it;
 * FLASHBELL_SEED repeats one, FLASHBELL_SHARE runs a part of a long one.
 */

/** Whether the long runs are asked for. */
export const isLong = Boolean(process.env.FLASHBELL_LONG)
const share = Number(process.env.FLASHBELL_SHARE ?? 1)

export type Drill = {
  readonly rounds: number
  readonly seed: number
  readonly dice: SeededDice
  /** Counts what came of a round. */
  readonly count: (what: string, by?: number) => void
  readonly counted: (what: string) => number
  /** Prints what was counted, and figures of other kinds. */
  readonly done: (figures?: Readonly<Record<string, string | number>>) => void
}

/** @param often rounds in `npm test` and in the long run */
export function drill(
  name: string,
  often: { readonly small: number; readonly long: number },
): Drill {
  const rounds = isLong ? Math.max(1, Math.round(often.long * share)) : often.small
  // As for all random tests (randomSeed.ts): one seed in `npm test`, another in each long run.
  const seed = Number(process.env.FLASHBELL_SEED ?? 1)
  const counts = new Map<string, number>()
  // Also where the drill fails: the seed is what repeats it.
  print(`drill ${name}: ${rounds} rounds, seed ${seed}`)
  return {
    ...{ rounds, seed, dice: new SeededDice(seed) },
    count: (what, by = 1) => counts.set(what, (counts.get(what) ?? 0) + by),
    counted: (what) => counts.get(what) ?? 0,
    done(figures = {}) {
      const all = [...counts, ...Object.entries(figures)].map(([what, n]) => `${what} ${n}`)
      print(`drill ${name}: seed ${seed}: ${all.join(', ')}`)
    },
  }
}

const print = (line: string) => process.stdout.write(`${line}\n`)

/** How long a drill may take before it is given up. Nothing is judged by it. */
export const drillPatience = isLong ? 3_600_000 : 240_000

/** The same choices for the same seed. */
export class SeededDice {
  /** From 0 to below 1. */
  readonly next: Random

  constructor(seed: number) {
    this.next = randomOf(seed)
  }

  /** A whole number from 0 to below n. */
  below(n: number): number {
    return Math.floor(this.next() * n)
  }

  between(min: number, max: number): number {
    return min + this.below(max - min + 1)
  }

  /** True in the given number of a hundred cases. */
  chance(percent: number): boolean {
    return this.below(100) < percent
  }

  of<T>(items: readonly [T, ...T[]]): T
  of<T>(items: readonly T[]): T | undefined
  of<T>(items: readonly T[]): T | undefined {
    return items[this.below(items.length)]
  }
}
