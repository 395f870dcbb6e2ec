import type { KiosksHeard } from '../machines/contract.ts'

/** Which kiosks are open and can be heard: known from what they say of themselves, and kept nowhere. */
export type Kiosks = {
  readonly heard: (device: string, sounds: boolean, nowMs: number) => void
  readonly open: (nowMs: number) => KiosksHeard
}

/** A kiosk says so every fifteen seconds; one that missed three is not counted on. */
const SILENT_MS = 50_000
/** More devices than any shop has: a program that makes names up holds no more than this. */
const DEVICES_MOST = 500

/** @returns what is known, which is nothing at first */
export function knownKiosks(): Kiosks {
  const byDevice = new Map<string, { readonly sounds: boolean; readonly atMs: number }>()
  return {
    heard(device, sounds, atMs) {
      byDevice.delete(device)
      byDevice.set(device, { sounds, atMs })
      const [oldest] = byDevice.keys()
      if (byDevice.size > DEVICES_MOST && oldest !== undefined) byDevice.delete(oldest)
    },
    open(nowMs) {
      // Of later than now: the shop's time was put back since.
      for (const [device, { atMs }] of byDevice)
        if (Math.abs(nowMs - atMs) > SILENT_MS) byDevice.delete(device)
      const all = [...byDevice.values()]
      return { open: all.length, sounding: all.filter(({ sounds }) => sounds).length }
    },
  }
}
