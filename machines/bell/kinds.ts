/**
 * The kinds of bells: what each sounds like, how urgent it is, how often it is repeated, whom it
 * reaches and how long it may be snoozed. Data, and the few functions that read it.
 */

/** What a bell sounds like: names of patterns. */
export type SoundName = 'A' | 'B1' | 'B2' | 'C1' | 'C2' | 'D'
/** A prompt was expected and needs an action; an alarm (medium, high) is abnormal. */
export type BellClass = 'prompt' | 'medium' | 'high'
/** Which side of its deadline is the careful one: a wait must not end early, a limit not late. */
export type DeadlineSide = 'notBefore' | 'notAfter'

type BellRow = {
  readonly sound: SoundName
  readonly class: BellClass
  readonly side: DeadlineSide
  /** Stays until a disposition is recorded: no badge is needed to say that it was missed. */
  readonly latches: boolean
}

/** Every kind of bell. Only potOver may use the high-urgency sound. */
export const BELLS = {
  coatReady: { sound: 'A', class: 'prompt', side: 'notBefore', latches: false },
  look: { sound: 'A', class: 'prompt', side: 'notBefore', latches: false },
  mayGoToHeat: { sound: 'A', class: 'prompt', side: 'notBefore', latches: false },
  coatOpen: { sound: 'A', class: 'prompt', side: 'notBefore', latches: false },
  inductionOver: { sound: 'A', class: 'prompt', side: 'notBefore', latches: false },
  cureOver: { sound: 'D', class: 'prompt', side: 'notBefore', latches: false },
  potNear: { sound: 'B1', class: 'medium', side: 'notAfter', latches: false },
  potOver: { sound: 'B2', class: 'high', side: 'notAfter', latches: true },
  windowClosing: { sound: 'C1', class: 'medium', side: 'notAfter', latches: false },
  windowShut: { sound: 'C2', class: 'medium', side: 'notAfter', latches: true },
  gunNear: { sound: 'B1', class: 'medium', side: 'notAfter', latches: false },
  gunDue: { sound: 'B1', class: 'medium', side: 'notAfter', latches: false },
  keepUntil: { sound: 'B1', class: 'medium', side: 'notAfter', latches: false },
} as const satisfies Record<string, BellRow>

export type BellKind = keyof typeof BELLS

/** What comes later for the same thing and makes a bell meaningless: nothing ends soon that has ended. */
export const ENDS_IN: Partial<Record<BellKind, BellKind>> = {
  potNear: 'potOver',
  gunNear: 'gunDue',
  windowClosing: 'windowShut',
  coatReady: 'windowShut',
  look: 'windowShut',
}

type Repeats = { readonly atMs: readonly number[]; readonly thenEveryMs: number | null }

/** When a sound is played while nobody acknowledges: ms after the bell was raised, then a beat or nothing. */
export const REPEATS: Record<SoundName, Repeats> = {
  A: { atMs: [0, 20_000, 40_000, 60_000, 120_000, 300_000], thenEveryMs: null },
  D: { atMs: [0, 30_000, 60_000, 300_000], thenEveryMs: null },
  B1: { atMs: beats(12_000, 5), thenEveryMs: 60_000 },
  C1: { atMs: beats(10_000, 5), thenEveryMs: 60_000 },
  B2: { atMs: beats(5_000, 12), thenEveryMs: 10_000 },
  C2: { atMs: beats(30_000, 4), thenEveryMs: null },
}

/** Who is called: kiosks at the work position, all in the zone, the lead's view as well, the shop's list. */
export type Reach = 'position' | 'zone' | 'lead' | 'shop'
/** A bell that nobody acknowledges reaches further after these times, unless a shop sets others. */
export const ESCALATE_MS = [60_000, 180_000] as const
/** At each of these times the bell gets louder by this, dB. A shop may set less, never more. */
export const RISE_DB = 5
type Reaches = readonly [Reach, Reach, Reach]
const NEVER_FURTHER: Reaches = ['position', 'position', 'position']

/** Whom a bell of this kind reaches at once and after each time of ESCALATE_MS; a prompt reaches no further. */
export function reachesOf(kind: BellKind): Reaches {
  if (BELLS[kind].class === 'prompt') return NEVER_FURTHER
  return BELLS[kind].latches ? ['zone', 'lead', 'shop'] : ['position', 'zone', 'lead']
}

/** A deadline that moves later by more than this has not come after all, and rings again when it does. */
export const REARM_MS = 60_000
export const SILENCE_MS = 60_000
/** A bell raised this often within a minute is a nuisance (ISA-18.2: chattering) and stays quiet for a minute. */
export const CHATTER_TIMES = 3
export const CHATTER_WITHIN_MS = 60_000
export const HOLD_MS = 60_000
export const MAX_SNOOZES = 2
/** The longest snooze of each class; what must not be snoozed has none. */
export const MAX_SNOOZE_MS: Record<BellClass, number> = {
  prompt: 600_000,
  medium: 300_000,
  high: 0,
}

/** Whether a bell that was snoozed `snoozes` times may be snoozed once more for the given time. */
export const maySnooze = (kind: BellKind, snoozes: number, forMs: number): boolean =>
  snoozes < MAX_SNOOZES && forMs > 0 && forMs <= MAX_SNOOZE_MS[BELLS[kind].class]

/**
 * How long until a sound is played again, null when it stays silent from here on. A beat that would
 * come half its own interval after `elapsedMs`, or sooner, is left out: a sound that had to wait for
 * its turn is not followed at once by the next.
 */
export function nextPlayInMs(sound: SoundName, elapsedMs: number): number | null {
  const { atMs, thenEveryMs } = REPEATS[sound]
  const next = atMs.find((at, i) => at - elapsedMs > (at - (atMs[i - 1] ?? 0)) / 2)
  if (next !== undefined) return next - elapsedMs
  if (thenEveryMs === null) return null
  const sinceLastMs = elapsedMs - (atMs.at(-1) ?? 0)
  return (Math.floor(sinceLastMs / thenEveryMs + 0.5) + 1) * thenEveryMs - sinceLastMs
}

function beats(everyMs: number, times: number): readonly number[] {
  return Array.from({ length: times + 1 }, (_, n) => n * everyMs)
}
