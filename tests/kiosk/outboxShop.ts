import { signal } from '@preact/signals'
import type { LinkState } from '../../kiosk/commands/link.ts'
import { type OutboxSources, outbox } from '../../kiosk/commands/outbox.ts'
import { memoryOutboxDb } from '../../kiosk/commands/outboxDb.ts'
import { objection, provisional } from '../../kiosk/commands/provisional.ts'
import type { QueuedCommand } from '../../kiosk/commands/queuedCommand.ts'
import type { Outbox } from '../../kiosk/commands/shop.ts'
import type { ClockReading } from '../../kiosk/device/clock.ts'
import { fold } from '../../machines/fold.ts'
import type { State } from '../../machines/state.ts'
import type { Routes } from '../../server/http.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { failingStore } from '../support/logStores.ts'
import { openTestShop } from '../support/serverShop.ts'

/**
 * The line between a kiosk and its real server: nobody is there, or the command arrives and its
 * answer is lost on the way back.
 */
export type Line = 'up' | 'down' | 'answerLost'

/**
 * Kiosks with an outbox each before one real server, without a port or a browser.
 * @param more routes beside those of every server
 * @param photos the folder in which the server keeps pictures
 */
export async function outboxShop(more: readonly Routes[] = [], photos?: string) {
  const { store, failNextAppend } = failingStore(memoryStore())
  const server = await openTestShop({ store, more, ...(photos === undefined ? {} : { photos }) })
  /**
   * `onWay`: what happens at the server just before something arrives there. `ahead`: by how many
   * protocols the kiosks are newer than the server.
   */
  const line = { state: 'up' as Line, onWay: async (_path: string): Promise<void> => {}, ahead: 0 }
  const ofNewer = (body: { readonly protocol?: number }) => ({
    ...body,
    protocol: (body.protocol ?? 1) + line.ahead,
  })
  const sentAs = (init: RequestInit): RequestInit => {
    if (line.ahead === 0 || typeof init.body !== 'string') return init
    const said = JSON.parse(init.body)
    const body = JSON.stringify(Array.isArray(said) ? said.map(ofNewer) : ofNewer(said))
    return { ...init, body }
  }
  /** What the server was sent, body by body; of a picture only that it was one. */
  const received: unknown[] = []
  /** How often the kiosks waited to try again. */
  let waits = 0

  const fetcher = async (path: string, init: RequestInit = {}): Promise<Response> => {
    if (line.state === 'down') throw new TypeError('Nobody answers.')
    received.push(init.body instanceof Uint8Array ? 'a picture' : JSON.parse(String(init.body)))
    await line.onWay(path)
    const response = await server.app.request(path, sentAs(init))
    if (line.state === 'answerLost') throw new TypeError('The line broke.')
    return response
  }
  const reading = (): ClockReading => ({
    nowMs: server.clock.now(),
    earliestMs: server.clock.now(),
    latestMs: server.clock.now(),
    sync: 'synchronised',
    differenceMs: 0,
    deviceOffsetMs: 250,
    warns: false,
    silentForMs: 0,
  })
  const time = { read: reading }

  /** A page of a kiosk. Two pages of one device share their database, and hear of each other. */
  function page(
    db = memoryOutboxDb(),
    others: Set<() => void> = new Set(),
    rules: OutboxSources['rules'] = async () => ({ objection, provisional }),
  ) {
    const confirmed = signal<State | null>(server.shops.ownWriter.state())
    const link = signal<LinkState>('live')
    const notTaken: QueuedCommand[] = []
    const own = new Set<() => void>()
    const out: Outbox = outbox({
      db: Promise.resolve(db),
      fetch: fetcher,
      time: () => time.read(),
      confirmed,
      taken(entries) {
        const base = confirmed.value
        const isNew = ({ position }: { position: number }) => position > (base?.head ?? 0)
        if (base) confirmed.value = entries.filter(isNew).reduce(fold, base)
      },
      link,
      wait: () => {
        waits += 1
        return new Promise(() => {})
      },
      alone: (work) => work(),
      others: {
        tell: () => {
          for (const hear of others) if (!own.has(hear)) hear()
        },
        hear: (changed) => {
          own.add(changed)
          others.add(changed)
        },
      },
      rules,
      notTaken: (queued) => notTaken.push(queued),
    })
    return {
      out,
      db,
      others,
      confirmed,
      link,
      notTaken,
      /** The server goes away, as the tail tells it. */
      away() {
        line.state = 'down'
        link.value = 'away'
      },
      /** The server is back: the state is asked for, then the tail is live. */
      async back() {
        line.state = 'up'
        confirmed.value = server.shops.ownWriter.state()
        link.value = 'live'
        await out.flush()
      },
      /** The tail brings what was committed. */
      follow() {
        confirmed.value = server.shops.ownWriter.state()
      },
    }
  }

  let count = 0
  /** Something that happened before, which must be accepted. */
  async function given(type: string, data: object): Promise<void> {
    count += 1
    const { status, body } = await server.post('/api/commands', {
      id: `given-${count}`,
      type,
      data,
    })
    if (status !== 200) throw new Error(`${type}: ${JSON.stringify(body)}`)
  }

  return {
    server,
    failNextAppend,
    line,
    received,
    waits: () => waits,
    time,
    reading,
    page,
    given,
    state: () => server.shops.ownWriter.state(),
    /** All that is in the log. */
    log: () => server.shops.ownWriter.reader.page({ after: 0, limit: 1_000 }),
  }
}
