import { type ReadonlySignal, useComputed } from '@preact/signals'
import { createContext } from 'preact'
import { useContext } from 'preact/hooks'
import type { ServerStanding } from '../../machines/contract.ts'
import type { State } from '../../machines/state.ts'
import type { Format } from '../units/format.ts'
import type { Words } from '../words/en.ts'
import type { Link, LinkState } from './link.ts'
import type { LogMemory } from './logMemory.ts'
import type { StorageTrouble } from './outboxDb.ts'
import type { Picture } from './picture.ts'
import type { QueuedCommand } from './queuedCommand.ts'
import type { Send } from './send.ts'

/** What every screen needs of the shop. */
export type ShopView = {
  readonly state: ReadonlySignal<State | null>
  readonly link: ReadonlySignal<LinkState>
  readonly words: ReadonlySignal<Words>
  readonly format: ReadonlySignal<Format>
  readonly send: Send
}

const ShopContext = createContext<ShopView | null>(null)

export const ShopProvider = ShopContext.Provider

export function useShop(): ShopView {
  const shop = useContext(ShopContext)
  if (shop === null) throw new Error('This screen stands outside its shop.')
  return shop
}

/** The words of the shop's language. */
export const useWords = (): Words => useShop().words.value

/** How the server's clock and log stand, and what to do about it. */
export type ServerView = {
  readonly said: ReadonlySignal<ServerStanding | null>
  readonly memory: Pick<LogMemory, 'gone' | 'dismiss'>
  readonly tail: Pick<Link, 'reset' | 'dismissReset'>
  /** Somebody has read that the log lacks entries. */
  readonly dismissLoss: (knownHash: string) => Promise<void>
}

const ServerContext = createContext<ServerView | null>(null)

export const ServerProvider = ServerContext.Provider

/** Null on a page without a server of its own, such as a test's. */
export const useServer = (): ServerView | null => useContext(ServerContext)

/** Ids of cups whose label was wanted and is not on paper, with a space between; drawn again only when they change. */
export function useUnprinted(): string {
  const server = useServer()
  return useComputed(() => server?.said.value?.printing?.cups.join(' ') ?? '').value
}

/**
 * The way of every command: stored on this device, sent, and removed when the server has answered.
 * While nobody answers they wait here, in order, and the shop is shown as if they had been taken.
 */
export type Outbox = {
  /** The id of this device; empty until its storage is open. */
  readonly device: ReadonlySignal<string>
  readonly send: Send
  /** Bytes for the next command that names them: kept with it, sent before it. */
  readonly attach: (name: string, picture: Picture) => void
  /** The bytes of a picture that something kept here names; null for one that is with the server. */
  readonly picture: (name: string) => Promise<Picture | null>
  /** The shop with what waits here. */
  readonly state: ReadonlySignal<State | null>
  /** What waits to be sent, and what was not taken when it was, oldest first. */
  readonly queue: ReadonlySignal<readonly QueuedCommand[]>
  /** Sends what waits. True when nothing waits any more. */
  readonly flush: () => Promise<boolean>
  /** Sends a command again that was not taken. */
  readonly tryAgain: (queued: QueuedCommand) => Promise<void>
  /** Lets go of a command for good. */
  readonly discard: (queued: QueuedCommand) => Promise<void>
  /** Those that the server does not know, as it would get them: to be sent by hand, or looked at. */
  readonly notKnown: ReadonlySignal<readonly object[]>
  /** Why this device keeps no press: its storage refuses to write, or ends with the page. Else null. */
  readonly storage: ReadonlySignal<StorageTrouble | null>
}

const OutboxContext = createContext<Outbox | null>(null)

export const OutboxProvider = OutboxContext.Provider

/** The outbox of this kiosk; null on a page that has none. */
export const useOutbox = (): Outbox | null => useContext(OutboxContext)
