import type { Worker } from 'node:worker_threads'
import type { Answered, Asked, Drawings } from './labelWorker.ts'

/**
 * Labels are drawn on a thread of their own: loading what draws them, and a whole label before the engine has
 * compiled it, take longer than anybody else's answer should wait. The thread begins with the first label, or
 * with `warm`; it holds no process open, and one that broke down is begun again with the next label. Each of
 * them throws what the drawing threw, or that the thread broke down.
 */
export type LabelThread = Drawings & {
  /** Ends the thread; what was asked of it fails. */
  readonly end: () => void
}

type Waiting = {
  readonly done: (drawn: string | Uint8Array) => void
  readonly fail: (why: Error) => void
}

export function labelThread(): LabelThread {
  let worker: Worker | null = null
  let lastId = 0
  const waiting = new Map<number, Waiting>()

  function broken(why: string): void {
    void worker?.terminate()
    worker = null
    const all = [...waiting.values()]
    waiting.clear()
    for (const { fail } of all) fail(new Error(why))
  }

  function heard(answer: Answered): void {
    const asked = waiting.get(answer.id)
    waiting.delete(answer.id)
    if ('fault' in answer) asked?.fail(new Error(answer.fault))
    else asked?.done(answer.drawn)
  }

  function begun(): Worker {
    // Loaded with the thread: a start takes a millisecond less.
    const { Worker } = process.getBuiltinModule('node:worker_threads')
    const made = new Worker(new URL('./labelWorker.ts', import.meta.url))
    made.on('message', heard)
    made.on('error', ({ message }: Error) => {
      if (worker === made) broken(`The thread that draws labels broke down: ${message}`)
    })
    made.unref()
    worker = made
    return made
  }

  const drawn = (form: keyof Drawings) =>
    ((...given: readonly unknown[]) =>
      new Promise<string | Uint8Array>((done, fail) => {
        lastId += 1
        waiting.set(lastId, { done, fail })
        ;(worker ?? begun()).postMessage({ id: lastId, form, given } satisfies Asked)
      })) as never

  return {
    ...{ svg: drawn('svg'), png: drawn('png'), pdf: drawn('pdf'), raster: drawn('raster') },
    warm: drawn('warm'),
    end: () => broken('The server ends.'),
  }
}

/** The one of this process. */
export const labels = labelThread()
