import { effect, type ReadonlySignal, signal } from '@preact/signals'
import { SLEPT_EVERY_MS } from '../../machines/devices/context.ts'

/** Whether the display is kept awake: `refused` where the browser or the device will not. */
export type Awake = 'asleep' | 'awake' | 'refused'

/** Why the display of a kiosk may go dark while a timer runs, and since when, kiosk time, UTC ms. */
type Slept = { readonly why: 'lost' | 'refused'; readonly atMs: number }

type Telling = {
  readonly now: () => number
  readonly slept: (slept: Slept) => void
}

/**
 * Keeps the display awake while any timer runs. A browser takes the lock away whenever the
 * page is hidden, so it is asked for again when the page is shown.
 * @param wanted whether a timer runs
 * @param telling is called at most once in ten minutes. A lock lost while the page was hidden is
 *   reported when the page is shown again; a closed page reports nothing.
 */
export function keepAwake(
  page: Window,
  wanted: ReadonlySignal<boolean>,
  telling: Telling,
): ReadonlySignal<Awake> {
  const is = signal<Awake>('asleep')
  const { wakeLock } = page.navigator as Partial<Navigator>
  let held: WakeLockSentinel | null = null
  let isAsking = false
  let untold: Slept | null = null
  let toldAtMs = Number.NEGATIVE_INFINITY
  const isShown = () => page.document.visibilityState === 'visible'

  function note(why: Slept['why']): void {
    if (wanted.peek()) untold ??= { why, atMs: telling.now() }
    if (isShown()) tell()
  }

  function tell(): void {
    if (untold !== null && untold.atMs - toldAtMs >= SLEPT_EVERY_MS) {
      toldAtMs = untold.atMs
      telling.slept(untold)
    }
    untold = null
  }

  async function follow(): Promise<void> {
    const isWanted = wanted.peek() && isShown()
    if (isAsking || isWanted === (held !== null)) return
    isAsking = true
    try {
      if (isWanted) await take()
      else await held?.release()
    } catch {
      // A flat battery or a browser that saves power; asked again when the page is shown.
      is.value = 'refused'
      note('refused')
      return
    } finally {
      isAsking = false
    }
    await follow()
  }

  async function take(): Promise<void> {
    const lock = await wakeLock?.request('screen')
    if (lock === undefined) throw new Error('This browser keeps no display awake.')
    held = lock
    is.value = 'awake'
    lock.addEventListener('release', () => {
      held = null
      is.value = 'asleep'
      note('lost')
      void follow()
    })
  }

  page.document.addEventListener('visibilitychange', () => {
    if (isShown()) tell()
    void follow()
  })
  effect(() => {
    void wanted.value
    void follow()
  })
  return is
}
