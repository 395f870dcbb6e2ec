import type { Worker } from 'node:worker_threads'
import type { Answered, Asked } from './threadSide.ts'

/** A thread that answers questions. */
export type Thread<Question, Answer> = {
  /** @throws what the thread threw, or that it broke down */
  readonly ask: (question: Question) => Promise<Answer>
  /** Ends it; what was asked of it fails. */
  readonly end: () => void
}

type Waiting<Answer> = {
  readonly done: (answer: Answer) => void
  readonly fail: (why: Error) => void
}

/**
 * Work that takes longer than anybody else's answer should wait, on a thread of its own. It begins with the first
 * question and holds no process open; one that broke down is begun again with the next question.
 * @param file its program, which answers by `answering` of threadSide.ts
 * @param which of the threads, for whoever reads that it broke down
 */
export function threadOf<Question, Answer>(file: URL, which: string): Thread<Question, Answer> {
  let worker: Worker | null = null
  let lastId = 0
  const waiting = new Map<number, Waiting<Answer>>()

  function broken(why: string): void {
    void worker?.terminate()
    worker = null
    const all = [...waiting.values()]
    waiting.clear()
    for (const { fail } of all) fail(new Error(why))
  }

  function heard(answered: Answered<Answer>): void {
    const asked = waiting.get(answered.id)
    waiting.delete(answered.id)
    if ('fault' in answered) asked?.fail(new Error(answered.fault))
    else asked?.done(answered.answer)
  }

  function begun(): Worker {
    // Loaded with the thread: a start takes a millisecond less.
    const { Worker } = process.getBuiltinModule('node:worker_threads')
    const made = new Worker(file)
    made.on('message', heard)
    made.on('error', ({ message }: Error) => {
      if (worker === made) broken(`The thread ${which} broke down: ${message}`)
    })
    made.unref()
    worker = made
    return made
  }

  return {
    ask: (question) =>
      new Promise((done, fail) => {
        lastId += 1
        waiting.set(lastId, { done, fail })
        ;(worker ?? begun()).postMessage({ id: lastId, question } satisfies Asked<Question>)
      }),
    end: () => broken('The server ends.'),
  }
}
