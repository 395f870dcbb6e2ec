import { computed, effect, type ReadonlySignal, signal } from '@preact/signals'
import {
  lossIn,
  type PackedStateAnswer,
  type ServerStanding,
  STATE_PATH,
  type StateAnswer,
  TAIL_EVENTS,
  TAIL_KINDS,
  type TailMessage,
  type TailReset,
  tailMessage,
  unpacked,
} from '../../machines/contract.ts'
import type { Entry } from '../../machines/envelope.ts'
import { FOLD_VERSION, type State } from '../../machines/state.ts'
import { type Evict, keepLocalCopy, type LocalCopySources, shopCopy } from './copy.ts'

/**
 * The kiosk's copy of the shop: the state from the server, then every committed entry folded
 * with the same code. While the server is away the copy stays, and its clocks keep running; it is kept on
 * the device too, for a page that is loaded meanwhile.
 */

/** `old`: the server is of another build than this page, which has to be reloaded. */
export type LinkState = 'connecting' | 'live' | 'away' | 'old'

export type Link = {
  readonly state: ReadonlySignal<State | null>
  readonly is: ReadonlySignal<LinkState>
  /** A page just loaded still asks for the shop: what it shows is what this device knew, and rings for nothing. */
  readonly isAsking: ReadonlySignal<boolean>
  /** The state of the server's clock and log, as last received. */
  readonly server: ReadonlySignal<ServerStanding | null>
  /** The server's log did not have what this kiosk followed, until somebody dismisses it. */
  readonly reset: ReadonlySignal<TailReset | null>
  readonly dismissReset: () => void
  /** Entries that came with an answer: they are shown before the tail brings them. */
  readonly take: (entries: readonly Entry[]) => void
  readonly stop: () => void
}

/** Asks the server that the page came from. */
export type Fetch = (path: string, init?: RequestInit) => Promise<Response>

/** What an EventSource is used for here. */
export type Tail = {
  addEventListener(type: string, heard: (event: MessageEvent<string>) => void): void
  close(): void
}

/** What the link runs on: the browser's own, or a test's. */
type LinkSources = {
  readonly fetch: Fetch
  readonly openTail: (after: string) => Tail
  /**
   * A time from the server, as soon as it is heard. `isPutRight`: it goes before all that was heard
   * until then, also where it is behind.
   */
  readonly heard: (serverTime: number, isPutRight: boolean) => void
  /** The state of the server's log and of the shop's clocks, whenever its state was asked for. */
  readonly loaded: (answer: Pick<StateAnswer, 'head' | 'tail' | 'clockSpan'>) => void
  /** An entry that is in the log, from the tail or an answer. */
  readonly seen: (entry: Entry) => void
  /** The server's time, UTC ms; null while it is in doubt: then nothing is evicted. */
  readonly now: () => number | null
  /** Undefined while it is still fetched: the server's state holds open work only. */
  readonly evict: () => Evict | undefined
  /** 0 to 1: spreads the kiosks that come back after the server does. */
  readonly random: () => number
  /** The build of this page; another one than the server's has to be reloaded. */
  readonly build: string
  /** The shop as an earlier page kept it: shown when there is nobody to ask. */
  readonly kept: () => Promise<State | null>
} & LocalCopySources

/** A server that takes longer than this to send its state counts as away. */
const STATE_WITHIN_MS = 10_000
/** A page just loaded that has no answer by then shows what its device knows. */
export const SHOW_KEPT_AFTER_MS = 1_000
/** Three heartbeats of five seconds: a line that is silent for longer is dead, whatever it says. */
export const SILENT_MS = 16_000
const RETRY_LEAST_MS = 500
const RETRY_SPREAD_MS = 1_500

/** Follows the shop until it is stopped. Never throws: what goes wrong shows in `is`. */
export function shopLink(from: LinkSources): Link {
  const copy = shopCopy(from.now, from.evict)
  const is = signal<LinkState>('connecting')
  const server = signal<ServerStanding | null>(null)
  const reset = signal<TailReset | null>(null)
  const hasLoaded = signal(false)
  let isStopped = false
  let close = () => {}

  function hear({ serverTime, clock, loss, disk, kiosks, backup, printing }: ServerStanding): void {
    const isPutRight = clock.era !== server.peek()?.clock.era
    from.heard(serverTime, isPutRight)
    // A server of an earlier build says nothing of its disk, kiosks and backups.
    server.value = {
      ...{
        serverTime,
        clock,
        loss: lossIn(loss),
        disk: disk ?? null,
        kiosks: kiosks ?? null,
        backup: backup ?? null,
        ...(printing ? { printing } : {}),
      },
    }
  }

  async function load(): Promise<string | null> {
    const renewed = copy.renew()
    try {
      const response = await from.fetch(STATE_PATH, {
        signal: AbortSignal.timeout(STATE_WITHIN_MS),
      })
      if (!response.ok) return null
      const answer = (await response.json()) as PackedStateAnswer
      hear(answer)
      if (answer.foldVersion !== FOLD_VERSION || answer.build !== from.build) {
        is.value = 'old'
        return null
      }
      hasLoaded.value = true
      renewed(unpacked(answer.state))
      from.loaded(answer)
      return answer.tail
    } catch {
      return null
    }
  }

  /** Follows the tail until it breaks, or brings what only the whole state can show. */
  function follow(after: string): Promise<'broken' | 'beyond'> {
    return new Promise((ended) => {
      const tail = from.openTail(after)
      let lastHeard = 0
      const alive = () => {
        lastHeard += 1
        const mark = lastHeard
        void from.wait(SILENT_MS).then(() => {
          if (mark === lastHeard) end()
        })
      }
      const finish = (how: 'broken' | 'beyond') => {
        tail.close()
        ended(how)
      }
      const end = () => finish('broken')
      close = end
      // A line that opens and never brings a word would keep every press waiting for it.
      alive()
      const heard = (message: TailMessage) => {
        alive()
        switch (message.kind) {
          case 'hello':
            hear(message)
            is.value = message.build === from.build ? 'live' : 'old'
            return
          case 'beat':
            hear(message)
            return
          case 'reset':
            reset.value = message
            end()
            return
          case 'entry':
            from.seen(message.entry)
            // The server has read it from its log: the state that it gives now holds it.
            if (!copy.add(message.entry)) finish('beyond')
        }
      }
      // What a newer server says besides is not listened to: this page is about to be loaded again.
      for (const kind of TAIL_KINDS) {
        tail.addEventListener(TAIL_EVENTS[kind], ({ data }) => heard(tailMessage(kind, data)))
      }
      tail.addEventListener('error', end)
    })
  }

  async function rememberKept(): Promise<void> {
    if (copy.confirmed.peek() === null) copy.remember(await from.kept().catch(() => null))
  }

  async function run(): Promise<void> {
    void from.wait(SHOW_KEPT_AFTER_MS).then(rememberKept)
    while (!isStopped && is.value !== 'old') {
      const after = await load()
      const how = after === null || isStopped ? 'broken' : await follow(after)
      if (isStopped || is.peek() === 'old') return
      if (how === 'beyond') continue
      await rememberKept()
      is.value = 'away'
      await from.wait(RETRY_LEAST_MS + from.random() * RETRY_SPREAD_MS)
    }
  }

  /** Without the server the device's copy is all that a reload shows: it is written at once. */
  const away = (write: () => void) =>
    effect(() => {
      if (is.value === 'away') write()
    })
  const stopKeeping = keepLocalCopy(copy.confirmed, {
    ...from,
    leaving: (write) => {
      const stops = [from.leaving(write), away(write)]
      return () => {
        for (const stop of stops) stop()
      }
    },
  })
  void run()
  return {
    state: copy.state,
    is,
    isAsking: computed(() => is.value === 'connecting' && !hasLoaded.value),
    server,
    reset,
    dismissReset: () => {
      reset.value = null
    },
    take(entries) {
      for (const entry of entries) from.seen(entry)
      copy.take(entries)
    },
    stop: () => {
      isStopped = true
      stopKeeping()
      close()
    },
  }
}

/** Resolves once it is known whether the server is there, which a page just loaded does not know yet. */
export function settled(link: ReadonlySignal<LinkState>): Promise<void> {
  return new Promise((done) => {
    const stop = effect(() => {
      if (link.value === 'connecting') return
      done()
      queueMicrotask(() => stop())
    })
  })
}
