import type { PersonContext } from '../../machines/people/context.ts'
import { who } from '../commands/queuedCommand.ts'
import { useShop } from '../commands/shop.ts'
import { Press } from '../ui/buttons.tsx'
import { useOver } from '../ui/over.ts'

type Props = {
  readonly people: readonly { readonly id: string; readonly person: PersonContext }[]
  readonly onChoose: (id: string | null) => void
  readonly onBack: () => void
}

/** Whose name what is pressed here has: one touch, large names. */
export function WhoDialog({ people, onChoose, onBack }: Props) {
  const { board, who: say } = useShop().words.value
  const box = useOver<HTMLDivElement>(onBack)
  return (
    <div
      class="who-dialog"
      ref={box}
      tabIndex={-1}
      role="dialog"
      aria-modal="true"
      aria-label={say.title}
    >
      <h2>{say.title}</h2>
      <p class="minor">{say.hint}</p>
      <div class="people">
        {people.map(({ id, person }) => (
          <button
            type="button"
            key={id}
            class="person"
            aria-pressed={id === who.value}
            onClick={() => onChoose(id)}
          >
            <span>
              {person.name}
              <small>{say.roles[person.role]}</small>
            </span>
          </button>
        ))}
        <Press onPress={() => onChoose(null)}>{say.nobody}</Press>
      </div>
      <Press onPress={onBack}>{board.back}</Press>
    </div>
  )
}
