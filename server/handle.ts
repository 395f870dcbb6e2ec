import { KINDS } from '../machines/catalog.ts'
import { parseCommand, wrongAt } from '../machines/contract.ts'
import type { Command, Entry } from '../machines/envelope.ts'
import { evict } from '../machines/evict.ts'
import type { State } from '../machines/state.ts'
import type { Clock } from './clock.ts'
import { type Asked, decideGroup, type First } from './group.ts'
import { foldOn, type Loaded, loadShop } from './load.ts'
import { commandDigest, emptyHead } from './log/chain.ts'
import type { Store } from './log/log.ts'
import { keepOpenWork } from './openWork.ts'
import { type Answer, notStored, problem, wrong } from './problems.ts'
import { type Reader, readerOf } from './reading.ts'
import { keepSnapshot } from './snapshot.ts'
import { nextTurn } from './turn.ts'

export type WriterDeps = {
  readonly store: Store
  readonly clock: Pick<Clock, 'now' | 'standing'>
  /** Gets what went wrong behind an answer, for the server's own log. */
  readonly report: (error: unknown) => void
  /** Whether a picture is kept: a command that names another is refused. Without it nobody asks. */
  readonly hasPhoto?: (photo: string) => boolean
  /** How many entries lie between two snapshots; without it 500, or as many as one costs. */
  readonly snapshotEvery?: number
}

/** What the followers of a shop receive, once it is durable. */
export type News =
  | { readonly kind: 'committed'; readonly entries: readonly Entry[] }
  /** The log is not the one that was followed: it was cut or replaced. */
  | { readonly kind: 'replaced' }
  | { readonly kind: 'closed' }

/** The one writer of a shop. */
export type Writer = {
  readonly shop: string
  readonly reader: Reader
  /** As committed. It never shows what is not durable. */
  readonly state: () => State
  /** Whether the log holds entries of a newer version: then nothing is decided. */
  readonly isNewer: () => boolean
  /**
   * Parses, decides and stores a command.
   * @param input one command, as JSON gave it
   * @returns its answer once it is durable; it never rejects
   */
  readonly handle: (input: unknown) => Promise<Answer>
  /** @returns a function that ends it */
  readonly follow: (listener: (news: News) => void) => () => void
  /** Takes no more commands, finishes those it has, keeps a snapshot. The store stays open. */
  readonly close: () => Promise<void>
}

/** The most answers without entries that are remembered. */
const SILENT_MOST = 1_000

/** As seldom is open work told from what is over, unless a snapshot is kept. */
const EVICT_EVERY_MS = 60 * 60_000

type Waiting = Asked & { readonly answer: (answer: Answer) => void }

/**
 * Folds a shop and opens it for commands. They are decided one after another and committed in
 * groups: all that arrived in one turn of the loop share one durable commit, one group is in flight.
 * @throws LogError where the log cannot be read
 */
export async function openWriter(shop: string, deps: WriterDeps): Promise<Writer> {
  const { store, clock, report, snapshotEvery = 500 } = deps
  /** While the time is not confirmed nothing is evicted: it may be years off. */
  const isClockRight = () => clock.standing().doubt === null
  const reader = readerOf(store, shop)
  const loadDeps = () => ({
    ...{ store, every: snapshotEvery, now: clock.now(), mayEvict: isClockRight() },
  })
  const listeners = new Set<(news: News) => void>()
  const silent = new Map<string, First>()
  let loaded: Loaded = await loadShop(shop, loadDeps())
  let evictedAt = clock.now()
  let queue: Waiting[] = []
  let working: Promise<void> | null = null
  let keeping: Promise<void> | null = null
  /** A snapshot costs as much as what is held: it is due when as much has come since. */
  let dueAfter = snapshotEvery
  let isClosing = false

  /** What is durable stays durable, even when a follower throws. */
  const tell = (news: News) => {
    for (const listener of listeners) {
      try {
        listener(news)
      } catch (error) {
        report(error)
      }
    }
  }

  function handle(input: unknown): Promise<Answer> {
    const now = clock.now()
    const isConfirmed = clock.standing().doubt === null
    // 1. Parse. A command that makes no sense by itself is refused at once.
    const read = readCommand(input)
    if ('answer' in read) return Promise.resolve(read.answer)
    if (isClosing) return Promise.resolve(problem('stopping', {}))
    return new Promise((answer) => {
      queue.push({ ...read, now, isConfirmed, answer })
      working ??= work()
    })
  }

  async function work(): Promise<void> {
    // All that arrives until then is one group.
    await nextTurn()
    while (queue.length > 0) {
      const group = queue
      queue = []
      const { head } = loaded.state
      const answers = await settle(group)
      for (const [i, waiting] of group.entries()) waiting.answer(answers[i] ?? notStored(null))
      // The answers go out first.
      await nextTurn()
      if (loaded.state.head - loaded.snapshotAt >= dueAfter) keepBeside()
      else if (loaded.state.head > head && clock.now() - evictedAt >= EVICT_EVERY_MS) evictNow()
    }
    working = null
  }

  /** Decides a group and commits it; it never rejects. */
  async function settle(group: readonly Asked[]): Promise<readonly Answer[]> {
    try {
      for (let looksFirst = false; ; ) {
        const { isNewer, state } = loaded
        const decided = await decideGroup(state, {
          ...{ asked: group, silent, looksFirst, isNewer, reader, report },
          ...{ hasPhoto: deps.hasPhoto, now: clock.now(), mayEvict: isClockRight() },
        })
        const { entries, commands } = decided
        // 7. Commit. Also without entries: a refusal must not rest on a state that has moved on.
        const done = await store.append(shop, state.head, entries, commands)
        if (done === 'done') {
          loaded = { ...loaded, state: decided.state }
          for (const [id, first] of decided.silent) remember(id, first)
          if (decided.entries.length > 0) tell({ kind: 'committed', entries: decided.entries })
          return decided.answers
        }
        // One of them has its answer in the log: all are decided again, and it gets that one.
        if (done === 'known') looksFirst = true
        else await catchUp()
      }
    } catch (error) {
      // The state is still the one before the group.
      report(error)
      return group.map(() => notStored(error))
    }
  }

  function remember(id: string, first: First): void {
    silent.set(id, first)
    const oldest = silent.size > SILENT_MOST ? silent.keys().next().value : undefined
    if (oldest !== undefined) silent.delete(oldest)
  }

  /** Another server has written: what it wrote is folded, or all of it where the past has changed. */
  async function catchUp(): Promise<void> {
    const { head } = loaded.state
    if (await isInLog(loaded.state)) {
      loaded = await foldOn(loaded, loadDeps())
      const entries = await reader.page({
        after: head,
        limit: Math.max(1, loaded.state.head - head),
      })
      tell({ kind: 'committed', entries })
      return
    }
    loaded = await loadShop(shop, loadDeps())
    silent.clear()
    tell({ kind: 'replaced' })
  }

  async function isInLog({ head, headHash }: State): Promise<boolean> {
    if (head === 0) return headHash === emptyHead(shop).hash
    const [last] = await reader.page({ after: head - 1, limit: 1 })
    return last?.hash === headHash
  }

  async function snapshot(): Promise<void> {
    // An entry that was not folded would be lost to the program that knows it.
    if (loaded.isNewer || loaded.state.head === loaded.snapshotAt) return
    try {
      evictNow()
      // It never changes: what is pressed while it is written makes another one.
      const { state } = loaded
      loaded = { ...loaded, snapshotAt: state.head }
      dueAfter = deps.snapshotEvery ?? Math.max(snapshotEvery, costOf(state))
      await keepOpenWork(store, state)
      await keepSnapshot(store, state)
    } catch (error) {
      // A cache only: the next one is tried as many entries later.
      report(error)
    }
  }

  /** One at a time, part by part, while commands are decided and answered. */
  function keepBeside(): void {
    keeping ??= snapshot().finally(() => {
      keeping = null
    })
  }

  function evictNow(): void {
    if (!isClockRight()) return
    evictedAt = clock.now()
    loaded = { ...loaded, state: evict(loaded.state, evictedAt) }
  }

  return {
    shop,
    reader,
    state: () => loaded.state,
    isNewer: () => loaded.isNewer,
    handle,
    follow(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    async close() {
      isClosing = true
      await working
      await keeping
      await snapshot()
      tell({ kind: 'closed' })
    },
  }
}

/** Of sensors some thousand entries are held, and each snapshot writes them all. After a kill a share of as many is folded again. */
const DUE_SHARE = 2

/** What a snapshot of a state costs, in entries that may come before the next one. */
function costOf({ things }: State): number {
  const all = KINDS.flatMap((kind) => Object.values(things[kind]))
  const entries = all.reduce((count, thing) => count + thing.entries.length, 0)
  return Math.max(all.length, entries / DUE_SHARE)
}

type Read = Pick<Asked, 'command' | 'digest'> | { readonly answer: Answer }

function readCommand(input: unknown): Read {
  try {
    const parsed = parseCommand(input)
    if (!parsed.ok) return { answer: wrong(parsed) }
    return { command: parsed.value, digest: commandDigest(input as Command) }
  } catch {
    // What a void's replacement holds is looked at when it is decided; it must have a text now.
    return { answer: wrong(wrongAt('body', undefined, 'hasText', {})) }
  }
}
