import { useEffect, useRef } from 'preact/hooks'
import type { State } from '../../machines/state.ts'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import type { Settings } from '../device/settings.ts'
import { arm, armed, disarm, nextOf, readArmed, retimed } from '../lanes/armed.ts'
import { Answer } from '../ui/answer.tsx'
import { countdown } from '../units/format.ts'

const KEPT = 'armed'

type Props = { readonly state: State; readonly now: number; readonly settings: Settings }

/** Starts that wait for the end of flash: seen on every screen, sent when it comes, called off with a touch. */
export function ArmedStarts({ state, now, settings }: Props) {
  const { words } = useShop()
  const { sending, ask, clear } = useCommands()
  const isSending = useRef(false)
  useEffect(() => {
    if (armed.peek().length === 0) armed.value = readArmed(settings.kept(KEPT), now)
    return armed.subscribe((all) =>
      settings.keep(KEPT, all.length === 0 ? null : JSON.stringify(all)),
    )
  }, [])
  useEffect(() => {
    for (const start of armed.value) {
      const next = nextOf(state, start, now)
      if (next.kind === 'over') disarm(start.panels)
      const again = retimed(state, start, now)
      if (again !== start) arm(again)
      if (next.kind !== 'due' || isSending.current) continue
      isSending.current = true
      void ask('StartCoat', start.data).then((sent) => {
        isSending.current = false
        disarm(start.panels)
        // By the server's climate flash ends later: the start stays armed until then.
        const later = sent.kind === 'refused' && sent.refusal.code === 'flashNotOver'
        if (later && sent.refusal.clearsAt) arm({ ...start, untilMs: sent.refusal.clearsAt })
        if (later || isTaken(sent)) clear()
      })
    }
  }, [now, state])
  const { board } = words.value
  const { sent } = sending.value
  const wasLost = sent !== null && !isTaken(sent)
  return (
    <>
      {armed.value.map((start) => (
        <div class="armed" key={start.panels.join()}>
          <p>
            <b>{board.armedTitle(start.label)}</b>{' '}
            {board.armed(countdown(Math.max(0, start.untilMs - now)))}
          </p>
          <button type="button" data-act="disarm" onClick={() => disarm(start.panels)}>
            {board.cancel}
          </button>
        </div>
      ))}
      {wasLost && (
        <div class="armed">
          <p>{board.armedLost}</p>
          <Answer sending={sending.value} now={now} />
          <button type="button" onClick={clear}>
            {words.value.act.close}
          </button>
        </div>
      )}
    </>
  )
}
