import type { ReadonlySignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { contextOf } from '../../machines/state.ts'
import { lastPress } from '../commands/presses.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Answer } from './answer.tsx'

/** For this long one more touch undoes a press. */
const UNDO_MS = 10_000

/** What was just pressed here, and one touch that voids it. Nothing is deleted: a void is an entry. */
export function UndoBar({ now }: { now: ReadonlySignal<number> }) {
  const { words, state } = useShop()
  const { sending, undo, clear } = useCommands()
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
        onClick={() => void undo(press)}
      >
        {words.value.act.undo}
      </button>
      <Answer sending={sending.value} now={now} />
    </section>
  )
}
