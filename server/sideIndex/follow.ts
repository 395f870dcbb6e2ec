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

/**
 * Keeps an index up with a log, beside the path of a command: what is behind is read in pages.
 * @param report gets what went wrong; the index is then read on with the next entry
 * @returns `behind`: how many entries are not in it yet
 */
export function followLog(
  index: SideIndex,
  writer: Writer,
  report: (error: unknown) => void,
): { readonly behind: () => number } {
  let isWorking = false
  let isClosed = false
  let isChecked = false
  const upTo = () => index.read()?.position ?? 0
  const behind = () => (isClosed ? 0 : Math.max(0, writer.state().head - upTo()))

  /** Whether the log that was read is still the one that is there. */
  async function isSameLog(): Promise<boolean> {
    const read = index.read()
    if (!read) return true
    const [last] = await writer.reader.page({ after: read.position - 1, limit: 1 })
    return last?.hash === read.hash && last.position === read.position
  }

  async function catchUp(): Promise<void> {
    isWorking = true
    try {
      if (!isChecked && !(await isSameLog())) index.clear()
      isChecked = true
      for (let limit = PAGE_FIRST; behind() > 0; ) {
        await workTurn()
        if (isClosed) return
        const start = performance.now()
        const { head } = writer.state()
        const page = await writer.reader.page({ after: upTo(), limit })
        // What is in the store but not in the state is not committed yet.
        const entries: readonly Entry[] = page.filter(({ position }) => position <= head)
        if (entries.length === 0 || isClosed) return
        index.take(entries)
        limit = nextPage(limit, performance.now() - start, PAGE_MOST)
      }
    } catch (error) {
      // A server that could not start closes its log without a word to whoever follows.
      if (!isClosed && !isOver(error)) report(error)
    } finally {
      // In the turn in which nothing was behind: what comes next begins anew.
      isWorking = false
    }
  }

  const work = (): void => {
    if (!isWorking) void catchUp()
  }

  writer.follow(({ kind }) => {
    if (kind === 'closed') {
      isClosed = true
      index.close()
      return
    }
    if (kind === 'replaced') isChecked = false
    work()
  })
  work()
  return { behind }
}
