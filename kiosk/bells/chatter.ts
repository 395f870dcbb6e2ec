import { CHATTER_TIMES, CHATTER_WITHIN_MS, HOLD_MS } from '../../machines/bell/kinds.ts'
import type { Bell } from './cards.ts'

/** What a bell comes from: the same cup, panel or gun, for the same reason. */
const sourceOf = ({ kind, thing }: Bell): string => `${kind} ${thing}`

type Source = {
  readonly raisedAtMs: readonly number[]
  readonly heldUntilMs: number
  readonly isDue: boolean
  /** It sounded here since it began to ring again and again. */
  readonly isHeard: boolean
}

const UNKNOWN: Source = { raisedAtMs: [], heldUntilMs: 0, isDue: false, isHeard: false }

/**
 * Keeps a bell quiet that rings again and again: raised three times within a minute, it stays on its
 * card without a sound until a minute after the last time. A bell that has not sounded yet is never
 * kept quiet: a cup past its pot life is heard, however often its figures change.
 */
export class Chatter {
  #sources: ReadonlyMap<string, Source> = new Map()

  /** @param due the bells whose deadlines have come at this instant, UTC ms */
  look(due: readonly Bell[], atMs: number): void {
    const isDue = new Set(due.map(sourceOf))
    const known = new Set([...isDue, ...this.#sources.keys()])
    const next = [...known].map((name) => {
      const before = this.#sources.get(name) ?? UNKNOWN
      return [name, seen(before, isDue.has(name), atMs)] as const
    })
    this.#sources = new Map(next.filter(([, source]) => isOfLate(source, atMs)))
  }

  /** Whether no bell has rung of late. */
  get isForgotten(): boolean {
    return this.#sources.size === 0
  }

  sounded(bell: Bell): void {
    const name = sourceOf(bell)
    const source = this.#sources.get(name)
    if (source) this.#sources = new Map(this.#sources).set(name, { ...source, isHeard: true })
  }

  /** Until when a bell is quiet, UTC ms; 0 while it may sound. */
  heldUntilMs(bell: Bell, atMs: number): number {
    const source = this.#sources.get(sourceOf(bell))
    return source?.isHeard && source.heldUntilMs > atMs ? source.heldUntilMs : 0
  }
}

function seen(before: Source, isDue: boolean, atMs: number): Source {
  if (!isDue || before.isDue) return { ...before, isDue }
  const isRecent = (at: number) => atMs - at < CHATTER_WITHIN_MS
  const raisedAtMs = [...before.raisedAtMs.filter(isRecent), atMs]
  const isTooOften = raisedAtMs.length >= CHATTER_TIMES
  return {
    ...before,
    raisedAtMs,
    isDue,
    heldUntilMs: isTooOften ? atMs + HOLD_MS : before.heldUntilMs,
  }
}

const isOfLate = ({ isDue, raisedAtMs, heldUntilMs }: Source, atMs: number): boolean =>
  isDue || heldUntilMs > atMs || atMs - (raisedAtMs.at(-1) ?? 0) < CHATTER_WITHIN_MS
