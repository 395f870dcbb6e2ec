import type { Words } from '../words/en.ts'
import { historyIn } from '../words/historyIn.ts'

/** A coded reason in words; free text as it is. */
export function reasonText(reason: string, words: Words): string {
  const [code = '', ...said] = reason.split(': ')
  const name = historyIn(words).voidReasons[code] ?? (words.reasons as Record<string, string>)[code]
  if (name === undefined) return reason
  return said.length === 0 ? name : `${name}: ${said.join(': ')}`
}
