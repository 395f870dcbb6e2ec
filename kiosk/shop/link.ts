import { type ReadonlySignal, signal } from '@preact/signals'
import type { StateAnswer } from '../../machines/contract.ts'
import type { Entry } from '../../machines/envelope.ts'
import { fold } from '../../machines/fold.ts'
import { FOLD_VERSION, type State } from '../../machines/state.ts'

/**
 * The kiosk's copy of the shop: the state as the server has it, then every committed entry folded
 * with the same code. While the server is away the copy stands, and its clocks go on.
 */

/** `old`: the server is of another build than this page, which has to be loaded anew. */
export type LinkState = 'connecting' | 'live' | 'away' | 'old'

export type Link = {
  readonly state: ReadonlySignal<State | null>
  readonly is: ReadonlySignal<LinkState>
  readonly stop: () => void
}

/** What the link runs on: the browser's own, or a test's. */
export type LinkSources = {
  readonly fetch: typeof fetch
  readonly openTail: (after: string) => EventSource
  readonly wait: (ms: number) => Promise<void>
  /** A time from the server, as soon as it is heard. */
  readonly heard: (serverTime: number) => void
  /** 0 to 1: spreads the kiosks that come back after the server does. */
  readonly random: () => number
}

/** Three heartbeats of five seconds: a line that is silent for longer is dead, whatever it says. */
const SILENT_MS = 16_000
const RETRY_LEAST_MS = 500
const RETRY_SPREAD_MS = 1_500

/** Follows the shop until it is stopped. Never throws: what goes wrong shows in `is`. */
export function shopLink(from: LinkSources): Link {
  const state = signal<State | null>(null)
  const is = signal<LinkState>('connecting')
  let build: string | null = null
  let isStopped = false
  let close = () => {}

  async function load(): Promise<string | null> {
    try {
      const response = await from.fetch('/api/state', { cache: 'no-store' })
      if (!response.ok) return null
      const answer = (await response.json()) as StateAnswer
      from.heard(answer.serverTime)
      if (answer.foldVersion !== FOLD_VERSION || (build !== null && answer.build !== build)) {
        is.value = 'old'
        return null
      }
      build = answer.build
      state.value = answer.state
      return answer.tail
    } catch {
      return null
    }
  }

  /** Follows the tail until it breaks. */
  function follow(after: string): Promise<void> {
    return new Promise((broken) => {
      const tail = from.openTail(after)
      let lastHeard = 0
      const alive = () => {
        lastHeard += 1
        const mark = lastHeard
        void from.wait(SILENT_MS).then(() => {
          if (mark === lastHeard) end()
        })
      }
      const end = () => {
        tail.close()
        broken()
      }
      close = end
      const time = (event: MessageEvent<string>) => {
        alive()
        const { serverTime } = JSON.parse(event.data) as { serverTime: number }
        from.heard(serverTime)
      }
      tail.addEventListener('hello', (event) => {
        time(event)
        const hello = JSON.parse(event.data) as { build: string }
        is.value = hello.build === build ? 'live' : 'old'
      })
      tail.addEventListener('beat', time)
      tail.addEventListener('reset', end)
      tail.addEventListener('message', (event: MessageEvent<string>) => {
        alive()
        const entry = JSON.parse(event.data) as Entry
        if (state.value && entry.position > state.value.head) state.value = fold(state.value, entry)
      })
      tail.addEventListener('error', end)
    })
  }

  async function run(): Promise<void> {
    while (!isStopped && is.value !== 'old') {
      const after = await load()
      if (after !== null && !isStopped) await follow(after)
      if (isStopped || is.peek() === 'old') return
      is.value = 'away'
      await from.wait(RETRY_LEAST_MS + from.random() * RETRY_SPREAD_MS)
    }
  }

  void run()
  return {
    state,
    is,
    stop: () => {
      isStopped = true
      close()
    },
  }
}
