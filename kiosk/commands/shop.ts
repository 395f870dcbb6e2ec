import type { ReadonlySignal } from '@preact/signals'
import { createContext } from 'preact'
import { useContext } from 'preact/hooks'
import type { State } from '../../machines/state.ts'
import type { Format } from '../units/format.ts'
import type { Words } from '../words/en.ts'
import type { LinkState } from './link.ts'
import type { Send } from './send.ts'

/** What every screen needs of the shop. */
export type ShopView = {
  readonly state: ReadonlySignal<State | null>
  readonly link: ReadonlySignal<LinkState>
  readonly words: ReadonlySignal<Words>
  readonly format: ReadonlySignal<Format>
  readonly send: Send
}

const Context = createContext<ShopView | null>(null)

export const ShopProvider = Context.Provider

export function useShop(): ShopView {
  const shop = useContext(Context)
  if (shop === null) throw new Error('This screen stands outside its shop.')
  return shop
}
