import type { ReadonlySignal } from '@preact/signals'
import { createContext } from 'preact'
import { useContext } from 'preact/hooks'
import type { Handsfree } from './handsfree.ts'
import type { PedalSettings } from './pedal.ts'
import type { Awake } from './wakeLock.ts'

type Hands = {
  readonly hands: Handsfree
  readonly pedal: PedalSettings
  readonly awake: ReadonlySignal<Awake>
}

const Context = createContext<Hands | null>(null)

export const HandsProvider = Context.Provider

/** Scanner, camera, pedal and display of this kiosk. */
export function useHands(): Hands {
  const hands = useContext(Context)
  if (hands === null) throw new Error('This screen stands outside its kiosk.')
  return hands
}
