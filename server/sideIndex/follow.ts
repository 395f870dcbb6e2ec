import type { Entry } from '../../machines/envelope.ts'
import type { Writer } from '../handle.ts'
import { LogError } from '../log/log.ts'
import { nextPage, workTurn } from '../turn.ts'

/** What is read from the log on behind each commit, and can be made again from it. */
export type SideIndex = {
  /** Up to where the log was read, and the hash that stands there; null before the first entry. */
  readonly read: () => { readonly position: number; readonly hash: string } | null
  /** Takes the next entries of the log, all of them or none. @throws where the disk refuses */
  readonly take: (entries: readonly Entry[]) => void
  /** Forgets everything: the log is another one. */
  readonly clear: () => void
  readonly close: () => void
}

const isOver = (error: unknown): boolean => error instanceof LogError && error.code === 'closed'

/** The most entries that are taken in one turn of the loop, and how many the first time: commands and answers come between. */
const PAGE_MOST = 200
const PAGE_FIRST = 25
/** So many may wait until somebody asks: one by one each would cost a command as much as its commit. */
const WAIT_MOST = 100

/**
 * Keeps an index up with a log, beside the path of a command: what is behind is read in pages, when it has become
 * many entries or somebody asks.
 * @param report gets what went wrong; the index is then read on with the next entry
 * @returns `behind`: how many entries are not in it yet, once it has taken what waited. One that has the log to
 *   read from far back says so at once.
 */
export function followLog(
  index: SideIndex,
  writer: Writer,
  report: (error: unknown) => void,
): { readonly behind: () => Promise<number> } {
  let working: Promise<void> | null = null
  let isClosed = false
  let isChecked = false
  /** What was committed and not taken yet, as it was committed: it need not be read from the log again. */
  let waiting: Entry[] = []
  /** Nobody else writes the index. */
  let upTo = index.read()?.position ?? 0
  const behindNow = () => (isClosed ? 0 : Math.max(0, writer.state().head - upTo))

  /** Whether the log that was read is still the one that is there. */
  async function isSameLog(): Promise<boolean> {
    const read = index.read()
    if (!read) return true
    const [last] = await writer.reader.page({ after: read.position - 1, limit: 1 })
    return last?.hash === read.hash && last.position === read.position
  }

  /** The newest alone, without a gap: one that is far behind reads the others from the log. */
  function keepWaiting(entries: readonly Entry[]): void {
    if (waiting.at(-1)?.position !== (entries[0]?.position ?? 0) - 1) waiting = []
    waiting.push(...entries)
    if (waiting.length > 4 * WAIT_MOST) waiting = waiting.slice(-2 * WAIT_MOST)
  }

  /** The next entries: the last ones from memory, others from the log. */
  async function nextPageOf(limit: number): Promise<readonly Entry[]> {
    const { head } = writer.state()
    waiting = waiting.filter(({ position }) => position > upTo)
    if (waiting[0]?.position === upTo + 1) return waiting.slice(0, limit)
    const page = await writer.reader.page({ after: upTo, limit })
    // What is in the store but not in the state is not committed yet.
    return page.filter(({ position }) => position <= head)
  }

  async function catchUp(): Promise<void> {
    try {
      if (!isChecked && !(await isSameLog())) {
        index.clear()
        upTo = 0
      }
      isChecked = true
      for (let limit = PAGE_FIRST; behindNow() > 0; ) {
        await workTurn()
        if (isClosed) return
        const start = performance.now()
        const entries = await nextPageOf(limit)
        if (entries.length === 0 || isClosed) return
        index.take(entries)
        upTo = entries.at(-1)?.position ?? upTo
        limit = nextPage(limit, performance.now() - start, PAGE_MOST)
      }
    } catch (error) {
      // A server that could not start closes its log without a word to whoever follows.
      if (!isClosed && !isOver(error)) report(error)
    } finally {
      // In the turn in which nothing was behind: what comes next begins anew.
      working = null
    }
  }

  function work(): Promise<void> {
    // Begun behind this line: it may have nothing to wait for.
    working ??= Promise.resolve().then(catchUp)
    return working
  }

  writer.follow((news) => {
    if (news.kind === 'closed') {
      isClosed = true
      index.close()
      return
    }
    if (news.kind === 'replaced') {
      isChecked = false
      waiting = []
      void work()
      return
    }
    keepWaiting(news.entries)
    if (behindNow() >= WAIT_MOST) void work()
  })
  void work()
  return {
    async behind() {
      const count = behindNow()
      if (count > 0 && count <= 2 * WAIT_MOST) await work()
      else if (count > 0) void work()
      return behindNow()
    },
  }
}
