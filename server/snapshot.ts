import { KINDS } from '../machines/catalog.ts'
import { FOLD_VERSION, type State } from '../machines/state.ts'
import type { Thing } from '../machines/things.ts'
import { sha256 } from './log/canonical.ts'
import type { SideStore } from './log/log.ts'
import type { Reader } from './reading.ts'
import { workTurn } from './turn.ts'

/**
 * A snapshot is a cache: whatever is odd about one, it is left aside and the log folded instead. It is written
 * in parts, so that a shop with many open jobs keeps nobody waiting; a row in front of them lists their digests.
 */

const KEY = String(FOLD_VERSION)
const partKey = (n: number): string => `${KEY} part ${n}`

/** Characters of a part, but for what its last piece is longer. */
const PART_LEAST = 128 * 1_024

type Listed = { readonly digests: readonly string[] }

/** Keeps a state, part by part: others have their turn between two of them. @throws LogError */
export async function keepSnapshot(store: SideStore, state: State): Promise<void> {
  const { shop, head } = state
  const digests: string[] = []
  for (const text of partsOf(state)) {
    await store.putSnapshot(shop, partKey(digests.length), head, text)
    digests.push(sha256(text))
    await workTurn()
  }
  await store.putSnapshot(shop, KEY, head, JSON.stringify({ digests } satisfies Listed))
}

/** The JSON of a state in parts. */
function* partsOf(state: State): Generator<string> {
  let part = ''
  for (const piece of piecesOf(state)) {
    part += piece
    if (part.length < PART_LEAST) continue
    yield part
    part = ''
  }
  yield part
}

/** Most things are as they were in the snapshot before, and none is ever changed. */
const texts = new WeakMap<Thing, string>()

function textOf(thing: Thing): string {
  const known = texts.get(thing)
  if (known !== undefined) return known
  const text = JSON.stringify(thing)
  texts.set(thing, text)
  return text
}

/** The JSON of a state, thing by thing. */
function* piecesOf({ things, ...rest }: State): Generator<string> {
  yield `${JSON.stringify(rest).slice(0, -1)},"things":{`
  for (const [nth, kind] of KINDS.entries()) {
    yield `${nth === 0 ? '' : '},'}"${kind}":{`
    for (const [i, [id, thing]] of Object.entries(things[kind]).entries()) {
      yield `${i === 0 ? '' : ','}${JSON.stringify(id)}:`
      if (thing.entries.length > AT_A_TIME) yield* jsonOf(thing, LISTS_WITHIN)
      else yield textOf(thing)
    }
  }
  yield '}}}'
}

/** Of a list with more than these, as many at a time: a zone has thousands of readings, in its entries and its context. */
const AT_A_TIME = 100
/** How far inside a thing its long lists are. */
const LISTS_WITHIN = 2

/** The JSON of a value of a state, a long list in pieces. */
function* jsonOf(value: unknown, within: number): Generator<string> {
  if (Array.isArray(value) && value.length > AT_A_TIME) {
    for (let from = 0; from < value.length; from += AT_A_TIME) {
      const some = JSON.stringify(value.slice(from, from + AT_A_TIME))
      yield `${from === 0 ? '[' : ','}${some.slice(1, -1)}`
    }
    yield ']'
  } else if (typeof value === 'object' && value !== null && !Array.isArray(value) && within > 0) {
    const held = Object.entries(value).filter(([, one]) => one !== undefined)
    for (const [i, [key, one]] of held.entries()) {
      yield `${i === 0 ? '{' : ','}${JSON.stringify(key)}:`
      yield* jsonOf(one, within - 1)
    }
    yield held.length === 0 ? '{}' : '}'
  } else yield JSON.stringify(value)
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
  const digests = found && listIn(found.json)
  if (!digests) return null
  const parts: string[] = []
  for (const [n, digest] of digests.entries()) {
    const part = await store.getSnapshot(shop, partKey(n))
    // One of another moment: the writing of the next snapshot was cut short.
    if (part === null || sha256(part.json) !== digest) return null
    parts.push(part.json)
  }
  const state = stateIn(parts.join(''))
  return state?.shop === shop && state.head === found.position ? state : null
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

function listIn(json: string): readonly string[] | null {
  try {
    const { digests }: Listed = JSON.parse(json)
    return Array.isArray(digests) ? digests : null
  } catch {
    return null
  }
}

function stateIn(json: string): State | null {
  try {
    const state: State = JSON.parse(json)
    const isWhole =
      state.foldVersion === FOLD_VERSION &&
      KINDS.every((kind) => typeof state.things[kind] === 'object')
    return isWhole ? state : null
  } catch {
    return null
  }
}
