import type { ReadonlySignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { useEffect } from 'preact/hooks'
import { panelName } from '../commands/panelName.ts'
import { lastPress, offered } from '../commands/presses.ts'
import { isChoosing } from '../commands/queuedCommand.ts'
import { type ToldRefusal, troubleText } from '../commands/refusalText.ts'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { type Sending, useCommands } from '../commands/useCommands.ts'
import { countdown } from '../units/format.ts'
import { allHere } from '../words/words.ts'
import { Press } from './buttons.tsx'
import { Reasons } from './reasons.tsx'

/** The coded reasons of an override: nobody types with gloves on. */
const REASONS = [
  'DELIBERATE_TECHNIQUE',
  'WRONG_MIX',
  'CLIMATE',
  'WAITED_FOR_BOOTH',
  'EQUIPMENT',
  'BREAK',
  'CUSTOMER_CHANGE',
  'UNKNOWN',
] as const
/** What is not gone over by a light touch: a shut window, and a job's deviations that nobody has settled. */
const HELD: readonly ToldRefusal['code'][] = ['windowShut', 'deviationsOpen']

type Props = {
  readonly sending: Sending
  /** A signal is read, and followed, only where something counts down. */
  readonly now: number | ReadonlySignal<number>
  /** What to do instead, drawn before the override; nothing for a code that says it all. */
  readonly wayOut?: (code: ToldRefusal['code']) => ComponentChildren
  /** Asks the same again with an override. Without it, none is offered. */
  readonly onOverride?: (reason: string) => void
}

/** What is wrong, said aloud by a screen reader too. */
export const Sentence = ({ children }: { children: ComponentChildren }) => (
  <p class="sentence" role="alert">
    {children}
  </p>
)

/** What became of a command, in a sentence; an override with a coded reason where one may be given. */
export function Answer({ sending, now: given, wayOut, onOverride }: Props) {
  const { words, format, state } = useShop()
  const { sent, busy } = sending
  // A sentence of the rules may still be on its way, on a page that was just loaded.
  if (busy || (sent !== null && !isTaken(sent) && !allHere(words.value))) {
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
  const { code, also, clearsAt, overridable } = sent.refusal
  const leftMs = clearsAt === undefined ? 0 : clearsAt - now
  return (
    <div class="refusal">
      <Sentence>
        {said} {leftMs > 0 && <b class="digits">{words.value.clearsIn(countdown(leftMs))}</b>}
      </Sentence>
      {/* Who is here is the way out of nobody, and of what a lead alone may override the second key. */}
      {wayOut?.(code)}
      {(code === 'noPerson' || 'needsLead' in sent.refusal) && (
        <Press
          act="who"
          onPress={() => {
            isChoosing.value = true
          }}
        >
          {words.value.board.who}
        </Press>
      )}
      {overridable && onOverride && (
        <details>
          <summary class="button">{words.value.act.overrideAsk}</summary>
          <Reasons
            options={REASONS.map((value) => ({ value, word: words.value.reasons[value] }))}
            onReason={onOverride}
            isHeld={[code, ...also].some((one) => HELD.includes(one))}
          />
        </details>
      )}
    </div>
  )
}

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
  if (press === null || offered.value === null) return null
  const names = press.panels.map((id) => panelName(state.value, id))
  const { board, outbox } = words.value
  return (
    <section class="undo-bar" aria-label={board.undoing}>
      <p role="status">
        <b>{outbox.does[press.type] ?? press.type}</b> {names.join(', ')}
      </p>
      <Press act="undo" isOff={sending.value.busy} onPress={() => undo(press)}>
        {words.value.act.undo}
      </Press>
      <Answer sending={sending.value} now={now} />
    </section>
  )
}
