import type { NotTaken } from '../../machines/job/notTaken.ts'
import { contextOf, type State } from '../../machines/state.ts'
import type { Words } from '../words/en.ts'

/** What a shop calls the things and people that entries name by id, and where things stood, in words. */

export type Names = {
  readonly gun: (id: string) => string
  readonly zone: (id: string) => string
  readonly person: (id: string) => string
}

/** An id that was never given a name is its own: zones and guns may be used before they are saved. */
export const namesIn = (state: State): Names => ({
  gun: (id) => contextOf(state, 'gun', id)?.spec?.name ?? id,
  zone: (id) => contextOf(state, 'zone', id)?.spec?.name ?? id,
  person: (id) => contextOf(state, 'person', id)?.name || id,
})

/** Why an entry does not count: "a coat of it was running". A state without words of its own is said by its last part. */
export function stoodText({ kind, stood }: NotTaken, words: Words): string {
  const said: Readonly<Record<string, string>> = words.jobs.history.stood[kind]
  return said[stood] ?? said[stood.split('.').at(-1) ?? ''] ?? stood
}
