import type { Store } from '../../server/log/log.ts'

/** A store that notes what it was asked for, and how many entries it gave. */
export function countingStore(store: Store) {
  const asked: string[] = []
  let rows = 0
  const counted = async <T>(what: string, found: Promise<readonly T[]>) => {
    asked.push(what)
    const all = await found
    rows += all.length
    return all
  }
  const countedOne = async <T>(what: string, found: Promise<T | null>) => {
    const one = await found
    await counted(what, Promise.resolve(one === null ? [] : [one]))
    return one
  }
  return {
    asked,
    rows: () => rows,
    store: {
      ...store,
      read: (shop, page) => counted('read', store.read(shop, page)),
      raw: (shop, page) => counted('raw', store.raw(shop, page)),
      byCommand: (shop, id) => counted(`command ${id}`, store.byCommand(shop, id)),
      byThing: (shop, key, id, between) =>
        counted(`${key} ${id}`, store.byThing(shop, key, id, between)),
      byType: (shop, type, between) => counted(`type ${type}`, store.byType(shop, type, between)),
      voidsOf: (shop, ids) => counted('voids', store.voidsOf(shop, ids)),
      byId: (shop, id) => countedOne(`entry ${id}`, store.byId(shop, id)),
      lastBefore: (shop, key, id, type, toAt) =>
        countedOne(`last ${key} ${id}`, store.lastBefore(shop, key, id, type, toAt)),
    } satisfies Store,
  }
}
