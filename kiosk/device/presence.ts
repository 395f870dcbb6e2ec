import { effect, type ReadonlySignal } from '@preact/signals'
import type { Fetch, LinkState } from '../commands/link.ts'

/** Says to the server that this kiosk is open, and whether its bells can be heard. */

/** A kiosk that missed three of these is not counted on. */
const AGAIN_MS = 15_000

type PresenceSources = {
  readonly fetch: Fetch
  readonly device: Promise<string>
  readonly isHeard: ReadonlySignal<boolean>
  /** The zone that it stands in; null where none was chosen. */
  readonly zone: () => string | null
  readonly link: ReadonlySignal<LinkState>
  /** Runs again and again. */
  readonly every: (ms: number, run: () => void) => void
}

/** At once when something changes, and then again and again while the server answers. */
export function sayPresence({ fetch, device, isHeard, zone, link, every }: PresenceSources): void {
  let next: boolean | null = null
  let isSaying = false
  // One after another: of two that overtook each other the server would keep the older for 15 s.
  const say = async (sounds: boolean) => {
    next = sounds
    if (isSaying) return
    isSaying = true
    while (next !== null) {
      const body = JSON.stringify({ device: await device, sounds: next, zone: zone() })
      next = null
      const headers = { 'content-type': 'application/json' }
      const signal = AbortSignal.timeout(AGAIN_MS)
      // The next one tells it; a server that does not answer shows by its tail.
      await fetch('/api/kiosks', { method: 'POST', headers, body, signal }).catch(() => null)
    }
    isSaying = false
  }
  effect(() => {
    const sounds = isHeard.value
    if (link.value === 'live') void say(sounds)
  })
  every(AGAIN_MS, () => {
    if (link.peek() === 'live') void say(isHeard.peek())
  })
}
