// Not by way of code.ts: what a code says is read by what is fetched once the first Wall stands.
import { isSealed } from '../../labels/seal.ts'
import type { Settings } from './settings.ts'

/** How long after the last key what is held of a burst is given to the field as typing. */
const GIVE_BACK_MS = 120
/** Fields that keys write into. */
const TYPED = ['text', 'search', 'tel', 'url', 'email', 'password', 'number', 'textarea']

type Field = HTMLInputElement | HTMLTextAreaElement
/** A text field as it was before the first key of a burst. */
type Before = {
  readonly field: Field
  readonly value: string
  readonly from: number | null
  readonly to: number | null
}

/** How fast this device's scanner types, as learned from its first code. */
export type Pace = {
  /** The longest gap between two keys, ms; null for not learned. */
  readonly gapMs: () => number | null
  readonly learn: (gapMs: number) => void
}

const KEPT_GAP = 'scannerGapMs'

/** The pace of the scanner at this device, kept through a reload. */
export const scannerPace = (kept: Pick<Settings, 'kept' | 'keep'>): Pace => ({
  gapMs: () => Number(kept.kept(KEPT_GAP)) || null,
  learn: (gapMs) => kept.keep(KEPT_GAP, String(Math.ceil(gapMs))),
})

/**
 * Listens for a hand scanner on a whole page, ahead of everything on it.
 * @param pace of a scanner that types as slowly as a person: its first label or code is known by its
 *   checksum, and from then on its speed
 * @returns stops listening
 */
export function listenForScans(
  page: Window,
  onScan: (scan: Scan) => void,
  pace?: Pace,
): () => void {
  let rules = rulesFor(pace?.gapMs() ?? null)
  let burst: Burst | null = null
  let slow: (Slow & { readonly before: Before | null }) | null = null
  let before: Before | null = null
  let timer = 0

  const take = (step: Step) => {
    if (step.release !== '') typeInto(before, step.release)
    if (step.scan !== null) putBack(before)
    burst = step.burst
    page.clearTimeout(timer)
    if (burst !== null && burst.held !== '') timer = page.setTimeout(giveBack, GIVE_BACK_MS)
    if (step.scan !== null) onScan(scanOf(step.scan))
  }
  const giveBack = () => take(paused(burst, page.performance.now(), rules))
  /** Reads along what is typed slowly. @returns whether the key was the end of a scan */
  const readAlong = (event: KeyboardEvent): boolean => {
    const along = slowly(slow, strokeOf(event), rules)
    if (along.code !== null && pace) {
      putBack(slow?.before ?? null)
      pace.learn(along.code.slowestMs)
      rules = rulesFor(along.code.slowestMs)
      slow = null
      onScan(scanOf(along.code.text))
      return true
    }
    const isNew = along.slow !== null && along.slow.text.length === 1
    const before = isNew ? fieldBefore(event.target) : (slow?.before ?? null)
    slow = along.slow && { ...along.slow, before }
    return false
  }
  const onKeyDown = (event: KeyboardEvent) => {
    const step = stroke(burst, strokeOf(event), rules)
    if (step.scan === null && readAlong(event)) {
      event.preventDefault()
      event.stopImmediatePropagation()
      burst = null
      return
    }
    if (step.swallow) {
      event.preventDefault()
      event.stopImmediatePropagation()
    }
    take(step)
    if (step.starts) before = fieldBefore(event.target)
  }

  page.addEventListener('keydown', onKeyDown, { capture: true })
  return () => {
    page.clearTimeout(timer)
    page.removeEventListener('keydown', onKeyDown, { capture: true })
  }
}

const strokeOf = (event: KeyboardEvent) => ({
  key: event.key,
  atMs: event.timeStamp,
  isRepeat: event.repeat,
  isCombined: event.ctrlKey || event.altKey || event.metaKey || event.isComposing,
})

function fieldBefore(target: EventTarget | null): Before | null {
  if (!(target instanceof HTMLInputElement || target instanceof HTMLTextAreaElement)) return null
  if (target.readOnly || target.disabled || !TYPED.includes(target.type)) return null
  const { value, selectionStart, selectionEnd } = target
  return { field: target, value, from: selectionStart, to: selectionEnd }
}

/** Takes the first key of a scan out of the field again. */
function putBack(before: Before | null): void {
  if (before === null || before.field.value === before.value) return
  const { field, value, from, to } = before
  field.value = value
  if (from !== null) field.setSelectionRange(from, to)
  tell(field)
}

/** Types what was held, where the caret is. Number fields have no caret: there it goes to the end. */
function typeInto(before: Before | null, text: string): void {
  if (before === null) return
  const { field } = before
  const { selectionStart, selectionEnd } = field
  if (selectionStart === null || selectionEnd === null) field.value += text
  else field.setRangeText(text, selectionStart, selectionEnd, 'end')
  tell(field)
}

/** Whoever draws the field hears of it as of a key. */
function tell(field: Field): void {
  field.dispatchEvent(new InputEvent('input', { bubbles: true }))
}

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

/** Keys that may become a scan. `held` is what the page has not been given: at first all but the first. */
export type Burst = {
  readonly text: string
  readonly held: string
  readonly lastMs: number
  /** The longest gap so far. */
  readonly slowestMs: number
  readonly isPrefixed: boolean
}

type Step = {
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
  const slowestMs = Math.max(running.slowestMs, key.atMs - running.lastMs)
  return {
    ...NOTHING,
    burst: { ...running, text, held, lastMs: key.atMs, slowestMs },
    swallow: true,
  }
}

/**
 * What is to be done when no key came for a while: what is held of a burst was typing, it seems. A
 * busy device hears of keys late while their time stamps are right: the burst goes on if they say so.
 */
export function paused(burst: Burst | null, atMs: number, rules: Rules = WEDGE): Step {
  const isOver = burst !== null && atMs - burst.lastMs > gapOf(burst, rules)
  if (!isOver) return { ...NOTHING, burst }
  return { ...NOTHING, burst: { ...burst, held: '' }, release: burst.held }
}

/** Slower than this no scanner types, and most people type no faster. */
const SLOWEST_GAP_MS = 90
/** Keys that come no faster than a quick person's are a scan only when there are so many. */
const SLOW_LENGTH = 10

/** The rules for a scanner whose longest gap is known. @param gapMs null for one that was not learned */
export const rulesFor = (gapMs: number | null): Rules =>
  gapMs === null || gapMs <= WEDGE.maxGapMs
    ? WEDGE
    : { ...WEDGE, maxGapMs: Math.min(SLOWEST_GAP_MS, Math.ceil(gapMs * 1.3)) }

/** What is typed steadily, as far as it may be a scan of a scanner that is not known yet. */
export type Slow = { readonly text: string; readonly lastMs: number; readonly slowestMs: number }

/**
 * Reads along with typing that is too slow for a scan. Pure.
 * @returns what may still become a code; or a code that has just ended, with its longest gap
 */
export function slowly(
  before: Slow | null,
  key: Stroke,
  rules: Rules = WEDGE,
): { readonly slow: Slow | null; readonly code: Slow | null } {
  if (key.key === 'Shift' || key.key === 'CapsLock') return { slow: before, code: null }
  const gapMs = before === null ? 0 : key.atMs - before.lastMs
  const running = before !== null && gapMs <= SLOWEST_GAP_MS ? before : null
  if (key.isRepeat || key.isCombined) return { slow: null, code: null }
  if (rules.suffixes.includes(key.key)) {
    const ends = running && { ...running, slowestMs: Math.max(running.slowestMs, gapMs) }
    const isCode =
      ends !== null && ends.text.length >= SLOW_LENGTH && isSealed(scanOf(ends.text).text)
    return { slow: null, code: isCode ? ends : null }
  }
  if ([...key.key].length !== 1) return { slow: null, code: null }
  const text = (running?.text ?? '') + key.key
  const slowestMs = running ? Math.max(running.slowestMs, gapMs) : 0
  return { slow: { text, lastMs: key.atMs, slowestMs }, code: null }
}

const gapOf = (burst: Burst, rules: Rules) => (burst.isPrefixed ? PREFIXED_GAP_MS : rules.maxGapMs)
const leastOf = (burst: Burst, rules: Rules) =>
  burst.isPrefixed ? 1 : burst.slowestMs > WEDGE.maxGapMs ? SLOW_LENGTH : rules.minLength
const isLong = (burst: Burst, rules: Rules) => burst.text.length >= leastOf(burst, rules)
const begun = (text: string, { atMs }: Stroke, isPrefixed: boolean): Burst => ({
  text,
  held: '',
  lastMs: atMs,
  slowestMs: 0,
  isPrefixed,
})

type Scan = {
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
