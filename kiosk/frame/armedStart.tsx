import type { State } from '../../machines/state.ts'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { type Armed, arm, disarm, nextOf } from '../lanes/armed.ts'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { countdown } from '../units/format.ts'

type Props = { readonly state: State; readonly start: Armed; readonly now: number }

/** A start that was got ready, with its key when flash is over. */
export function ArmedStart({ start, state, now }: Props) {
  const { words } = useShop()
  const { sending, ask } = useCommands()
  const { board } = words.value
  const isDue = nextOf(state, start, now).kind === 'due'
  const { sent, busy } = sending.value
  const press = async () => {
    const said = await ask('StartCoat', start.data)
    if (isTaken(said)) disarm(start.panels)
    // By the server's climate flash ends later: the start stays ready until then.
    if (said.kind === 'refused' && said.refusal.code === 'flashNotOver' && said.refusal.clearsAt)
      arm({ ...start, untilMs: said.refusal.clearsAt })
  }
  return (
    <div class="armed" data-due={isDue ? '' : undefined}>
      <p>
        <b>{isDue ? board.armedDue(start.label) : board.armedTitle(start.label)}</b>{' '}
        {!isDue && board.armed(countdown(Math.max(0, start.untilMs - now)))}
      </p>
      {isDue && (
        <Press act="startArmed" isMain isOff={busy} onPress={press}>
          {board.start}
        </Press>
      )}
      <Press act="disarm" onPress={() => disarm(start.panels)}>
        {board.cancel}
      </Press>
      {sent !== null && !isTaken(sent) && (
        <>
          <p>{board.armedLost}</p>
          <Answer sending={sending.value} now={now} />
        </>
      )}
    </div>
  )
}
