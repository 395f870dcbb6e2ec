import type { Signal } from '@preact/signals'
import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import type { Draft, Filled } from './draft.ts'

/** What each step of mixing needs. */
export type StepProps = {
  readonly state: State
  readonly draft: Signal<Draft>
  readonly it: Filled
  readonly now: number
}

/** Empties the form; what was poured by it is forgotten. */
export function Again({ onAgain }: { onAgain: () => void }) {
  const { words } = useShop()
  return (
    <button type="button" class="apart" data-act="again" onClick={onAgain}>
      {words.value.bench.again}
    </button>
  )
}
