import { useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { useEffect, useRef } from 'preact/hooks'
import type { Rested } from '../../machines/refusalParams.ts'
import { isTaken } from '../commands/send.ts'
import { useWords } from '../commands/shop.ts'
import { type Sending, useCommands } from '../commands/useCommands.ts'
import { Field } from '../forms/fields.tsx'
import { historyIn } from '../words/historyIn.ts'
import { Answer } from './answer.tsx'
import { Hold } from './buttons.tsx'
import { Choice, worded } from './parts.tsx'
import { VOID_REASONS } from './voidReasons.ts'

type Props = {
  readonly entry: string
  readonly now: number
  readonly onVoided?: () => void
  /** The way to the entry that needs this one. */
  readonly wayTo?: (rested: Rested) => ComponentChildren
}

/** What a refused void says of the entry that needs it. */
function restedOf({ sent }: Sending): Rested | null {
  const problem = sent?.kind === 'refused' ? sent.refusal.problems?.[0] : undefined
  const limit = problem?.code === 'entryInUse' ? problem.params?.limit : undefined
  return limit?.why === 'rested' ? limit : null
}

const OTHER = 'OTHER'

/** A mistake: a coded reason, then held. The entry stays to be seen. */
export function VoidIt({ entry, now, onVoided = () => {}, wayTo }: Props) {
  const history = historyIn(useWords())
  const { sending, ask: send } = useCommands()
  const why = useSignal<string | null>(null)
  const text = useSignal('')
  const reason =
    why.value === OTHER && text.value.trim() !== '' ? `${OTHER}: ${text.value.trim()}` : why.value
  const answer = useRef<HTMLDivElement>(null)
  useEffect(() => {
    if (sending.value.sent !== null) answer.current?.scrollIntoView({ block: 'nearest' })
  }, [sending.value.sent])
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
      <div ref={answer}>
        <Answer
          sending={sending.value}
          now={now}
          wayOut={() => {
            const rested = restedOf(sending.value)
            return rested && wayTo?.(rested)
          }}
        />
      </div>
    </div>
  )
}
