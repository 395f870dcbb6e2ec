import type { Sheet } from '../../machines/sheet/schema.ts'
import { useShop } from '../commands/shop.ts'
import { cautionsFor } from './caution.ts'

type Props = {
  readonly sheet: Sheet | undefined
  /** Whether activator is in it, or goes in. */
  readonly isActivated: boolean
}

/** What hurts here, where the work is. It defers to the maker's sheets and the law. */
export function MixCautions({ sheet, isActivated }: Props) {
  const { words } = useShop()
  const { cautions, bench } = words.value
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
