import type { Json } from '../../machines/envelope.ts'
import type { Words } from '../words/en.ts'

/** "step 2, base," and "base with its-sheet" are how the rules name one step; else a list. */
const STEP = /^(?:step \d+, )?(?<stage>[a-z-]+)(?:,| with (?<sheet>\S+))?$/

/**
 * Stages and ways of curing, as the rules name them, in the shop's language. Pure.
 * @returns null for what is neither
 */
export function namesIn(list: Json, words: Words): string | null {
  if (typeof list !== 'string') return null
  const known: Readonly<Record<string, string>> = { ...words.stage, ...words.jobs.cures }
  const step = STEP.exec(list)?.groups
  if (step) {
    const name = known[step.stage ?? '']
    return name === undefined ? null : [name, step.sheet].filter(Boolean).join(' ')
  }
  const names = list.split(', ').map((one) => known[one])
  return names.every((name) => name !== undefined) ? names.join(', ') : null
}
