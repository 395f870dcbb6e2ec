/**
 * A hand scanner types what it reads. Only its speed distinguishes it from a person: keys a few
 * milliseconds apart, ended by Enter or Tab. What a scanner types must reach neither the text field
 * nor the button that has the focus; what a person types must reach it whole.
 */

export type Rules = {
  /** The longest gap between two keys of a scan. */
  readonly maxGapMs: number
  /** Fewer keys than this are not a scan. */
  readonly minLength: number
  readonly suffixes: readonly string[]
  /** A key that no person presses, which the scanner was set to send first: then speed does not matter. */
  readonly prefix?: string
}

export const WEDGE: Rules = { maxGapMs: 35, minLength: 4, suffixes: ['Enter', 'Tab'] }
/** The slowest that a scanner may be set to send, which only a prefix can tell from typing. */
const PREFIXED_GAP_MS = 1_000

/** One key going down. `atMs` is the time of the key, not of the page's event. */
type Stroke = {
  readonly key: string
  readonly atMs: number
  /** The key is being held: not a scanner, whose keys go up again. */
  readonly isRepeat?: boolean
  /** With Ctrl, Alt or Meta, or part of a composed character. */
  readonly isCombined?: boolean
}

/** Keys that may become a scan. `held` is what the page has not been given: all but the first. */
export type Burst = {
  readonly text: string
  readonly held: string
  readonly lastMs: number
  readonly isPrefixed: boolean
}

export type Step = {
  readonly burst: Burst | null
  /** Whether the page must not see this key. */
  readonly swallow: boolean
  /** Held keys that were typing after all: to be put in before this key. */
  readonly release: string
  /** What was scanned. */
  readonly scan: string | null
  /** Whether this key may be the first of a scan. The page does see it. */
  readonly starts: boolean
}

const NOTHING: Step = { burst: null, swallow: false, release: '', scan: null, starts: false }

/** Takes one key into the burst that may be running. Pure. */
export function stroke(burst: Burst | null, key: Stroke, rules: Rules = WEDGE): Step {
  // A scanner presses Shift between two letters; it writes nothing and keeps no burst alive.
  if (key.key === 'Shift' || key.key === 'CapsLock') return { ...NOTHING, burst }
  const running = burst !== null && key.atMs - burst.lastMs <= gapOf(burst, rules) ? burst : null
  const ended: Step = { ...NOTHING, release: burst?.held ?? '' }
  if (key.isRepeat || key.isCombined) return ended
  if (key.key === rules.prefix) return { ...ended, burst: begun('', key, true), swallow: true }
  if (rules.suffixes.includes(key.key)) {
    if (running === null || !isLong(running, rules)) return ended
    return { ...NOTHING, swallow: true, scan: running.text }
  }
  if ([...key.key].length !== 1) return ended
  if (running === null) return { ...ended, burst: begun(key.key, key, false), starts: true }
  const text = running.text + key.key
  const held = running.held + key.key
  return { ...NOTHING, burst: { ...running, text, held, lastMs: key.atMs }, swallow: true }
}

/** What is to be done when no key came for a while: a burst that has no end was typing. */
export function paused(burst: Burst | null, atMs: number, rules: Rules = WEDGE): Step {
  const isOver = burst !== null && atMs - burst.lastMs > gapOf(burst, rules)
  return isOver ? { ...NOTHING, release: burst.held } : { ...NOTHING, burst }
}

const gapOf = (burst: Burst, rules: Rules) => (burst.isPrefixed ? PREFIXED_GAP_MS : rules.maxGapMs)
const isLong = (burst: Burst, rules: Rules) =>
  burst.text.length >= (burst.isPrefixed ? 1 : rules.minLength)
const begun = (text: string, { atMs }: Stroke, isPrefixed: boolean): Burst => ({
  text,
  held: '',
  lastMs: atMs,
  isPrefixed,
})

export type Scan = {
  /** Upper case, as labels are. */
  readonly text: string
  /** Holds signs that no label has: the scanner's keyboard layout is not this device's. */
  readonly hasForeignSigns: boolean
}

export const scanOf = (typed: string): Scan => {
  // Letter by letter: toUpperCase would make SS of the sharp s that a German layout has for "-".
  const text = typed.replace(/[a-z]/g, (letter) => letter.toUpperCase())
  return { text, hasForeignSigns: !/^[A-Z0-9-]+$/.test(text) }
}
