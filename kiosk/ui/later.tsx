import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { View, ViewProps } from './view.ts'

/**
 * A screen whose code is fetched when it is first opened: the Wall is what must be there at once.
 * The service worker holds it like every other file, so that it opens without the server too.
 */
export function later(load: () => Promise<View>): View {
  let loaded: View | null = null
  return function Later(props: ViewProps) {
    const isHere = useSignal(loaded !== null)
    useEffect(() => {
      if (loaded !== null) return
      // A file that could not be loaded is asked for again when the screen is opened again.
      load().then(
        (view) => {
          loaded = view
          isHere.value = true
        },
        () => {},
      )
    }, [])
    const Loaded = isHere.value ? loaded : null
    return Loaded ? <Loaded {...props} /> : <p class="minor">…</p>
  }
}
