import { effect, type ReadonlySignal, signal } from '@preact/signals'

/** Whether the display is kept awake: `refused` where the browser or the device will not. */
export type Awake = 'asleep' | 'awake' | 'refused'

/**
 * Keeps the display awake while any timer runs (AL-09). A browser takes the lock away whenever the
 * page is hidden, so it is asked for again when the page is shown.
 * @param wanted whether a timer runs
 */
export function keepAwake(page: Window, wanted: ReadonlySignal<boolean>): ReadonlySignal<Awake> {
  const is = signal<Awake>('asleep')
  const { wakeLock } = page.navigator as Partial<Navigator>
  let held: WakeLockSentinel | null = null
  let isAsking = false

  async function follow(): Promise<void> {
    const isWanted = wanted.peek() && page.document.visibilityState === 'visible'
    if (isAsking || isWanted === (held !== null)) return
    isAsking = true
    try {
      if (isWanted) await take()
      else await held?.release()
    } catch {
      // A flat battery or a browser that saves power; asked again when the page is shown.
      is.value = 'refused'
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
      void follow()
    })
  }

  page.document.addEventListener('visibilitychange', () => void follow())
  effect(() => {
    void wanted.value
    void follow()
  })
  return is
}
