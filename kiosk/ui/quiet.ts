import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'

/** Nothing moves under a finger: what would push the page up or down waits until nobody touches it. */

/** So long after the last touch the next one is not on its way to where something stood. */
export const QUIET_MS = 1_500

let touchedAtMs = Number.NEGATIVE_INFINITY

/** Notes when the page was last touched. @returns stops listening */
export function noteTouches(page: Window): () => void {
  const note = () => {
    touchedAtMs = performance.now()
  }
  const events = ['pointerdown', 'pointerup'] as const
  for (const event of events) page.addEventListener(event, note, { capture: true })
  return () => {
    for (const event of events) page.removeEventListener(event, note, { capture: true })
  }
}

/** What is wanted, as it was when the page was last quiet. */
export function useWhenQuiet(wanted: boolean): boolean {
  const shown = useSignal(wanted)
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined
    const change = () => {
      const leftMs = touchedAtMs + QUIET_MS - performance.now()
      if (leftMs > 0) timer = setTimeout(change, leftMs)
      else shown.value = wanted
    }
    change()
    return () => clearTimeout(timer)
  }, [wanted])
  return shown.value
}
