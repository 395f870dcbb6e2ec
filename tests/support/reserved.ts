import { durationMs, type Note, type Pattern } from '../../kiosk/bells/sound/patterns.ts'

/** Why a pattern may not be used: people would take it for a signal that saves lives. */
export type Reserved = {
  readonly code: 'evacuate' | 'carbonMonoxide' | 'continuous' | 'siren'
  readonly message: string
}

type Pulse = { readonly onMs: number; readonly gapMs: number }

/** Gaps shorter than this are heard as one tone. */
const HEARD_GAP_MS = 30
const LONGEST_TONE_MS = 2_000
const LONGEST_GLIDE_MS = 1_000
/** Enough repeats to see every run of four pulses that crosses from one play into the next. */
const PLAYS = 5

const REASONS: Record<Reserved['code'], string> = {
  evacuate: 'three equal pulses of 0.4 to 0.6 s with gaps of 0.4 to 0.6 s mean "evacuate"',
  carbonMonoxide: 'four pulses of about 0.1 s with gaps of about 0.1 s mean "carbon monoxide"',
  continuous: 'a tone of more than 2 s is a fire or gas signal',
  siren: 'a sweep of a second or more, or up and down, is a siren',
}

/**
 * Refuses patterns that mean something else to people in a building: the evacuation signal of
 * ISO 8201 (three pulses), the four pulses of carbon monoxide alarms, a long tone, a siren.
 * @param repeatEveryMs from start to start where the pattern is repeated, since a single pulse
 *   repeated each second is the evacuation signal too
 * @returns the first reason found, or null
 */
export function reserved(pattern: Pattern, repeatEveryMs?: number): Reserved | null {
  const pulses = merged(repeated(pattern, repeatEveryMs))
  const code = firstReason(pattern.notes, pulses)
  return code === null ? null : { code, message: `This pattern is reserved: ${REASONS[code]}.` }
}

function firstReason(notes: readonly Note[], pulses: readonly Pulse[]): Reserved['code'] | null {
  if (pulses.some((p) => p.onMs > LONGEST_TONE_MS)) return 'continuous'
  if (isSiren(notes)) return 'siren'
  if (hasRun(pulses, 3, 400, 600)) return 'evacuate'
  if (hasRun(pulses, 4, 75, 125)) return 'carbonMonoxide'
  return null
}

/** Whether `count` successive pulses and the gaps between them all last from least to most, the pulses being equal. */
function hasRun(pulses: readonly Pulse[], count: number, least: number, most: number): boolean {
  const isIn = (ms: number) => ms >= least && ms <= most
  return pulses.some((_, start) => {
    const run = pulses.slice(start, start + count)
    const lengths = run.map((p) => p.onMs)
    return (
      run.length === count &&
      lengths.every(isIn) &&
      run.slice(0, -1).every((p) => isIn(p.gapMs)) &&
      Math.max(...lengths) <= Math.min(...lengths) * 1.2
    )
  })
}

function isSiren(notes: readonly Note[]): boolean {
  const glides = notes.filter((n) => n.toHz !== undefined && n.toHz !== n.hz[0])
  const isRising = glides.map((n) => (n.toHz ?? 0) > (n.hz[0] ?? 0))
  return (
    glides.some((n) => n.onMs >= LONGEST_GLIDE_MS) ||
    (isRising.includes(true) && isRising.includes(false))
  )
}

function repeated(pattern: Pattern, everyMs: number | undefined): readonly Pulse[] {
  const once = pattern.notes.map((n) => ({ onMs: n.onMs, gapMs: n.offMs }))
  if (everyMs === undefined) return once
  const restMs = Math.max(0, everyMs - durationMs(pattern))
  const withRest = once.map((p, n) => (n === once.length - 1 ? { ...p, gapMs: restMs } : p))
  return Array.from({ length: PLAYS }, () => withRest).flat()
}

/** Joins notes that follow one another without a gap that can be heard. */
function merged(pulses: readonly Pulse[]): readonly Pulse[] {
  const joined: Pulse[] = []
  for (const pulse of pulses) {
    const last = joined.at(-1)
    if (last === undefined || last.gapMs >= HEARD_GAP_MS) joined.push(pulse)
    else
      joined[joined.length - 1] = {
        onMs: last.onMs + last.gapMs + pulse.onMs,
        gapMs: pulse.gapMs,
      }
  }
  return joined
}
