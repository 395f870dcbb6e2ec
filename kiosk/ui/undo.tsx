import { useEffect } from 'preact/hooks'
import { contextOf } from '../../machines/state.ts'
import { lastPress, lastUndone } from '../commands/presses.ts'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useSend } from '../commands/useSend.ts'
import { Answer } from './answer.tsx'

/** For this long one more touch undoes a press. */
export const UNDO_MS = 10_000
const MISTAP = { reason: 'MISTAP' } as const

/** What was just pressed here, and one touch that voids it. Nothing is deleted: a void is an entry. */
export function UndoBar({ now }: { now: number }) {
  const { words, state } = useShop()
  const { sending, ask, clear } = useSend()
  const press = lastPress.value
  useEffect(() => {
    clear()
    if (press === null) return
    const timer = setTimeout(() => {
      if (lastPress.value === press) lastPress.value = null
    }, UNDO_MS)
    return () => clearTimeout(timer)
  }, [press])
  if (press === null) return null
  const undo = async () => {
    for (const command of press.commands.toReversed()) {
      const sent = await ask('VoidEntry', { command, ...MISTAP })
      // A refusal is shown here with its sentence until the bar goes.
      if (!isTaken(sent)) return
    }
    lastUndone.value = press
    if (lastPress.value === press) lastPress.value = null
  }
  const names = press.panels.map(
    (id) => (state.value && contextOf(state.value, 'panel', id)?.name) ?? id,
  )
  const { board, outbox } = words.value
  return (
    <section class="undo-bar" aria-label={board.undoing}>
      <p role="status">
        <b>{outbox.does[press.type] ?? press.type}</b> {names.join(', ')}
      </p>
      <button
        type="button"
        data-act="undo"
        disabled={sending.value.busy}
        onClick={() => void undo()}
      >
        {words.value.act.undo}
      </button>
      <Answer sending={sending.value} now={now} />
    </section>
  )
}
