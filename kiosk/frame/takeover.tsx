import { useLayoutEffect, useRef } from 'preact/hooks'
import { contextOf, type State } from '../../machines/state.ts'
import type { Shown } from '../bells/openBells.ts'
import { answerBell } from '../bells/reporter.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import type { Kiosk } from '../device/runtime.ts'
import { Answer } from '../ui/answer.tsx'
import { Hold, Press } from '../ui/buttons.tsx'
import { Shape } from '../ui/drawings.tsx'
import { countdown } from '../units/format.ts'

/** The unanswered bell for a pot life past, if there is one: it takes the whole screen. */
export const takesOver = (kiosk: Kiosk): Shown | null =>
  kiosk.ringer.bells.value.cards.find(
    (card) => card.kind === 'potOver' && (card.state === 'due' || card.state === 'sounding'),
  ) ?? null

type Props = {
  readonly card: Shown
  readonly kiosk: Kiosk
  readonly state: State
  readonly now: number
}

/** Cup, job and minutes over, to be read at 5 m, and what was done about it. */
export function Takeover({ card, kiosk, state, now }: Props) {
  const { words, send } = useShop()
  const { sending, ask } = useCommands()
  const box = useRef<HTMLDivElement>(null)
  useLayoutEffect(() => box.current?.focus(), [card.key])
  const { board } = words.value
  const id = card.bells[0]?.thing ?? ''
  const cup = contextOf(state, 'cup', id)
  const job = contextOf(state, 'job', cup?.job ?? undefined)
  const minutes = Math.max(0, Math.floor((now - card.dueAt) / 60_000))
  const { silencedUntilMs } = kiosk.ringer.bells.value
  const empty = (how: 'used' | 'discarded') => void ask('EmptyCup', { cup: id, how })
  const carryOn = () => {
    kiosk.ringer.acknowledge(card.key)
    void answerBell(send, state, card)
  }
  return (
    <div
      ref={box}
      class="takeover bell"
      data-sound="B2"
      role="alertdialog"
      aria-modal="true"
      aria-labelledby="takeover-title"
      tabIndex={-1}
    >
      <h2 id="takeover-title">
        <Shape sound="B2" />
        {board.potOver}
      </h2>
      {[id.slice(0, 4), words.value.wall.over(`${minutes} min`)].map((far) => (
        <p key={far} class="far digits" style={{ '--characters': String(far.length) }}>
          {far}
        </p>
      ))}
      {card.heldUntilMs > now && (
        <p data-held>{words.value.calling.held(countdown(card.heldUntilMs - now))}</p>
      )}
      <p class="far-about">{[cup?.name, cup?.colour, job?.title].filter(Boolean).join(' · ')}</p>
      <p class="far-about">{words.value.sealed}</p>
      <Answer sending={sending.value} now={now} />
      <div class="takeover-acts">
        <Press act="wasEmpty" isMain onPress={() => empty('used')}>
          {board.wasEmpty}
        </Press>
        <Press act="carryOn" onPress={carryOn}>
          {board.carryOn}
        </Press>
        {silencedUntilMs > now ? (
          <p role="status">{board.silent(countdown(silencedUntilMs - now))}</p>
        ) : (
          <Press act="silence" onPress={() => kiosk.ringer.silence()}>
            {board.silence}
          </Press>
        )}
        <Hold onHeld={() => empty('discarded')}>
          <span>
            {board.discarded}
            <small>{words.value.act.hold}</small>
          </span>
        </Hold>
      </div>
    </div>
  )
}
