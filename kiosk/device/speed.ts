import type { Sample } from './clock.ts'
import { practiceOn } from './practiceShop.ts'

/**
 * A practice shop's time runs faster than ours. Its server says so in the page; both clocks that a
 * kiosk reads are then run as much faster from the moment of loading, so that neither seems to jump.
 */
export function sampleFrom(page: Document, read: () => Sample): () => Sample {
  const practice = practiceOn(page)
  if (!practice) return read
  const { speed } = practice
  const begun = read()
  const fast = (now: number, then: number) => then + (now - then) * speed
  return () => {
    const now = read()
    return {
      monotonicMs: fast(now.monotonicMs, begun.monotonicMs),
      deviceMs: fast(now.deviceMs, begun.deviceMs),
    }
  }
}
