import type { Entry } from '../../machines/envelope.ts'

/** A published event store for TypeScript, on SQLite and as durable as ours, that is measured beside ours. */
export type Peer = {
  /** One durable commit of some entries, as a new stream. */
  readonly append: (entries: readonly Entry[]) => Promise<void>
  readonly close: () => Promise<void>
}

/** The part of the peer that is used. */
type Library = {
  readonly SqliteStore: new (options: {
    url: string
  }) => {
    readonly seed: () => Promise<void>
    readonly commit: (
      stream: string,
      events: readonly { name: string; data: object }[],
      cause: { correlation: string; causation: object },
    ) => Promise<object[]>
    readonly dispose: () => Promise<void>
  }
}

/** Named apart from its import: it is a native library, which an installation may have left out. */
const NAME = '@rotorsoft/act-sqlite'

/** @returns null where it is not installed */
export async function openPeer(path: string): Promise<Peer | null> {
  const library: Library | null = await import(NAME).catch(() => null)
  if (library === null) return null
  const store = new library.SqliteStore({ url: `file:${path}` })
  await store.seed()
  return {
    async append(entries) {
      const stream = entries[0]?.command ?? ''
      const events = entries.map((entry) => ({ name: entry.type, data: { ...entry } }))
      const kept = await store.commit(stream, events, { correlation: stream, causation: {} })
      if (kept.length !== entries.length) throw new Error(`${NAME} kept ${kept.length} entries`)
    },
    close: () => store.dispose(),
  }
}
