import type { Entry } from '../../machines/envelope.ts'
import type { Store } from '../../server/log/log.ts'

/** A store whose commits wait at a gate, and that tells of each. */
export function gatedStore(inner: Store) {
  const groups: (readonly Entry[])[] = []
  let opened: Promise<void> = Promise.resolve()
  let open = () => {}
  const store: Store = {
    ...inner,
    async append(...what) {
      groups.push(what[2])
      await opened
      return await inner.append(...what)
    },
  }
  return {
    store,
    /** The entries of each append that was asked for, in order. */
    groups,
    shut(): void {
      opened = new Promise((done) => {
        open = done
      })
    },
    open: () => open(),
    /** Resolves when this many appends have been asked for. */
    async asked(count: number): Promise<void> {
      while (groups.length < count) await new Promise((done) => setImmediate(done))
    },
  }
}

/** A store that can be exchanged for another under whoever uses it: a restored backup. */
export function exchangeableStore(first: Store) {
  let inner = first
  const store: Store = {
    head: (...a) => inner.head(...a),
    append: (...a) => inner.append(...a),
    read: (...a) => inner.read(...a),
    raw: (...a) => inner.raw(...a),
    byCommand: (...a) => inner.byCommand(...a),
    byThing: (...a) => inner.byThing(...a),
    byType: (...a) => inner.byType(...a),
    byId: (...a) => inner.byId(...a),
    voidsOf: (...a) => inner.voidsOf(...a),
    lastBefore: (...a) => inner.lastBefore(...a),
    shops: () => inner.shops(),
    getSnapshot: (...a) => inner.getSnapshot(...a),
    putSnapshot: (...a) => inner.putSnapshot(...a),
    getMeta: (...a) => inner.getMeta(...a),
    putMeta: (...a) => inner.putMeta(...a),
    close: () => inner.close(),
  }
  return {
    store,
    exchange(other: Store): void {
      inner = other
    },
  }
}
