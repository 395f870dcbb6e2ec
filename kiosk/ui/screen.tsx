import { useSignal } from '@preact/signals'
import type { ComponentChildren, ComponentType } from 'preact'
import { useEffect, useErrorBoundary } from 'preact/hooks'
import { useShop } from '../commands/shop.ts'
import type { Kiosk } from '../device/runtime.ts'
import type { Settings } from '../device/settings.ts'
import { allHere, fetchAllWords } from '../words/words.ts'
import { Press } from './buttons.tsx'
import { hashOf } from './route.ts'
import { screenStyle } from './screenStyle.ts'

/** What every screen is given by the frame around it. */
export type ViewProps = {
  readonly kiosk: Kiosk
  readonly settings: Settings
  /** What the route says after the screen's name. */
  readonly rest: readonly string[]
}

/** A screen's component. */
export type View = ComponentType<ViewProps>

/**
 * A part of the interface whose code is fetched when it is first shown, with the words that no first Wall has:
 * the Wall is what must be there at once. The service worker holds it like every other file, so that it
 * opens without the server too.
 */
export function later<P extends object>(load: () => Promise<ComponentType<P>>): ComponentType<P> {
  let loaded: ComponentType<P> | null = null
  return function Later(props: P) {
    const { words } = useShop()
    const isHere = useSignal(loaded !== null)
    useEffect(() => {
      void fetchAllWords(words.value.locale)
      if (loaded !== null) return
      // A file that could not be loaded is asked for again when the screen is opened again.
      Promise.all([load(), screenStyle()]).then(
        ([view]) => {
          loaded = view
          isHere.value = true
        },
        () => {},
      )
    }, [])
    const Loaded = isHere.value && allHere(words.value) ? loaded : null
    return Loaded ? <Loaded {...props} /> : <p class="minor">…</p>
  }
}

/**
 * A fault in one screen takes nothing else with it: the frame, the clocks and the bells go on, and
 * the painter sees what to do. Give it a key, so that another screen starts fresh.
 */
export function Guarded({ children }: { children: ComponentChildren }) {
  const { words } = useShop()
  const [fault, again] = useErrorBoundary()
  useEffect(() => {
    if (fault !== undefined) console.error(fault)
  }, [fault])
  if (fault === undefined) return <>{children}</>
  const { board } = words.value
  return (
    <section class="stack fault" role="alert">
      <p class="sentence">{board.fault}</p>
      <p class="minor">{String(fault)}</p>
      <div class="choices">
        <Press act="again" isMain onPress={() => again()}>
          {board.faultAgain}
        </Press>
        <a class="button" href={hashOf('wall')} onClick={() => again()}>
          {board.faultWall}
        </a>
      </div>
    </section>
  )
}
