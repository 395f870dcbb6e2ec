import type { Entry } from '../machines/envelope.ts'

/** One client's tail. */
export type Stream = {
  readonly body: ReadableStream<Uint8Array>
  /** There is something new. */
  readonly wake: () => void
  /** Time to send a beat; and to drop a client that has taken nothing for long. */
  readonly beat: (now: number) => void
  /** Ends it as if all were sent: the client comes again by itself. */
  readonly end: () => void
}

type Source = {
  /** Where it starts, and what is sent first. */
  readonly begin: () => Promise<{
    readonly position: number
    readonly frames: readonly Uint8Array[]
  }>
  readonly after: (position: number) => Promise<readonly Entry[]>
  readonly frameOf: (entry: Entry) => Uint8Array
  readonly beatFrame: () => Uint8Array
  readonly report: (error: unknown) => void
  /** Called once. */
  readonly onEnd: () => void
}

type Controller = ReadableStreamDefaultController<Uint8Array>

/** So much may lie ready for a client; the rest waits in the log. */
const READY_BYTES = 64 * 1024
const SLOW_MS = 10_000

/**
 * A stream that is pulled: a client that reads nothing costs no more than what is ready for it,
 * and holds up nobody else.
 */
export function openStream(source: Source): Stream {
  let controller: Controller | null = null
  let position: number | null = null
  /** What was read and waits for the client to take what is ready: it is not read again for each piece. */
  let page: readonly Entry[] = []
  let isBeatDue = false
  let isEnded = false
  let fullSince: number | null = null
  let wakeUp: (() => void) | null = null
  let isNews = false

  function wake(): void {
    isNews = true
    wakeUp?.()
  }

  const news = (): Promise<void> =>
    new Promise((done) => {
      wakeUp = done
    })

  function finish(how: (controller: Controller) => void): void {
    if (isEnded) return
    isEnded = true
    wake()
    source.onEnd()
    if (controller) how(controller)
  }

  const end = (): void => finish((c) => c.close())

  /** Sends what there is; whether there was anything. */
  async function send(to: Controller): Promise<boolean> {
    if (position === null) {
      const start = await source.begin()
      if (isEnded) return false
      position = start.position
      for (const frame of start.frames) to.enqueue(frame)
      return true
    }
    if (isBeatDue) {
      isBeatDue = false
      to.enqueue(source.beatFrame())
      return true
    }
    if (page.length === 0) page = await source.after(position)
    const isAny = page.length > 0
    let sent = 0
    for (const entry of page) {
      if (isEnded || (to.desiredSize ?? 0) <= 0) break
      to.enqueue(source.frameOf(entry))
      position = entry.position
      sent += 1
    }
    page = page.slice(sent)
    return isAny
  }

  async function pull(to: Controller): Promise<void> {
    try {
      while (!isEnded) {
        isNews = false
        if (await send(to)) return
        if (!isNews) await news()
      }
    } catch (error) {
      // The log could not be read. Ended, not failed: a client comes again and is sent the rest.
      source.report(error)
      end()
    }
  }

  function beat(now: number): void {
    const isFull = (controller?.desiredSize ?? 1) <= 0
    fullSince = isFull ? (fullSince ?? now) : null
    if (fullSince !== null && now - fullSince >= SLOW_MS) {
      finish((c) => c.error(new Error('The client took nothing for too long.')))
      return
    }
    isBeatDue = true
    wake()
  }

  const body = new ReadableStream<Uint8Array>(
    {
      start: (to) => {
        controller = to
      },
      pull,
      cancel: () => finish(() => {}),
    },
    { highWaterMark: READY_BYTES, size: (chunk) => chunk?.byteLength ?? 0 },
  )
  return { body, wake, beat, end }
}
