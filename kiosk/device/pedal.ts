import { type ReadonlySignal, signal } from '@preact/signals'
import * as v from 'valibot'
import { id8 } from '../../machines/accept.ts'

/** A foot pedal types one key. Which one, and for which panel, belongs to this device. */

type Pedal = {
  /** As the browser names it, such as F13; null while none is set. */
  readonly key: string | null
  /** The panel that it works for; null for the one scanned last. */
  readonly panel: string | null
}

export type PedalSettings = {
  readonly is: ReadonlySignal<Pedal>
  readonly set: (pedal: Pedal) => void
}

const NAME = 'flashbell.pedal'
const NONE: Pedal = { key: null, panel: null }
/** Keys by which a page is used without a pointer, or that go with others. */
const IN_USE: readonly string[] = [
  'Enter',
  'Tab',
  'Escape',
  'Backspace',
  'Delete',
  'Shift',
  'Control',
  'Alt',
  'AltGraph',
  'Meta',
  'CapsLock',
  'Dead',
  'Unidentified',
  'Process',
]

/** Whether a key can be a pedal's: it writes nothing and moves nothing. */
export const isPedalKey = (key: string): boolean =>
  /^[A-Za-z][A-Za-z0-9]+$/.test(key) && !IN_USE.includes(key) && !key.startsWith('Arrow')

const kept = v.object({
  key: v.nullable(v.pipe(v.string(), v.check(isPedalKey))),
  panel: v.nullable(id8),
})

function read(text: string | null): Pedal {
  try {
    return v.parse(kept, JSON.parse(text ?? ''))
  } catch {
    return NONE
  }
}

/** @param store where this device keeps it */
export function pedalSettings(store: Storage): PedalSettings {
  const is = signal(read(store.getItem(NAME)))
  return {
    is,
    set: (pedal) => {
      is.value = pedal
      store.setItem(NAME, JSON.stringify(pedal))
    },
  }
}

/**
 * Listens for the pedal on a whole page.
 * @returns stops listening
 */
export function listenForPedal(
  page: Window,
  pedal: ReadonlySignal<Pedal>,
  onPress: (panel: string | null) => void,
): () => void {
  const onKeyDown = (event: KeyboardEvent) => {
    const { key, panel } = pedal.value
    if (key === null || event.key !== key) return
    event.preventDefault()
    // A foot that stays down is one press.
    if (!event.repeat) onPress(panel)
  }
  page.addEventListener('keydown', onKeyDown)
  return () => page.removeEventListener('keydown', onKeyDown)
}
