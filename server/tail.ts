import type { ServerStanding, TailMessage } from '../machines/contract.ts'
import type { Entry } from '../machines/envelope.ts'
import { FOLD_VERSION } from '../machines/state.ts'
import { entryFrame, retryField, tailFrame } from './frames.ts'
import type { Writer } from './handle.ts'
import { emptyHead } from './log/chain.ts'
import { type StandingDeps, standingOf } from './standing.ts'
import { readTailId, tailId } from './tailId.ts'
import { openStream, type Stream } from './tailStream.ts'
import { workTurn } from './turn.ts'

/** How often a client hears the server's time, and that the line is alive. */
export const BEAT_MS = 5_000
const RETRY_MS = 1_000
const PAGE = 200
/** How many of the newest entries stay in memory; a client further behind reads from the log. */
const RECENT_MOST = 1_000
/** As many are left when there are more: one by one, all of them would be copied at every commit. */
const RECENT_LEAST = 500
/** What puts the time right, or shows that it is in doubt. */
const OF_CLOCK: readonly string[] = ['ClockJumped', 'ClockConfirmed']

export type Tails = {
  /**
   * A stream of everything committed after an id.
   * @param from a tail id, or a bare position; without one from the first entry on
   */
  readonly open: (from?: string) => Stream
}

type TailsDeps = StandingDeps & {
  readonly writer: Writer
  readonly build: string
  readonly report: (error: unknown) => void
}

/** The live tails of a shop: each has its own place in the log and is sent all that lies beyond it. */
export function createTails(deps: TailsDeps): Tails {
  const { writer, clock, build, report } = deps
  const streams = new Set<Stream>()
  let recent: Entry[] = []
  let stopBeats: (() => void) | null = null

  writer.follow((news) => {
    if (news.kind === 'committed') keepRecent(news.entries)
    else recent = []
    for (const stream of streams) news.kind === 'committed' ? stream.wake() : stream.end()
    // A kiosk that hears of it first at the next beat would press with the old time until then.
    if (news.kind === 'committed' && news.entries.some(({ type }) => OF_CLOCK.includes(type)))
      beat()
  })

  function keepRecent(entries: readonly Entry[]): void {
    const isNext = recent.at(-1)?.position === (entries[0]?.position ?? 0) - 1
    if (isNext) recent.push(...entries)
    else recent = [...entries]
    if (recent.length > RECENT_MOST) recent = recent.slice(-RECENT_LEAST)
  }

  async function after(position: number): Promise<readonly Entry[]> {
    const { head } = writer.state()
    if (position >= head) return []
    const first = recent[0]?.position ?? Number.POSITIVE_INFINITY
    if (position >= first - 1) return recent.slice(position + 1 - first).slice(0, PAGE)
    // Readers of a long history wait for each other, and nobody else for all of them.
    await workTurn()
    const page = await writer.reader.page({ after: position, limit: PAGE })
    // A slow store may show what its commit has not been answered for yet.
    return page.filter((entry) => entry.position <= head)
  }

  /** The position of an id, or null for one that this log does not have. */
  async function locate(from: string): Promise<number | null> {
    const place = readTailId(from)
    if (!place || place.position > writer.state().head) return null
    const { position, hash8 } = place
    if (hash8 === null) return position
    return (await hashAt(position))?.startsWith(hash8) ? position : null
  }

  async function hashAt(position: number): Promise<string | undefined> {
    if (position === 0) return emptyHead(writer.shop).hash
    // All kiosks come again at once when a line was cut.
    const first = recent[0]?.position ?? Number.POSITIVE_INFINITY
    if (position >= first) return recent[position - first]?.hash
    const [entry] = await writer.reader.page({ after: position - 1, limit: 1 })
    return entry?.hash
  }

  const standing = (): ServerStanding => standingOf(deps)

  const hello = (): TailMessage => ({
    kind: 'hello',
    build,
    foldVersion: FOLD_VERSION,
    head: writer.state().head,
    ...standing(),
  })

  async function begin(from: string | undefined) {
    const frames = [retryField(RETRY_MS), tailFrame(hello())]
    const known = from ? await locate(from) : 0
    if (known !== null) return { position: known, frames }
    // The log was cut, restored or replaced: all that this client has folded is of another one.
    const { head, headHash } = writer.state()
    const tail = tailId({ position: head, hash: headHash })
    const params = { unknown: from ?? '', head }
    const reset = tailFrame({ kind: 'reset', code: 'unknownTail', params, tail }, tail)
    return { position: head, frames: [...frames, reset] }
  }

  function beat(): void {
    for (const stream of streams) stream.beat(clock.now())
  }

  return {
    open(from) {
      const stream = openStream({
        begin: () => begin(from),
        after,
        frameOf: entryFrame,
        beatFrame: () => tailFrame({ kind: 'beat', ...standing() }),
        report,
        onEnd: () => {
          streams.delete(stream)
          if (streams.size > 0) return
          stopBeats?.()
          stopBeats = null
        },
      })
      streams.add(stream)
      stopBeats ??= clock.every(BEAT_MS, beat)
      return stream
    },
  }
}
