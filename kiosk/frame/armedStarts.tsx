import { type ReadonlySignal, useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { State } from '../../machines/state.ts'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import type { Settings } from '../device/settings.ts'
import { type Armed, arm, armed, disarm, nextOf, readArmed, retimed } from '../lanes/armed.ts'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { countdown } from '../units/format.ts'

const KEPT = 'armed'

type Props = {
  readonly state: State
  readonly now: ReadonlySignal<number>
  readonly settings: Settings
}

/** Starts that were got ready: seen on every screen, with their key when flash is over. */
export function ArmedStarts({ state, now: ticking, settings }: Props) {
  const { words } = useShop()
  const forgotten = useSignal<readonly string[]>([])
  // While nothing waits there is nothing to look at the clock for.
  const now = armed.value.length > 0 ? ticking.value : ticking.peek()
  useEffect(() => {
    if (armed.peek().length === 0) armed.value = readArmed(settings.kept(KEPT))
    return armed.subscribe((all) =>
      settings.keep(KEPT, all.length === 0 ? null : JSON.stringify(all)),
    )
  }, [])
  useEffect(() => {
    for (const start of armed.value) {
      const { kind } = nextOf(state, start, now)
      if (kind === 'over' || kind === 'forgotten') disarm(start.panels)
      if (kind === 'forgotten') forgotten.value = [...forgotten.value, start.label]
      const again = retimed(state, start, now)
      if (again !== start) arm(again)
    }
  }, [now, state])
  const { board, act } = words.value
  return (
    <>
      {armed.value.map((start) => (
        <ArmedStart key={start.panels.join()} start={start} state={state} now={now} />
      ))}
      {forgotten.value.map((label, i) => (
        <div class="armed" role="alert" data-forgotten key={`${i} ${label}`}>
          <p>
            <b>{board.armedForgotten(label)}</b>
          </p>
          <Press
            onPress={() => {
              forgotten.value = forgotten.value.toSpliced(i, 1)
            }}
          >
            {act.close}
          </Press>
        </div>
      ))}
    </>
  )
}

type StartProps = Pick<Props, 'state'> & { readonly start: Armed; readonly now: number }

function ArmedStart({ start, state, now }: StartProps) {
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
