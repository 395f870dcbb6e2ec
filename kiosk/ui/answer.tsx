import type { ReadonlySignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { troubleText } from '../commands/refusalText.ts'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import type { Sending } from '../commands/useCommands.ts'
import { isChoosing } from '../commands/who.ts'
import { countdown } from '../units/format.ts'

/** The coded reasons of an override: nobody types with gloves on. */
const REASONS = [
  'DELIBERATE_TECHNIQUE',
  'CLIMATE',
  'WAITED_FOR_BOOTH',
  'EQUIPMENT',
  'BREAK',
  'UNKNOWN',
] as const

type Props = {
  readonly sending: Sending
  /** A signal is read, and followed, only where something counts down. */
  readonly now: number | ReadonlySignal<number>
  /** Asks the same again with an override. Without it, none is offered. */
  readonly onOverride?: (reason: string) => void
}

const Sentence = ({ children }: { children: ComponentChildren }) => (
  <p class="sentence" role="alert">
    {children}
  </p>
)

/** What became of a command, in a sentence; an override with a coded reason where one may be given. */
export function Answer({ sending, now: given, onOverride }: Props) {
  const { words, format, state } = useShop()
  const { sent, busy } = sending
  if (busy) {
    return (
      <p class="sentence sending" role="status">
        {words.value.sending}
      </p>
    )
  }
  if (sent === null || isTaken(sent)) return null
  if (sent.kind === 'away') {
    return <Sentence>{sent.isFull ? words.value.outbox.full : words.value.notSent}</Sentence>
  }
  const now = typeof given === 'number' ? given : given.value
  const seen = { words: words.value, format: format.value, state: state.value, now }
  const said = troubleText(sent, seen)
  if (sent.kind !== 'refused') return <Sentence>{said}</Sentence>
  const { code, clearsAt, overridable } = sent.refusal
  const leftMs = clearsAt === undefined ? 0 : clearsAt - now
  return (
    <div class="refusal">
      <Sentence>
        {said} {leftMs > 0 && <b class="digits">{words.value.clearsIn(countdown(leftMs))}</b>}
      </Sentence>
      {code === 'noPerson' && (
        <button
          type="button"
          data-act="who"
          onClick={() => {
            isChoosing.value = true
          }}
        >
          {words.value.board.who}
        </button>
      )}
      {overridable && onOverride && (
        <details>
          <summary class="button">{words.value.act.overrideAsk}</summary>
          <div class="reasons">
            {REASONS.map((reason) => (
              <button type="button" key={reason} onClick={() => onOverride(reason)}>
                {words.value.reasons[reason]}
              </button>
            ))}
          </div>
        </details>
      )}
    </div>
  )
}
