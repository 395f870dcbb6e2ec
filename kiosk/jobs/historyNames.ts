import { contextOf, type State } from '../../machines/state.ts'

/** What a shop calls the things and people that entries name by id. */

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
