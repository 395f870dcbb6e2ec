import { LogError, type Store } from '../../server/log/log.ts'

/** Does something round every call of a store. */
type Around = <T>(call: () => Promise<T>) => Promise<T>

function wrapped(store: Store, around: Around): Store {
  return {
    head: (...a) => around(() => store.head(...a)),
    append: (...a) => around(() => store.append(...a)),
    read: (...a) => around(() => store.read(...a)),
    raw: (...a) => around(() => store.raw(...a)),
    byCommand: (...a) => around(() => store.byCommand(...a)),
    byThing: (...a) => around(() => store.byThing(...a)),
    byType: (...a) => around(() => store.byType(...a)),
    byId: (...a) => around(() => store.byId(...a)),
    voidsOf: (...a) => around(() => store.voidsOf(...a)),
    lastBefore: (...a) => around(() => store.lastBefore(...a)),
    shops: () => around(() => store.shops()),
    getSnapshot: (...a) => around(() => store.getSnapshot(...a)),
    putSnapshot: (...a) => around(() => store.putSnapshot(...a)),
    getMeta: (...a) => around(() => store.getMeta(...a)),
    putMeta: (...a) => around(() => store.putMeta(...a)),
    close: () => around(() => store.close()),
  }
}

/**
 * A store over a slow line: every call goes out some turns late and every answer comes back some
 * turns late, not in the order in which they were asked for.
 */
export function lateStore(store: Store): Store {
  let calls = 0
  return wrapped(store, async (call) => {
    calls += 1
    await turns(1 + ((calls * 7) % 5))
    const answer = await call()
    await turns(1 + ((calls * 3) % 4))
    return answer
  })
}

async function turns(count: number): Promise<void> {
  for (let i = 0; i < count; i++) await new Promise((done) => setImmediate(done))
}

/**
 * A store whose next commit fails, once for each time it is asked to. Nothing of that append is
 * written.
 */
export function failingStore(store: Store): { store: Store; failNextAppend: () => void } {
  let failures = 0
  return {
    failNextAppend: () => {
      failures += 1
    },
    store: {
      ...wrapped(store, (call) => call()),
      async append(...what) {
        if (failures === 0) return store.append(...what)
        failures -= 1
        const [shop] = what
        const hint = 'Free some space on it, then try again.'
        throw new LogError({ op: 'append', shop }, 'full', 'The disk is full.', hint)
      },
    },
  }
}
