import { parentPort } from 'node:worker_threads'

export type Asked<Question> = { readonly id: number; readonly question: Question }
export type Answered<Answer> = { readonly id: number } & (
  | { readonly answer: Answer }
  /** The stack of what was thrown. */
  | { readonly fault: string }
)

/** What the program of a thread does: it answers what thread.ts asks, until it is ended. */
export function answering<Question, Answer>(answer: (question: Question) => Promise<Answer>): void {
  parentPort?.on('message', ({ id, question }: Asked<Question>) => {
    void answer(question)
      .then(
        (given): Answered<Answer> => ({ id, answer: given }),
        (error): Answered<Answer> => ({
          id,
          fault: String(error instanceof Error ? error.stack : error),
        }),
      )
      .then((answered) => parentPort?.postMessage(answered))
  })
}
