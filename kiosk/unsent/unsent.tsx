import { useSignal } from '@preact/signals'
import type { Outbox } from '../commands/outbox.ts'
import { useOutbox } from '../commands/outboxContext.ts'
import { pictureOf } from '../commands/picture.ts'
import type { QueuedCommand, Trouble } from '../commands/queuedCommand.ts'
import { refusalText, wrongText } from '../commands/refusalText.ts'
import { useShop } from '../commands/shop.ts'
import { subjectOf } from '../commands/subject.ts'
import { Hold } from '../ui/hold.tsx'
import { PhotoImage } from '../ui/photoImage.tsx'
import type { ViewProps } from '../ui/view.ts'

/** What was pressed here and is not in the log: what waits, and what was not taken and why. */
export function Unsent({ kiosk }: ViewProps) {
  const { words } = useShop()
  const out = useOutbox()
  const { outbox } = words.value
  const queue = out?.queue.value ?? []
  const now = kiosk.reading.value.nowMs
  return (
    <section class="unsent">
      <h2>{outbox.title}</h2>
      {queue.length === 0 && <p>{outbox.empty}</p>}
      <ul>
        {out !== null &&
          queue.map((one) => <Row key={one.command.id} one={one} out={out} now={now} />)}
      </ul>
    </section>
  )
}

function Row({ one, out, now }: { one: QueuedCommand; out: Outbox; now: number }) {
  const { words, format } = useShop()
  const isBusy = useSignal(false)
  const { outbox } = words.value
  const { command, trouble } = one
  const photo = pictureOf(command)
  const reason = (of: Trouble) =>
    of.kind === 'wrong'
      ? wrongText(of.error, { words: words.value, format: format.value })
      : refusalText(of.refusal, {
          words: words.value,
          format: format.value,
          state: out.state.value,
          now,
        })
  const again = async () => {
    isBusy.value = true
    await (trouble === null ? out.flush() : out.tryAgain(one))
    isBusy.value = false
  }
  return (
    <li data-command={command.type} data-status={trouble === null ? 'unsent' : 'refused'}>
      <div class="what">
        <b>{outbox.does[command.type] ?? command.type}</b>
        <span>{subjectOf(out.state.value, one)}</span>
        {photo !== null && <PhotoImage class="line-photo" photo={photo} alt="" />}
        <span class="minor digits">
          {format.value.timeAndDay(command.at ?? command.enteredAt, now)}
        </span>
        {trouble === null ? (
          <span class="minor">{outbox.waits}</span>
        ) : (
          <p class="sentence">
            {outbox.notTaken} {reason(trouble)}
          </p>
        )}
      </div>
      <button type="button" disabled={isBusy.value} onClick={() => void again()}>
        {outbox.tryAgain}
      </button>
      <Hold onHeld={() => void out.discard(one)}>
        <span>
          {outbox.discard}
          <small>{words.value.act.hold}</small>
        </span>
      </Hold>
    </li>
  )
}
