import { createContext } from 'preact'
import { useContext } from 'preact/hooks'
import type { Outbox } from './outbox.ts'

const Context = createContext<Outbox | null>(null)

export const OutboxProvider = Context.Provider

/** The outbox of this kiosk; null on a page that has none. */
export const useOutbox = (): Outbox | null => useContext(Context)
