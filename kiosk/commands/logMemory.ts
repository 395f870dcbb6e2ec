import { type ReadonlySignal, signal } from '@preact/signals'
import type { StateAnswer } from '../../machines/contract.ts'
import type { Entry } from '../../machines/envelope.ts'

/**
 * What this kiosk knows of the server's log: its newest entries. A log that was restored or cut does
 * not have all of them any more; then they are kept here for an export, and said on every screen.
 */

/** Entries that the server's log has lost, as this kiosk knows them. */
export type Gone = {
  /** In order of position; the newest that were still kept here. */
  readonly entries: readonly Entry[]
  /** How many entries the log had by what this kiosk knows, and how many it has. */
  readonly knownHead: number
  readonly head: number
}

/** What of the log is kept on the device (logBook.ts). What asks the server rejects where that does not answer. */
export type LogBook = {
  /** What was found to be gone by an earlier page, or by this one. */
  readonly gone: () => Promise<Gone | null>
  readonly keepGone: (gone: Gone | null) => Promise<void>
  readonly keep: (entries: readonly Entry[]) => Promise<void>
  /** Whether another entry is kept where one of these stands: their log is not the one that was followed. */
  readonly isOther: (entries: readonly Entry[]) => Promise<boolean>
  /** What of the kept entries the server's log does not have, in order of position. */
  readonly lost: () => Promise<readonly Entry[]>
  /** What was gone before, and what was lost since. */
  readonly withLost: (before: Gone | null, lost: readonly Entry[], head: number) => Gone
  readonly forget: (lost: readonly Entry[]) => Promise<void>
  /** Asks for what the log has and the device does not, of the newest entries. */
  readonly fill: (head: number) => Promise<void>
}

export type LogMemory = {
  /** What is missing, until somebody dismisses it. */
  readonly gone: ReadonlySignal<Gone | null>
  readonly seen: (entry: Entry) => void
  readonly loaded: (answer: Pick<StateAnswer, 'head'>) => void
  readonly dismiss: () => Promise<void>
  /** Resolves when all that was heard until now is kept. */
  readonly settled: () => Promise<void>
}

/** So many entries wait for their turn at most: no more are kept. */
const WAITING_MOST = 500
/** When a server is asked again that did not send its entries. */
const AGAIN_MS = 5_000

/** Never throws: a device that keeps nothing only forgets. */
export function logMemory(from: {
  /** Opens it, or gives what is open. It may reject: then it is asked for again. */
  readonly book: () => Promise<LogBook>
  readonly wait: (ms: number) => Promise<void>
}): LogMemory {
  const gone = signal<Gone | null>(null)
  let fresh: Entry[] = []
  /** The head of a log that is still to be compared: until then nothing is written over what is known. */
  let toCompare: number | null = null
  let isAsking = false
  let isRead = false
  /** With what an earlier page found to be gone. */
  async function opened(): Promise<LogBook> {
    const book = await from.book()
    if (!isRead) gone.value = await book.gone()
    isRead = true
    return book
  }
  let turn: Promise<void> = Promise.resolve()
  const next = (work: (book: LogBook) => Promise<void>): Promise<void> => {
    turn = turn.then(async () => await work(await opened())).catch(() => {})
    return turn
  }
  void next(async () => {})

  async function compare(book: LogBook, head: number): Promise<void> {
    const lost = await book.lost()
    toCompare = null
    if (lost.length === 0) return
    // Said also by a device that can keep no more.
    gone.value = book.withLost(await book.gone(), lost, head)
    // First what is to be exported: a page that is closed now finds both.
    await book.keepGone(gone.value)
    await book.forget(lost)
  }

  /** A server that does not send its entries is asked until it does: nobody else would say what is gone. */
  async function askAgain(): Promise<void> {
    if (isAsking) return
    isAsking = true
    await from.wait(AGAIN_MS)
    isAsking = false
    void next(catchUp)
  }

  /** Compares what is to be compared, then writes what was heard. */
  async function catchUp(book: LogBook): Promise<void> {
    const newest = fresh.at(-1)
    // An answer to a press may come before the log was looked at.
    if (newest && (await book.isOther(fresh))) toCompare ??= newest.position
    const head = toCompare
    if (head !== null) {
      await compare(book, head).catch((fault) => {
        if (toCompare !== null) void askAgain()
        throw fault
      })
      await book.fill(head)
    }
    // Whatever came while one write was under way is written together.
    const entries = fresh
    fresh = []
    if (entries.length > 0) await book.keep(entries)
  }

  return {
    gone,
    seen(entry) {
      fresh.push(entry)
      if (fresh.length > WAITING_MOST) fresh.shift()
      void next(catchUp)
    },
    loaded({ head }) {
      toCompare = head
      void next(catchUp)
    },
    dismiss: () =>
      next(async (book) => {
        await book.keepGone(null)
        gone.value = null
      }),
    settled: () => turn,
  }
}

/** One entry a line, as the server's own export has them. */
export const jsonLines = (entries: readonly Entry[]): string =>
  entries.map((entry) => `${JSON.stringify(entry)}\n`).join('')
