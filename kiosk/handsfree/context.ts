import { createContext } from 'preact'
import { useContext } from 'preact/hooks'
import type { Handsfree } from './handsfree.ts'
import type { PedalSettings } from './pedal.ts'

type Hands = { readonly hands: Handsfree; readonly pedal: PedalSettings }

const Context = createContext<Hands | null>(null)

export const HandsProvider = Context.Provider

/** Scanner, camera and pedal of this kiosk. */
export function useHands(): Hands {
  const hands = useContext(Context)
  if (hands === null) throw new Error('This screen stands outside its kiosk.')
  return hands
}
