import type { Entry } from '../../../machines/envelope.ts'
import { walkLog } from '../../support/golden.ts'

/** Folds a log in this browser and gives back what it came to, as JSON. */
declare global {
  interface Window {
    walkLog: (jsonl: string, firstHash: string) => string
  }
}

window.walkLog = (jsonl, firstHash) => {
  const entries = jsonl
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as Entry)
  return JSON.stringify(walkLog(entries, firstHash))
}
