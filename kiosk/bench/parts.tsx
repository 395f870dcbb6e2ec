import type { Signal } from '@preact/signals'
import type { CupContext } from '../../machines/cup/machine.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import type { State } from '../../machines/state.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { Press } from '../ui/buttons.tsx'
import { PageHead } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import { cautionsFor } from './cups.ts'
import type { Draft, Filled } from './draft.ts'

type Props = {
  readonly sheet: Sheet | undefined
  /** Whether activator is in it, or goes in. */
  readonly isActivated: boolean
}

/** What hurts here, where the work is. It defers to the maker's sheets and the law. */
export function MixCautions({ sheet, isActivated }: Props) {
  const { cautions, bench } = useWords()
  const { isMissing, names } = cautionsFor(sheet, isActivated)
  return (
    <section class="cautions minor" data-cautions={names.join(' ')}>
      {isMissing && <p class="sentence">{bench.hazardMissing}</p>}
      {names.map((name) => (
        <p key={name}>{cautions[name]}</p>
      ))}
    </section>
  )
}

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
    <Press act="again" isApart onPress={onAgain}>
      {words.value.bench.again}
    </Press>
  )
}

/** What the forms of one cup share. */
export type CupFormProps = {
  readonly state: State
  readonly id: string
  readonly cup: CupContext
  readonly now: number
}

export function FormHead({ title }: { title: string }) {
  const { words } = useShop()
  return <PageHead title={title} back={words.value.act.close} backTo={hashOf('cups')} />
}
