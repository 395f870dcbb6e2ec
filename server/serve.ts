import { createApp } from './app.ts'
import type { ServeSettings } from './cli.ts'
import type { Clock } from './clock.ts'
import { lockFolder, logFileIn } from './data.ts'
import type { App, Env, Routes } from './http.ts'
import type { Store } from './log/log.ts'
import { sqliteStore } from './log/sqlite.ts'
import { openShops, type Shops } from './shops.ts'

/** A socket that answers with an app. */
export type Listening = {
  readonly url: string
  /** Requests that are not answered yet. */
  readonly pending: () => number
  /** Ends it, whoever is still connected. */
  readonly stop: () => Promise<void>
}

export type ServeDeps = {
  readonly clock: Clock
  /** @throws Usable where the port cannot be had */
  readonly listen: (
    port: number,
    fetch: (request: Request, env: Env['Bindings']) => Response | Promise<Response>,
  ) => Listening
  readonly build: string
  readonly timeZone: string
  readonly report: (error: unknown) => void
  readonly more?: readonly Routes[]
}

export type Running = {
  readonly url: string
  readonly app: App
  readonly shops: Shops
  /** Takes no more writes, finishes what was begun, keeps a snapshot, and lets go of everything. */
  readonly stop: () => Promise<void>
}

/**
 * Puts a server together on a data folder.
 * @throws Usable or LogError with a sentence for whoever started it; nothing is left open then
 */
export async function startServer(
  settings: Pick<ServeSettings, 'port' | 'data'>,
  deps: ServeDeps,
): Promise<Running> {
  const lock = lockFolder(settings.data)
  let store: Store | undefined
  try {
    store = sqliteStore(logFileIn(settings.data))
    return await startOn(store, lock.release, settings.port, deps)
  } catch (error) {
    await store?.close()
    lock.release()
    throw error
  }
}

async function startOn(
  store: Store,
  unlock: () => void,
  port: number,
  deps: ServeDeps,
): Promise<Running> {
  const { clock, build, timeZone, report, more = [] } = deps
  const shops = await openShops({ store, clock, timeZone, report })
  const app = createApp({ shops, clock, build, report, more })
  const listening = deps.listen(port, (request, env) => app.fetch(request, env))
  return {
    url: listening.url,
    app,
    shops,
    async stop() {
      // Closes the tails too.
      await shops.close()
      await answered(listening)
      await listening.stop()
      await store.close()
      unlock()
    },
  }
}

/** So many turns are given to the last answers to leave; a client that does not read gets no more. */
const TURNS_MOST = 200

async function answered(listening: Listening): Promise<void> {
  for (let turn = 0; listening.pending() > 0 && turn < TURNS_MOST; turn += 1)
    await new Promise((done) => setTimeout(done, 5))
}
