import type { Tab } from './devtools.ts'

/** What a page's heap is made of. A compiler goes on for minutes; only the page's own data can leak. */
export type Heap = {
  /** Objects, closures, strings, arrays. */
  readonly dataKiB: number
  /** Compiled scripts and what the compiler knows of them. */
  readonly codeKiB: number
  /** The browser's own, such as elements and its notes on slow frames. */
  readonly browserKiB: number
}

type Snapshot = {
  readonly snapshot: {
    readonly meta: {
      readonly node_fields: readonly string[]
      readonly node_types: readonly [readonly string[], ...unknown[]]
    }
  }
  readonly nodes: readonly number[]
}

const KIB = 1_024

/** Collects rubbish, then weighs all that is left by what it is. */
export async function weigh(tab: Tab): Promise<Heap> {
  const chunks = await tab.collect<{ chunk: string }>(
    'HeapProfiler.addHeapSnapshotChunk',
    'HeapProfiler.takeHeapSnapshot',
  )
  const { snapshot, nodes } = JSON.parse(chunks.map(({ chunk }) => chunk).join('')) as Snapshot
  const { node_fields: fields, node_types: types } = snapshot.meta
  const [typeAt, sizeAt] = [fields.indexOf('type'), fields.indexOf('self_size')]
  const kib = { code: 0, native: 0, data: 0 }
  for (let at = 0; at < nodes.length; at += fields.length) {
    const type = types[0][nodes[at + typeAt] ?? -1]
    const kind = type === 'code' || type === 'native' ? type : 'data'
    kib[kind] += (nodes[at + sizeAt] ?? 0) / KIB
  }
  return { dataKiB: kib.data, codeKiB: kib.code, browserKiB: kib.native }
}
