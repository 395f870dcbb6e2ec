import { signal } from '@preact/signals'
import type { Bell } from '../../kiosk/bells/cards.ts'
import type { RingerSaid } from '../../kiosk/bells/reporter.ts'
import { Ringer } from '../../kiosk/bells/ringer.ts'
import { durationMs, PATTERNS, type Playing } from '../../kiosk/bells/sound/patterns.ts'
import { tickClock } from '../../kiosk/bells/ticker.ts'
import { kioskClock } from '../../kiosk/device/clock.ts'
import type { BellKind, Reach, SoundName } from '../../machines/bell/kinds.ts'
import type { Known } from '../../machines/bell/machine.ts'
import { type BellRules, USUAL_RULES } from '../../machines/bell/rules.ts'

export const S = 1_000
export const MIN = 60_000
export const start = Date.UTC(2026, 0, 5, 8)
export const TICK = 200

export type Play = { sound: SoundName; fromMs: number; toMs: number; riseDb: number }

const RANG: Known = { isAcknowledged: false, snoozes: 0, snoozedUntilMs: 0 }

/** A kiosk in a shop: its ringer on a clock that the test moves, tick by tick. */
export function bellKiosk({
  soundsHere = (_: Reach): boolean => true,
  isLoud = true,
  isFloodKnown = false,
  /** Whether the log accepts a ring: it refuses one that is already over when it arrives. */
  takesRing = (): boolean => false,
  rules = {} as Partial<BellRules>,
} = {}) {
  let monotonicMs = 0
  const clock = kioskClock(() => ({ monotonicMs, deviceMs: start + monotonicMs }))
  clock.heard(start)
  const plays: Play[] = []
  const said: RingerSaid[] = []
  const known = new Map<string, Known>()
  const facts = { emptied: new Set<string>(), baking: new Set<string>() }
  const soundReady = signal(isLoud)
  const play = (sound: SoundName, riseDb = 0): Playing | null => {
    const row = {
      sound,
      fromMs: monotonicMs,
      toMs: monotonicMs + durationMs(PATTERNS[sound]),
      riseDb,
    }
    plays.push(row)
    const stop = () => {
      row.toMs = Math.min(row.toMs, monotonicMs)
    }
    return { startS: row.fromMs / S, endS: row.toMs / S, stop }
  }
  const ringer = new Ringer({
    clock,
    delays: tickClock(() => monotonicMs),
    speaker: { play, soundReady },
    monotonicMs: () => monotonicMs,
    soundsHere,
    tell: (s) => {
      said.push(s)
      if (s.type === 'rang' && takesRing()) known.set(s.bell.key, RANG)
    },
  })
  let bells: readonly Bell[] = []
  const look = () =>
    ringer.look({
      bells,
      facts,
      known: (key) => known.get(key),
      rules: { ...USUAL_RULES, ...rules },
      isFloodKnown,
    })
  /** Time passes; what is to be done at every tick is done. */
  const pass = (ms: number, tick: () => void) => {
    for (let left = ms; left > 0; left -= TICK) {
      monotonicMs += Math.min(TICK, left)
      tick()
    }
  }
  return {
    ringer,
    plays,
    said,
    known,
    facts,
    soundReady,
    atS: () => plays.map((p) => p.fromMs / S),
    cards: () => ringer.bells.value.cards.map((c) => [c.key, c.state, c.bells.length]),
    rang: () => said.flatMap((s) => (s.type === 'rang' ? [s.bell.key] : [])),
    set: (...now: Bell[]) => {
      bells = now
      look()
    },
    wait: (ms: number) => pass(ms, look),
    pass,
  }
}

export const bell = (kind: BellKind, thing: string, dueS: number, job = 'J1'): Bell => ({
  key: `${kind}-${thing}`,
  kind,
  dueAt: start + dueS * S,
  thing,
  job,
})
