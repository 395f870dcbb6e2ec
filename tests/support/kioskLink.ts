import { afterEach, expect } from 'vitest'
import { type Link, SILENT_MS, shopLink, type Tail } from '../../kiosk/commands/link.ts'
import { evict } from '../../machines/evict.ts'
import { withoutSeals } from './seals.ts'
import { vanInWork } from './serverCommands.ts'
import { openTestShop, type TestShop } from './serverShop.ts'
import { TailClient } from './serverTail.ts'

/** A kiosk's link to a server in this process, without a browser. */

const links: Link[] = []
afterEach(() => {
  for (const link of links.splice(0)) link.stop()
})

/** A server that keeps a snapshot after every command, and then evicts what is not open work. */
export async function tidyShop() {
  const shop = await openTestShop({ snapshotEvery: 1 })
  let count = 0
  const say = async (type: string, data: object, late: object = {}): Promise<void> => {
    count += 1
    const command = { id: `say-${count}`, type, data, ...late }
    const { status, body } = await shop.post('/api/commands', command)
    expect(body, type).toEqual(expect.objectContaining({ entries: expect.any(Array) }))
    expect(status).toBe(200)
  }
  for (const wish of vanInWork) await shop.shops.ownWriter.handle(wish)
  const things = () => withoutSeals(shop.shops.ownWriter.state().things)
  return { shop, say, things }
}

/** The server's tail as a browser's EventSource gives it. */
export function tailOf({ app }: TestShop, after: string): Tail {
  const heard = new EventTarget()
  let client: TailClient | null = null
  let isClosed = false
  const read = async () => {
    const { body } = await app.request(`/api/tail?after=${encodeURIComponent(after)}`)
    if (body === null) throw new Error('The tail has no body.')
    client = new TailClient(body)
    for (let next = await client.next(); next && !isClosed; next = await client.next())
      heard.dispatchEvent(new MessageEvent(next.event, { data: JSON.stringify(next.data) }))
  }
  void read()
  return {
    addEventListener: (type, listener) =>
      heard.addEventListener(type, (event) => {
        if (event instanceof MessageEvent) listener(event)
      }),
    close() {
      isClosed = true
      void client?.close()
    },
  }
}

/** A kiosk's link to a shop, by other sources than a kiosk's usual ones. */
export function linked(shop: TestShop, other: Partial<Parameters<typeof shopLink>[0]>): Link {
  const link = shopLink({
    fetch: async (path, init) => await shop.app.request(path, init),
    openTail: (after) => tailOf(shop, after),
    // No line is ever silent for too long; the server is asked again at once.
    wait: (ms) => (ms < SILENT_MS ? Promise.resolve() : new Promise(() => {})),
    heard: () => {},
    loaded: () => {},
    seen: () => {},
    now: () => shop.clock.now(),
    evict: () => evict,
    random: () => 0,
    build: 'test-build',
    kept: async () => null,
    keep: async () => {},
    leaving: () => () => {},
    ...other,
  })
  links.push(link)
  return link
}
