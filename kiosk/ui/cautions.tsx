import { useWords } from '../commands/shop.ts'
import type { Caution } from '../lanes/cautions.ts'

/** What hurts here, where the work is. It defers to the maker's sheets and the law. */
export function Cautions({ names }: { readonly names: readonly Caution[] }) {
  const { cautions, sealed } = useWords()
  if (names.length === 0) return null
  return (
    <section class="cautions minor" data-cautions={names.join(' ')}>
      {names.map((name) => (
        <p key={name}>{name === 'sealed' ? sealed : cautions[name]}</p>
      ))}
    </section>
  )
}
