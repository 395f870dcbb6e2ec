import { useShop } from '../commands/shop.ts'
import { hashOf } from './route.ts'

const PARTS = { mix: 'bench', cups: 'cups', calculator: 'calculator' } as const

/** The parts of the Bench: mixing, what is mixed, the calculator. */
export function Parts({ shown }: { shown: keyof typeof PARTS }) {
  const { words } = useShop()
  return (
    <div class="parts">
      {(Object.keys(PARTS) as (keyof typeof PARTS)[]).map((part) => (
        <a
          class="button"
          key={part}
          href={hashOf(PARTS[part])}
          aria-current={part === shown ? 'page' : undefined}
        >
          {words.value.bench.parts[part]}
        </a>
      ))}
    </div>
  )
}
