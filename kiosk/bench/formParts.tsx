import type { CupContext } from '../../machines/cup/machine.ts'
import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import { PageHead } from '../ui/pageHead.tsx'
import { hashOf } from '../ui/route.ts'

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
