import type { KioskHeard } from '../machines/contract/watching.ts'
import type { KiosksHeard } from '../machines/contract.ts'

/** Which kiosks are open and can be heard: known from what they say of themselves, and kept nowhere. */
export type Kiosks = {
  readonly heard: (said: Omit<KioskHeard, 'sinceMs'>, nowMs: number) => void
  readonly open: (nowMs: number) => KiosksHeard
  /** Those that sound first, each by when it began. */
  readonly list: (nowMs: number) => readonly KioskHeard[]
}

/** A kiosk says so every fifteen seconds; one that missed three is not counted on. */
const SILENT_MS = 50_000
/** More devices than any shop has: a program that makes names up holds no more than this. */
const DEVICES_MOST = 500

/** @returns what is known, which is nothing at first */
export function knownKiosks(): Kiosks {
  const byDevice = new Map<string, KioskHeard & { readonly atMs: number }>()

  function forgetSilent(nowMs: number): void {
    // Of later than now: the shop's time was put back since.
    for (const [device, { atMs }] of byDevice)
      if (Math.abs(nowMs - atMs) > SILENT_MS) byDevice.delete(device)
  }

  return {
    heard(said, atMs) {
      const { device, sounds } = said
      const before = byDevice.get(device)
      const isSame = before?.sounds === sounds && Math.abs(atMs - before.atMs) <= SILENT_MS
      byDevice.delete(device)
      byDevice.set(device, { ...said, sinceMs: isSame ? before.sinceMs : atMs, atMs })
      const [oldest] = byDevice.keys()
      if (byDevice.size > DEVICES_MOST && oldest !== undefined) byDevice.delete(oldest)
    },
    open(nowMs) {
      forgetSilent(nowMs)
      // Asked for every line that is open: counted without a copy.
      let sounding = 0
      for (const { sounds } of byDevice.values()) if (sounds) sounding += 1
      return { open: byDevice.size, sounding }
    },
    list(nowMs) {
      forgetSilent(nowMs)
      const all = [...byDevice.values()].map(({ atMs: _, ...one }) => one)
      return all.sort((a, b) => Number(b.sounds) - Number(a.sounds) || a.sinceMs - b.sinceMs)
    },
  }
}
