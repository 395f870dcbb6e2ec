import { useSignal } from '@preact/signals'
import { isTaken } from '../commands/send.ts'
import { useWords } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Field } from '../forms/fields.tsx'
import { historyIn } from '../words/historyIn.ts'
import { Answer } from './answer.tsx'
import { Hold } from './buttons.tsx'
import { Choice, worded } from './parts.tsx'
import { VOID_REASONS } from './voidReasons.ts'

type Props = { readonly entry: string; readonly now: number; readonly onVoided?: () => void }

const OTHER = 'OTHER'

/** A mistake: a coded reason, then held. The entry stays to be seen. */
export function VoidIt({ entry, now, onVoided = () => {} }: Props) {
  const history = historyIn(useWords())
  const { sending, ask: send } = useCommands()
  const why = useSignal<string | null>(null)
  const text = useSignal('')
  const reason =
    why.value === OTHER && text.value.trim() !== '' ? `${OTHER}: ${text.value.trim()}` : why.value
  const take = async () => {
    const sent = await send('VoidEntry', { entry, reason: reason ?? OTHER })
    if (isTaken(sent)) onVoided()
  }
  const isSaid = why.value !== null && (why.value !== OTHER || text.value.trim() !== '')
  return (
    <div class="void-it">
      <Choice
        word={history.voidAsk}
        options={worded(VOID_REASONS, (code) => history.voidReasons[code] ?? code)}
        picked={why.value}
        onPick={(code) => {
          why.value = code
        }}
      />
      {why.value === OTHER && (
        <Field
          name="void-text"
          word={history.otherText}
          value={text.value}
          onInput={(typed) => {
            text.value = typed
          }}
        />
      )}
      {isSaid && (
        <div class="acts apart-above">
          <Hold onHeld={() => void take()}>{history.voidHold}</Hold>
        </div>
      )}
      <Answer sending={sending.value} now={now} />
    </div>
  )
}
