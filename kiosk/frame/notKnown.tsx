import { useMemo } from 'preact/hooks'
import type { State } from '../../machines/state.ts'
import { type Awaited, longAwaited } from '../../machines/waiting.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { type Kiosk, slowNow } from '../device/runtime.ts'
import { Answer } from '../ui/answer.tsx'
import { Hold } from '../ui/buttons.tsx'
import { hashOf } from '../ui/route.ts'

/** What was named ten minutes ago and nobody has recorded: said on every screen until somebody does. */
export function NotKnown({ kiosk, state }: { kiosk: Kiosk; state: State }) {
  const now = slowNow(kiosk).value
  const all = useMemo(() => longAwaited(state, now), [state, now])
  return (
    <>
      {all.map((one) => (
        <OneNotKnown key={`${one.kind} ${one.id}`} of={one} now={now} />
      ))}
    </>
  )
}

function OneNotKnown({ of: { kind, id, entries }, now }: { of: Awaited; now: number }) {
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
