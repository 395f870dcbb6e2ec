import type { ReadProblem } from '../../labels/code.ts'

/** What is wrong with a code that was read. The reader's own sentences are English. */
export const en = { problem: ({ message }: ReadProblem): string => message }
