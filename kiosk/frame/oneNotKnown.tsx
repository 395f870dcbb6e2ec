import type { Awaited } from '../../machines/waiting.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Answer } from '../ui/answer.tsx'
import { Hold } from '../ui/buttons.tsx'
import { hashOf } from '../ui/route.ts'

/** One thing that was named and is not known, and the two ways out. */
export function OneNotKnown({ of: { kind, id, entries }, now }: { of: Awaited; now: number }) {
  const { words } = useShop()
  const { sending, all } = useCommands()
  const { notKnown: say } = words.value
  const datas = entries.map((entry) => ({ entry, reason: 'MISTAP' }))
  return (
    <section class="notice" role="status" data-not-known={id}>
      <p>
        <b>{say[kind](id)}</b> {say.waits(entries.length)}
      </p>
      <div class="keys">
        {kind === 'cup' && (
          <a class="button" href={hashOf('bench', 'cup', id)}>
            {say.mix}
          </a>
        )}
        <Hold onHeld={() => void all('VoidEntry', datas)}>{say.voidHold}</Hold>
      </div>
      <Answer sending={sending.value} now={now} />
    </section>
  )
}
