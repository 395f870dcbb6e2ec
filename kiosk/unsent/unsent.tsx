import { useSignal } from '@preact/signals'
import { pictureOf } from '../commands/picture.ts'
import { type QueuedCommand, subjectOf } from '../commands/queuedCommand.ts'
import { troubleText, wrongText } from '../commands/refusalText.ts'
import { type Outbox, useOutbox, useShop } from '../commands/shop.ts'
import { Hold, Press } from '../ui/buttons.tsx'
import { PhotoImage, saveFile } from '../ui/outboxParts.tsx'
import type { ViewProps } from '../ui/screen.tsx'

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
      {out !== null && out.notKnown.value.length > 0 && (
        <div class="not-known">
          <p>{words.value.unsent.hint}</p>
          <Press act="saveNotKnown" onPress={() => save(out.notKnown.value)}>
            {words.value.unsent.save(out.notKnown.value.length)}
          </Press>
        </div>
      )}
      <ul>
        {out !== null &&
          queue.map((one) => <Row key={one.command.id} one={one} out={out} now={now} />)}
      </ul>
    </section>
  )
}

/** As the server takes them: the file can be sent as it is. */
const save = (commands: readonly object[]): void =>
  saveFile('flashbell-unsent.json', JSON.stringify(commands, null, 2), 'application/json')

function Row({ one, out, now }: { one: QueuedCommand; out: Outbox; now: number }) {
  const { words, format } = useShop()
  const isBusy = useSignal(false)
  const { outbox } = words.value
  const { command, trouble } = one
  const photo = pictureOf(command)
  const seen = { words: words.value, format: format.value, state: out.state.value, now }
  const again = async () => {
    isBusy.value = true
    await (trouble === null ? out.flush() : out.tryAgain(one))
    isBusy.value = false
  }
  return (
    <li
      data-command={command.type}
      data-status={
        trouble === null ? 'unsent' : trouble.kind === 'notKnown' ? 'notKnown' : 'refused'
      }
    >
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
            {trouble.kind !== 'notKnown' && `${outbox.notTaken} `}
            {troubleText(trouble, seen)}
          </p>
        )}
        {trouble?.kind === 'notKnown' && (
          <span class="minor">{wrongText(trouble.error, seen)}</span>
        )}
      </div>
      <Press isOff={isBusy.value} onPress={again}>
        {words.value.unsent.tryAgain}
      </Press>
      <Hold onHeld={() => void out.discard(one)}>
        <span>
          {words.value.unsent.discard}
          <small>{words.value.act.hold}</small>
        </span>
      </Hold>
    </li>
  )
}
