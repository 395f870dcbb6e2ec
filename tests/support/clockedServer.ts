import { damage } from '../../machines/contract/damage.ts'
import { LogError } from '../../server/log/log.ts'
import type { Look } from '../../server/log/wholeCheck.ts'
import { type ServeDeps, startServer } from '../../server/serve.ts'
import { type ComputerClock, timekeeper } from '../../server/time/timekeeper.ts'
import { verifyFolder } from '../../server/verifyLog.ts'
import { START_MS } from './serverShop.ts'

/** The clocks of a computer that a test moves: time passes on both, a step moves the wall clock. */
export class TestComputer implements ComputerClock {
  #monotonicMs = 5_000
  #wallMs: number
  readonly #timers = new Set<{ ms: number; next: number; run: () => void }>()

  constructor(wallMs = START_MS) {
    this.#wallMs = wallMs
  }

  sample = () => ({ monotonicMs: this.#monotonicMs, wallMs: this.#wallMs })

  every = (ms: number, run: () => void) => {
    const timer = { ms, next: this.#monotonicMs + ms, run }
    this.#timers.add(timer)
    return () => this.#timers.delete(timer)
  }

  get wallMs(): number {
    return this.#wallMs
  }

  /** The wall clock is set. */
  step(ms: number): void {
    this.#wallMs += ms
  }

  /** The computer sleeps: time passes on both clocks, and nothing runs meanwhile. */
  sleep(ms: number): void {
    this.#to(this.#monotonicMs + ms)
    for (const timer of this.#timers) timer.next += ms
  }

  /** Lets time pass, and everything run that is due on the way. */
  pass(ms: number): void {
    const until = this.#monotonicMs + ms
    for (;;) {
      const due = [...this.#timers].filter((timer) => timer.next <= until)
      const first = due.sort((a, b) => a.next - b.next)[0]
      if (!first) break
      this.#to(first.next)
      first.next += first.ms
      first.run()
    }
    this.#to(until)
  }

  #to(monotonicMs: number): void {
    this.#wallMs += monotonicMs - this.#monotonicMs
    this.#monotonicMs = monotonicMs
  }
}

/** Looks through a whole log in this process; what cannot be read as a whole is damaged. */
export const lookHere = (data: string): Look => ({
  done: verifyFolder(data).then(
    (verdict) => (verdict.ok ? null : verdict),
    (error) => {
      if (!(error instanceof LogError)) throw error
      return { position: 0, damage: damage('unreadable', { said: error.message }) }
    },
  ),
  stop() {},
})

/** The whole server on a data folder, without a port, on clocks that a test moves. */
export async function clockedServer(
  folder: string,
  computer: TestComputer,
  more: Pick<ServeDeps, 'runBackup'> = {},
) {
  const reports: unknown[] = []
  const running = await startServer(
    { port: 0, data: folder },
    {
      clock: (lastMs) => timekeeper(computer, lastMs),
      listen: () => ({ url: 'http://127.0.0.1', pending: () => 0, stop: async () => {} }),
      build: 'test-build',
      timeZone: () => 'Europe/Madrid',
      look: lookHere,
      report: (error) => reports.push(error),
      ...more,
    },
  )
  const told = async (response: Response | Promise<Response>) => {
    const { status } = await response
    return { status, body: await (await response).json() }
  }
  return {
    ...running,
    reports,
    state: () => running.shops.ownWriter.state(),
    post: (path: string, body: unknown) =>
      told(running.app.request(path, { method: 'POST', body: JSON.stringify(body) })),
    get: (path: string) => told(running.app.request(path)),
  }
}

export type ClockedServer = Awaited<ReturnType<typeof clockedServer>>
