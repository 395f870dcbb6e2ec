import { createApp } from '../../server/app.ts'
import { type Clock, undoubted } from '../../server/clock.ts'
import type { App, Routes } from '../../server/http.ts'
import type { Store } from '../../server/log/log.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { photosIn } from '../../server/photos.ts'
import { openShops, type Shops } from '../../server/shops.ts'

export const START_MS = Date.UTC(2026, 0, 5, 8)
export const MINUTE = 60_000

/** A clock that a test moves. What is due on the way is called. */
export class TestClock implements Clock {
  #now = START_MS
  readonly #timers = new Set<{ ms: number; next: number; run: () => void }>()

  now = (): number => this.#now

  standing = () => undoubted(this.#now)

  sample = () => ({ monotonicMs: this.#now, wallMs: this.#now })

  every = (ms: number, run: () => void) => {
    const timer = { ms, next: this.#now + ms, run }
    this.#timers.add(timer)
    return () => this.#timers.delete(timer)
  }

  get timers(): number {
    return this.#timers.size
  }

  advance(ms: number): void {
    const until = this.#now + ms
    for (;;) {
      const due = [...this.#timers].filter((timer) => timer.next <= until)
      const first = due.sort((a, b) => a.next - b.next)[0]
      if (!first) break
      this.#now = first.next
      first.next += first.ms
      first.run()
    }
    this.#now = until
  }
}

/** A log that lacks nothing. */
export const wholeLog = {
  loss: () => null,
  disk: () => null,
  freeMb: () => null,
  check: () => null,
  dismiss() {},
}

export type TestShop = {
  readonly store: Store
  readonly clock: TestClock
  readonly shops: Shops
  readonly app: App
  /** What the server reported to its own log. */
  readonly reports: unknown[]
  /** POSTs JSON; status and body. */
  readonly post: (path: string, body: unknown) => Promise<{ status: number; body: unknown }>
  readonly get: (path: string) => Promise<{ status: number; body: unknown }>
}

type Given = {
  store?: Store
  clock?: TestClock
  snapshotEvery?: number
  more?: readonly Routes[]
  photos?: string
}

/** A server without a port, on a store of its own. `photos` is the folder in which pictures are kept. */
export async function openTestShop(given: Given = {}): Promise<TestShop> {
  const { store = memoryStore(), clock = new TestClock(), snapshotEvery, more = [], photos } = given
  const reports: unknown[] = []
  const report = (error: unknown) => reports.push(error)
  const shops = await openShops({
    ...{ store, clock, report, timeZone: () => 'Europe/Madrid' },
    ...(snapshotEvery === undefined ? {} : { snapshotEvery }),
    ...(photos === undefined ? {} : { hasPhoto: photosIn(photos).has }),
  })
  const app = createApp({ shops, clock, log: wholeLog, build: 'test-build', report, more })
  return {
    store,
    clock,
    shops,
    app,
    reports,
    async post(path, body) {
      const text = typeof body === 'string' ? body : JSON.stringify(body)
      // As every client that has its body whole: such presses go past the routes.
      const headers = { 'Content-Length': String(Buffer.byteLength(text)) }
      return await told(app.request(path, { method: 'POST', body: text, headers }))
    },
    get: (path) => told(app.request(path)),
  }
}

async function told(asked: Response | Promise<Response>) {
  const response = await asked
  return { status: response.status, body: await response.json() }
}
