import type { Kind } from './catalog.ts'
import type { Deciding, NewFact } from './deciding.ts'
import { folders } from './folders.ts'
import type { Folder } from './replay.ts'
import { stamp } from './stamp.ts'
import type { ContextOf, Thing, ValueOf } from './things.ts'

/**
 * Whether a thing's chart takes a fact from where the thing stood then: the one authority on what
 * may follow what.
 * @param thing undefined for one that has no entries yet
 */
export function can<K extends Kind>(
  d: Deciding,
  kind: K,
  thing: Thing<K> | undefined,
  fact: NewFact,
): boolean {
  const folder: Folder<ContextOf<K>, ValueOf<K>> = folders[kind]
  return stamp(d, [fact]).every((draft) => folder.can(thing ?? folder.blank, draft))
}
