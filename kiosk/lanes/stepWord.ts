import type { Words } from '../words/en.ts'
import type { Lane } from './lanes.ts'

/** What a step is called: by what is done in it, where it says so. */
export const stepWord = ({ stage, work }: Pick<Lane, 'stage' | 'work'>, words: Words): string =>
  work === null ? (stage === null ? '' : words.stage[stage]) : words.work[work]
