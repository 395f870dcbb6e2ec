import type { ReadonlySignal } from '@preact/signals'
import { createContext } from 'preact'
import { useContext } from 'preact/hooks'
import type { ServerStanding } from '../../machines/contract.ts'
import type { Link } from './link.ts'
import type { LogMemory } from './logMemory.ts'

/** How the server's clock and log stand, and what to do about it. */
export type ServerView = {
  readonly said: ReadonlySignal<ServerStanding | null>
  readonly memory: Pick<LogMemory, 'gone' | 'dismiss'>
  readonly tail: Pick<Link, 'reset' | 'dismissReset'>
  /** Somebody has read that the log lacks entries. */
  readonly dismissLoss: (knownHash: string) => Promise<void>
}

const Context = createContext<ServerView | null>(null)

export const ServerProvider = Context.Provider

/** Null on a page without a server of its own, such as a test's. */
export const useServer = (): ServerView | null => useContext(Context)
