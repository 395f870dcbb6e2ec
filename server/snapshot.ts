import { KINDS } from '../machines/catalog.ts'
import { FOLD_VERSION, type State } from '../machines/state.ts'
import { sha256 } from './log/canonical.ts'
import type { SideStore } from './log/log.ts'
import type { Reader } from './reading.ts'

/** A snapshot is a cache: whatever is odd about one, it is left aside and the log folded instead. */

const KEY = String(FOLD_VERSION)

const before = (digest: string): string => `{"digest":"${digest}","state":`

type Sealed = { readonly digest: string; readonly state: State }

export async function keepSnapshot(store: SideStore, state: State): Promise<void> {
  const text = JSON.stringify(state)
  const json = `${before(sha256(text))}${text}}`
  await store.putSnapshot(state.shop, KEY, state.head, json)
}

/**
 * The last snapshot of this version of the fold, or null.
 * @returns only one that is as it was written
 */
export async function readSnapshot(
  store: Pick<SideStore, 'getSnapshot'>,
  shop: string,
): Promise<State | null> {
  const found = await store.getSnapshot(shop, KEY)
  const state = found && stateIn(found.json)
  return state?.shop === shop && state.head === found?.position ? state : null
}

/** The snapshot to fold on from: one whose head the log has. */
export async function usableSnapshot(
  store: SideStore,
  shop: string,
  reader: Reader,
): Promise<State | null> {
  const state = await readSnapshot(store, shop)
  if (!state || state.head < 1) return null
  const [last] = await reader.page({ after: state.head - 1, limit: 1 })
  return last?.hash === state.headHash ? state : null
}

function stateIn(json: string): State | null {
  try {
    const { digest, state }: Sealed = JSON.parse(json)
    // The digest is of the text as it stands there: to write a shop's state once more takes as long as to read it.
    const isWhole =
      digest === sha256(json.slice(before(digest).length, -1)) &&
      state.foldVersion === FOLD_VERSION &&
      KINDS.every((kind) => typeof state.things[kind] === 'object')
    return isWhole ? state : null
  } catch {
    return null
  }
}
