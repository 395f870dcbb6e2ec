import { EVENTS, isEvent } from '../machines/catalog.ts'
import type { SideStore } from './log/log.ts'

/**
 * Beside each log stands with which version of each type of entry programs have written in it: whether
 * it holds what this program does not know can be told without reading it.
 */

type Versions = { readonly [type: string]: number }

const keyOf = (shop: string): string => `versions ${shop}`

const own: Versions = Object.fromEntries(
  Object.entries(EVENTS).map(([type, { version }]) => [type, version]),
)

async function noted(store: SideStore, shop: string): Promise<Versions> {
  try {
    return JSON.parse((await store.getMeta(keyOf(shop))) ?? '{}')
  } catch {
    return {}
  }
}

/** Notes the versions that this program writes, before it writes. */
export async function noteVersions(store: SideStore, shop: string): Promise<void> {
  const before = await noted(store, shop)
  const after = { ...before }
  for (const [type, version] of Object.entries(own))
    after[type] = Math.max(version, before[type] ?? 0)
  if (Object.keys(after).some((type) => after[type] !== before[type]))
    await store.putMeta(keyOf(shop), JSON.stringify(after))
}

/** Whether a program has written in this log that knows more than this one. */
export async function mayBeNewer(store: SideStore, shop: string): Promise<boolean> {
  const versions = await noted(store, shop)
  return Object.entries(versions).some(
    ([type, version]) => !isEvent(type) || version > EVENTS[type].version,
  )
}
